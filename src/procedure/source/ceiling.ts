import { combinedLevelDb } from '../../dsp/uncertainty/level-budget.ts';
import { dbfsToVolts } from '../../plan/units/full-scale.ts';
import type { SourceCeiling, SourceStep, SourceTask } from './source.ts';

const VOLTS_PER_DB = Math.LN10 / 20;

type Known = Pick<SourceCeiling, 'cleanStep' | 'clippedStep' | 'clippedTone'>;

/** Which tone clips at this step; a radio that lifts its bass clips there first. */
export function clippedToneOf(step: SourceStep): 'middle' | 'bass' | null {
  if (step.middle?.verdict === 'clipped') return 'middle';
  return step.bass?.verdict === 'clipped' ? 'bass' : null;
}

/**
 * The source's ceiling from what was heard. A step counts as clean where the middle tone is plainly clean and
 * nothing at or below it clips; one that could not be decided counts as neither.
 */
export function ceilingOf(task: SourceTask, steps: readonly SourceStep[]): SourceCeiling {
  const known = bounds(steps);
  const clean = steps.find((one) => one.step === known.cleanStep)?.middle ?? null;
  const clipped = steps.find((one) => one.step === known.clippedStep) ?? null;
  const knee = clipped === null || known.clippedTone === null ? null : clipped[known.clippedTone];
  const volts = clean === null ? null : voltsOf(task, clean.levelDbfs);
  const relativeDb =
    clean === null || task.voltsUncertaintyDb === null
      ? null
      : combinedLevelDb({ readingDb: clean.uncertaintyDb, calibrationDb: task.voltsUncertaintyDb });
  return {
    ...known,
    settled: isSettled(task, steps, known),
    levelDbfs: clean?.levelDbfs ?? null,
    volts,
    voltsUncertainty: volts === null || relativeDb === null ? null : volts * VOLTS_PER_DB * relativeDb,
    kneeVolts: knee === null || knee.kneeDbfs === null ? null : voltsOf(task, knee.kneeDbfs),
  };
}

/** `null` without a calibration. */
export function voltsOf(task: Pick<SourceTask, 'voltsPerFs'>, levelDbfs: number): number | null {
  return task.voltsPerFs === null ? null : dbfsToVolts(levelDbfs, task.voltsPerFs);
}

function bounds(steps: readonly SourceStep[]): Known {
  const clipped = steps.find((one) => clippedToneOf(one) !== null) ?? null;
  const below = steps.filter((one) => clipped === null || one.step < clipped.step);
  const clean = below.filter((one) => one.middle?.verdict === 'clean').at(-1) ?? null;
  return {
    cleanStep: clean?.step ?? null,
    clippedStep: clipped?.step ?? null,
    clippedTone: clipped === null ? null : clippedToneOf(clipped),
  };
}

function isSettled(task: SourceTask, steps: readonly SourceStep[], known: Known): boolean {
  const { cleanStep, clippedStep } = known;
  if (cleanStep === task.volumeSteps) return true;
  return clippedStep !== null && unmeasuredBetween(steps, cleanStep ?? 0, clippedStep).length === 0;
}

/** Volume steps, both ends left out, whose middle tone has not been heard. */
export function unmeasuredBetween(steps: readonly SourceStep[], below: number, above: number): number[] {
  const measured = new Set(steps.filter((one) => one.middle !== null).map((one) => one.step));
  const missing: number[] = [];
  for (let step = below + 1; step < above; step += 1) if (!measured.has(step)) missing.push(step);
  return missing;
}
