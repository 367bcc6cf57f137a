import { median } from '../../dsp/statistics/median.ts';
import { clippedToneOf } from './ceiling.ts';
import type { BassCut, SourceStep, SourceTask } from './source.ts';

/** The issue's own limit: less is within what tone controls at their middle and a fit leave open. */
export const BASS_CUT_DB = 1;
/** How many of the lowest measured steps stand for the response before the radio changes it. */
const LOW_STEPS = 3;
/** A level that rises by less than this share of its usual rise per step is being held back. */
const HELD_BACK_SHARE = 0.5;
/** Fewer rises than this make no usual one. */
const LEAST_RISES = 4;

/**
 * A tone against the middle one at the same step, dB, what was played taken out. `null` where either was not
 * heard, or clips: a clipped level says nothing about response.
 */
export function againstMiddleDb(task: SourceTask, at: SourceStep, tone: 'bass' | 'treble'): number | null {
  const { middle, [tone]: other } = at;
  if (middle === null || other === null || clippedToneOf(at) !== null) return null;
  const { tones } = task;
  return other.levelDbfs - tones[tone].levelDbfs - (middle.levelDbfs - tones.middle.levelDbfs);
}

/**
 * Where the bass begins to be missing against the low steps, and stays so.
 *
 * @returns `null` where it never is, or fewer than two steps were heard
 */
export function bassCutOf(task: SourceTask, steps: readonly SourceStep[]): BassCut | null {
  const heard = steps.flatMap((at) => {
    const db = againstMiddleDb(task, at, 'bass');
    return db === null ? [] : [{ step: at.step, db }];
  });
  if (heard.length < 2) return null;
  const usualDb = median(heard.slice(0, LOW_STEPS).map(({ db }) => db));
  const missing = heard.map(({ step, db }) => ({ step, db: usualDb - db }));
  const whole = missing.findLastIndex(({ db }) => db <= BASS_CUT_DB);
  const cut = missing.slice(whole + 1);
  const [first] = cut;
  if (first === undefined || whole < 0) return null;
  return {
    fromStep: first.step,
    wholeStep: missing[whole]!.step,
    atCeilingDb: cut.at(-1)!.db,
    deepestDb: Math.max(...cut.map(({ db }) => db)),
  };
}

/**
 * Lowest step at which the level no longer rises as it did, up to the top of what was measured, though the
 * tone stays clean: a limiter, which a clipping verdict cannot see. `null` where there is no such step.
 */
export function limitsFrom(steps: readonly SourceStep[]): number | null {
  const heard = steps.flatMap(({ step, middle }) => (middle === null ? [] : [{ step, middle }]));
  const rises = heard.slice(1).map((at, index) => {
    const before = heard[index]!;
    return {
      step: at.step,
      isClean: at.middle.verdict === 'clean',
      dbPerStep: (at.middle.levelDbfs - before.middle.levelDbfs) / (at.step - before.step),
    };
  });
  const clean = rises.filter(({ isClean }) => isClean);
  if (clean.length < LEAST_RISES) return null;
  const usual = median(clean.map(({ dbPerStep }) => dbPerStep));
  const free = rises.findLastIndex(({ dbPerStep }) => dbPerStep >= HELD_BACK_SHARE * usual);
  const first = rises[free + 1];
  return first?.isClean ? first.step : null;
}
