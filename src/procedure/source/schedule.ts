import { clippedToneOf, unmeasuredBetween } from './ceiling.ts';
import type {
  BassCut,
  SourceCeiling,
  SourcePurpose,
  SourceStep,
  SourceTask,
  SourceToneName,
  SourceWay,
} from './source.ts';

interface Known {
  task: SourceTask;
  way: SourceWay;
  steps: readonly SourceStep[];
  ceiling: SourceCeiling;
  bassCut: BassCut | null;
}

/** A tenth of the range: as many readings as show a curve, on a range of any size. */
export function usualWay(volumeSteps: number): SourceWay {
  return { every: Math.max(1, Math.round(volumeSteps / 10)), order: 'by-step', without: [] };
}

/**
 * What to record next. Up from the bottom in strides until something clips and no further, so that nothing is
 * played louder than it must be; then halving the gap between clean and clipped, and the one in which the bass
 * begins to go. `null` once nothing is left to learn.
 */
export function nextPurpose(known: Known): SourcePurpose | null {
  const { order } = known.way;
  const beside = () => pending(known, 'bass') ?? pending(known, 'treble');
  const up = () => middle(strideUp(known) ?? halfwayToClipping(known));
  const bassEdge = () => middle(halfwayToBassCut(known));
  return order === 'by-step'
    ? (beside() ?? up() ?? bassEdge())
    : (up() ?? pending(known, 'bass') ?? bassEdge() ?? pending(known, 'treble'));
}

function middle(step: number | null): SourcePurpose | null {
  return step === null ? null : { step, tone: 'middle' };
}

/** The lowest clean step at which this tone is still to be heard. */
function pending({ steps, way }: Known, tone: Exclude<SourceToneName, 'middle'>): SourcePurpose | null {
  if (way.without.includes(tone)) return null;
  const clippedAt = steps.find((at) => clippedToneOf(at) !== null)?.step ?? Number.POSITIVE_INFINITY;
  const at = steps.find((one) => one.step < clippedAt && one.middle !== null && one[tone] === null);
  return at === undefined ? null : { step: at.step, tone };
}

function strideUp({ task, way, steps, ceiling }: Known): number | null {
  const highest = steps.findLast((at) => at.middle !== null)?.step ?? 0;
  if (ceiling.clippedStep !== null || highest >= task.volumeSteps) return null;
  return Math.min(task.volumeSteps, (Math.floor(highest / way.every) + 1) * way.every);
}

function halfwayToClipping({ steps, ceiling }: Known): number | null {
  if (ceiling.clippedStep === null) return null;
  return halfway(steps, ceiling.cleanStep ?? 0, ceiling.clippedStep);
}

function halfwayToBassCut({ steps, bassCut }: Known): number | null {
  return bassCut === null ? null : halfway(steps, bassCut.wholeStep, bassCut.fromStep);
}

function halfway(steps: readonly SourceStep[], below: number, above: number): number | null {
  const missing = unmeasuredBetween(steps, below, above);
  return missing[Math.floor((missing.length - 1) / 2)] ?? null;
}
