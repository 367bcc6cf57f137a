import type { Finding } from '../procedure.ts';
import { BASS_CUT_DB } from './response.ts';
import type { SourceState } from './source.ts';

/**
 * Common practice, no standard: a healthy radio with its tone controls at their middle stays clean at least
 * to three quarters of its range.
 */
const CLEAN_SHARE_OF_RANGE = 0.75;

type Facts = Pick<SourceState, 'task' | 'steps' | 'ceiling' | 'bassCut' | 'limitsFromStep'>;

export function sourceFindings(facts: Facts): Finding[] {
  return [clipsEarly(facts), cutsBass(facts), limits(facts)].filter((found) => found !== null);
}

function clipsEarly({ task, steps, ceiling }: Facts): Finding | null {
  const { cleanStep, clippedStep, clippedTone, settled } = ceiling;
  const usualStep = CLEAN_SHARE_OF_RANGE * task.volumeSteps;
  if (!settled || clippedStep === null || (cleanStep ?? 0) >= usualStep) return null;
  const clipped = steps.find((at) => at.step === clippedStep)?.[clippedTone ?? 'middle'] ?? null;
  const tone = task.tones[clippedTone ?? 'middle'];
  const overdrive =
    clipped?.overdriveDb == null ? '' : `, ${clipped.overdriveDb.toFixed(1)} dB past the ceiling`;
  return {
    fault: 'radio-clips-early',
    sentence:
      cleanStep === null
        ? `The source clips at step ${clippedStep} and nothing below it was found clean.`
        : `The source clips early: step ${cleanStep} of ${task.volumeSteps} is its highest clean one.`,
    evidence: `At step ${clippedStep} the ${tone.frequencyHz} Hz tone has ${(clipped?.thdPercent ?? 0).toFixed(1)} % THD${overdrive}; common practice expects a clean tone to three quarters of the range, step ${Math.floor(usualStep)}.`,
    remedy:
      task.point === 'converter'
        ? 'Set bass, treble and loudness to their middle and measure again at the radio’s own output: the same step there means the radio, a higher one the converter’s input.'
        : 'Set bass, treble and loudness to their middle and measure again; if it stays, set every gain with the radio at its highest clean step and never turn it higher.',
  };
}

function cutsBass({ task, bassCut, ceiling }: Facts): Finding | null {
  if (bassCut === null) return null;
  const { bass, middle } = task.tones;
  return {
    fault: 'radio-cuts-bass',
    sentence: `The source takes bass away as it goes up: from step ${bassCut.fromStep} on.`,
    evidence: `Against ${middle.frequencyHz} Hz, ${bass.frequencyHz} Hz lacks ${bassCut.atCeilingDb.toFixed(1)} dB at the highest clean step${ceiling.cleanStep === null ? '' : `, ${ceiling.cleanStep}`}, compared with the low steps; more than ${BASS_CUT_DB} dB counts.`,
    remedy: `Play at or below step ${bassCut.wholeStep} and set the gains there, or take the signal from a point ahead of this shaping.`,
  };
}

function limits({ task, limitsFromStep, steps }: Facts): Finding | null {
  if (limitsFromStep === null) return null;
  const at = steps.find((one) => one.step === limitsFromStep)?.middle ?? null;
  return {
    fault: 'radio-limits',
    sentence: `The source holds its level back from step ${limitsFromStep} on, without clipping.`,
    evidence: `The ${task.tones.middle.frequencyHz} Hz tone rises by less than half of its usual rise per step there, at ${(at?.thdPercent ?? 0).toFixed(2)} % THD.`,
    remedy: `Set the gains with the radio below step ${limitsFromStep}: above it only the quiet parts grow louder.`,
  };
}
