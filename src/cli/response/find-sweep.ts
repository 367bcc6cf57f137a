import type { SweepDeconvolver } from '../../dsp/response/deconvolver.ts';
import { findCluster } from '../../dsp/response/locate.ts';
import type { Recording } from './recording.ts';

export interface FoundSweep {
  /** Where the sweep begins in the recording; below 0 where its beginning was not recorded. */
  startFrame: number;
  /** How far it stands out, energy. */
  contrast: number;
}

/** Windows that overlap by a whole sweep: one of them holds all of it, wherever it is. */
export function windowsOf(deconvolver: SweepDeconvolver, frames: number): number[] {
  const hop = deconvolver.length - deconvolver.sweepFrames;
  return Array.from({ length: Math.ceil(frames / hop) + 1 }, (_, i) => (i - 1) * hop);
}

/** @param onWindow told after each window */
export async function findSweep(
  deconvolver: SweepDeconvolver,
  recording: Recording,
  channel: number,
  onWindow: () => void,
): Promise<FoundSweep | null> {
  const { length, sweepFrames, sampleRateHz } = deconvolver;
  const samples = new Float64Array(length);
  const response = new Float64Array(length);
  let best: (FoundSweep & { energy: number }) | null = null;
  for (const start of windowsOf(deconvolver, recording.info.frames)) {
    await recording.read(channel, start, samples);
    deconvolver.matchedResponse(samples, response);
    const found = findCluster(response, length - sweepFrames, sampleRateHz);
    if (found !== null && (best === null || found.energy > best.energy)) {
      const { energy, contrast, delayFrames } = found;
      best = { startFrame: start + delayFrames, contrast, energy };
    }
    onWindow();
  }
  return best;
}
