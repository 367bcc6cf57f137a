/** Looking through a recording of any length for one sweep. */
import type { FrequencyBand } from './channel-response.ts';
import type { SweepDeconvolver } from './deconvolver.ts';
import { growthSeconds } from './sweep-law.ts';

/** First frames of windows that overlap by a whole sweep: one of them holds all of it, wherever it is. */
export function sweepWindows(deconvolver: SweepDeconvolver, frames: number): number[] {
  const hop = deconvolver.length - deconvolver.sweepFrames;
  return Array.from({ length: Math.ceil(frames / hop) + 1 }, (_, i) => (i - 1) * hop);
}

/** A sweep that was cut into rings around the cut: this far from it the ringing is gone. */
const CUT_SHARE = 1.25;

/**
 * The part of the sweep's band that was played while the recorder ran.
 *
 * @param startFrame where the sweep begins in the recording; below 0 where its beginning was not recorded
 * @param frames length of the recording
 */
export function heldBand(deconvolver: SweepDeconvolver, startFrame: number, frames: number): FrequencyBand {
  const { spec, sampleRateHz, sweepFrames } = deconvolver;
  const growth = growthSeconds(spec);
  const at = (frame: number) => spec.startHz * Math.exp(frame / sampleRateHz / growth);
  return {
    lowHz: startFrame < 0 ? at(-startFrame) * CUT_SHARE : spec.startHz,
    highHz: startFrame + sweepFrames > frames ? at(frames - startFrame) / CUT_SHARE : spec.endHz,
  };
}
