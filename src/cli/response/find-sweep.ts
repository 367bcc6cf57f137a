import type { SweepDeconvolver } from '../../dsp/response/deconvolver.ts';
import { findCluster } from '../../dsp/response/locate.ts';
import { sweepWindows } from '../../dsp/response/sweep-windows.ts';
import type { Recording } from './recording.ts';

export interface FoundSweep {
  /** Where the sweep begins in the recording; below 0 where its beginning was not recorded. */
  startFrame: number;
  /** How far it stands out, energy. */
  contrast: number;
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
  for (const start of sweepWindows(deconvolver, recording.info.frames)) {
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
