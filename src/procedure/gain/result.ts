import type { GainResult, GainState } from './gain.ts';
import { obstacle } from './usable.ts';
import { usedVolts } from './volts.ts';

/**
 * What accepting freezes.
 *
 * @throws Error with the reason where the present reading may not be accepted.
 */
export function gainResult(state: GainState): GainResult {
  const { task, aim, knee } = state;
  const used = usedVolts(state);
  if (!state.acceptance.can || used === null || aim.errorDb === null) {
    throw new Error(state.acceptance.why ?? 'There is no reading to accept.');
  }
  const watched = obstacle(state.latest, task) === null ? state.latest : null;
  const kneeVolts = knee?.volts ?? null;
  return {
    channelId: task.channelId,
    way: task.way,
    volts: used.volts,
    voltsUncertainty: used.uncertainty,
    aimVolts: aim.aimVolts,
    limitedByKnee: aim.limitedByKnee,
    targetVolts: task.targetVolts,
    errorDb: aim.errorDb,
    toleranceDb: task.toleranceDb,
    inside: aim.zone === 'inside',
    toneHz: task.toneHz,
    toneDbfs: task.toneDbfs,
    overlapDb: task.overlapDb,
    bursts: burstsOf(state),
    clippingStage: stageOf(state),
    thdPercent: watched?.thdPercent ?? null,
    clippingVerdict: watched?.clipping.verdict ?? null,
    grade: watched?.grade ?? null,
    doubts: watched?.doubts ?? [],
    knee,
    marginDb: kneeVolts === null ? null : 20 * Math.log10(kneeVolts / task.targetVolts),
    trace: state.trace.map(({ turn, volts, levelDbfs, thdPercent, verdict }) => ({
      turn,
      volts,
      levelDbfs,
      thdPercent,
      verdict,
    })),
  };
}

function burstsOf({ bursts, burstConclusion }: GainState): GainResult['bursts'] {
  if (bursts === null || burstConclusion === null) return null;
  return { readings: bursts.bursts, conclusion: burstConclusion };
}

function stageOf({ stageCheck }: GainState): GainResult['clippingStage'] {
  const named = stageCheck?.named ?? null;
  if (named === null) return null;
  const { stage, confidence, evidence } = named;
  return { stage, confidence, evidence };
}
