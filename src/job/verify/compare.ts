/** Two visits held against each other: did a figure move by more than its readings leave open? */
import type { Job } from '../document.ts';
import { figuresOfJob } from './figures-of-job.ts';
import type { Circumstance, RecordedFigure } from './recorded-figure.ts';

export type ComparedVerdict = 'changed' | 'not-changed' | 'cannot-tell';

export interface ComparedFigure {
  key: string;
  station: RecordedFigure['station'];
  title: string;
  unit: string;
  /** At the earlier visit, and at the later. */
  before: RecordedFigure | null;
  after: RecordedFigure | null;
  /** Now less then; `null` for words, and where one is missing. */
  difference: number | null;
  /** Expanded uncertainty of the difference, k = 2; `null` where it is not known. */
  uncertainty: number | null;
  verdict: ComparedVerdict;
  /** Why it cannot be told, one sentence; else `null`. */
  why: string | null;
}

/** About 95 % of a normal distribution (JCGM 100, 6.2 and G.6.6). */
const COVERAGE = 2;

/** Every figure of either visit, the earlier visit's order first. */
export function compareJobs(then: Job, now: Job): ComparedFigure[] {
  return compareFigures(figuresOfJob(then), figuresOfJob(now));
}

function compareFigures(then: readonly RecordedFigure[], now: readonly RecordedFigure[]): ComparedFigure[] {
  const keys = [...new Set([...then, ...now].map(({ key }) => key))];
  return keys.flatMap((key) => {
    const [before, after] = bestPair(of(then, key), of(now, key));
    return compared(before, after) ?? [];
  });
}

/** Newest first. */
function of(figures: readonly RecordedFigure[], key: string): RecordedFigure[] {
  return figures.filter((figure) => figure.key === key).sort((a, b) => b.at.localeCompare(a.at));
}

type Pair = [RecordedFigure | null, RecordedFigure | null];

/** The newest two that can be held against each other; where none can, the newest. */
function bestPair(then: readonly RecordedFigure[], now: readonly RecordedFigure[]): Pair {
  for (const after of now) {
    const before = then.find((one) => whyNot(one, after) === null);
    if (before !== undefined) return [before, after];
  }
  return [then[0] ?? null, now[0] ?? null];
}

function compared(then: RecordedFigure | null, now: RecordedFigure | null): ComparedFigure | null {
  const either = now ?? then;
  if (either === null) return null;
  const { key, station, title, unit } = either;
  const difference = differenceOf(then, now);
  const uncertainty = combined(then, now);
  const why = whyNot(then, now);
  const isOther =
    difference === null ? then?.value !== now?.value : Math.abs(difference) > (uncertainty ?? Infinity);
  const verdict = why !== null ? 'cannot-tell' : isOther ? 'changed' : 'not-changed';
  return { key, station, title, unit, before: then, after: now, difference, uncertainty, verdict, why };
}

function differenceOf(then: RecordedFigure | null, now: RecordedFigure | null): number | null {
  if (typeof then?.value !== 'number' || typeof now?.value !== 'number') return null;
  return now.value - then.value;
}

/**
 * U = k √(u₁² + u₂²), JCGM 100 eq. 10 for a difference of independent readings. Readings that share a calibration
 * are not independent; leaving that out makes U too large, so that `changed` is never said too early.
 */
function combined(then: RecordedFigure | null, now: RecordedFigure | null): number | null {
  if (then === null || now === null || then.uncertainty === null || now.uncertainty === null) return null;
  return COVERAGE * Math.hypot(then.uncertainty, now.uncertainty);
}

/** Why two readings cannot be held against each other, or `null`. */
function whyNot(then: RecordedFigure | null, now: RecordedFigure | null): string | null {
  if (then === null) return 'It was not measured then.';
  if (now === null) return 'It was not measured now.';
  if (then.recordId === now.recordId) return 'It was not measured again.';
  if (then.value === null) return 'The reading then could not tell.';
  if (now.value === null) return 'The reading now could not tell.';
  const other = otherCircumstance(then, now);
  if (other !== null) return other;
  if (typeof then.value === 'string' || typeof now.value === 'string') return null;
  if (then.uncertainty === null) return 'How much the reading then left open is not known.';
  if (now.uncertainty === null) return 'How much the reading now leaves open is not known.';
  return null;
}

function otherCircumstance(then: RecordedFigure, now: RecordedFigure): string | null {
  for (const before of then.circumstances) {
    const after = now.circumstances.find(({ what }) => what === before.what);
    if (before.value === null) return `Nobody noted ${before.what} then.`;
    if (after === undefined || after.value === null) return `Nobody noted ${before.what} now.`;
    if (isAlike(before, after)) continue;
    const what = before.what.charAt(0).toUpperCase() + before.what.slice(1);
    return `${what} was ${words(before)} then and is ${words(after)} now.`;
  }
  return null;
}

/** A difference of decimal fractions ends in noise far below anything that is noted: 14.3 − 14 is not 0.3. */
const ROUNDING = 1e-9;

function isAlike(before: Circumstance, after: Circumstance): boolean {
  if (typeof before.value === 'number' && typeof after.value === 'number') {
    return Math.abs(before.value - after.value) <= Math.max(before.within, after.within) + ROUNDING;
  }
  return before.value === after.value;
}

function words({ value, unit }: Circumstance): string {
  const text = typeof value === 'number' ? String(Number(value.toPrecision(4))) : String(value);
  return unit === '' ? text : `${text} ${unit}`;
}
