/** The Quiet station's noise part outside React: each channel keeps its recordings while the page lives. */
import type { CalibrationStamp, Job } from '../../job/document.ts';
import { noiseTask } from '../../job/noise-task.ts';
import { JobRefused } from '../../job/refused.ts';
import { NOISE } from '../../procedure/noise/noise-steps.ts';
import { StationSession } from './station-session.ts';

export const noiseSession = new StationSession('noise', NOISE);

/**
 * Opens the noise of one channel, or of the whole cabin by microphone (`channelId` null).
 *
 * @returns the sentence why this channel cannot be measured, or `null`
 */
export function openNoise(job: Job, channelId: string | null, known: CalibrationStamp | null): string | null {
  try {
    noiseSession.open(noiseTask(job, channelId, known));
    return null;
  } catch (fault) {
    if (!(fault instanceof JobRefused || fault instanceof RangeError)) throw fault;
    noiseSession.close();
    return fault.message;
  }
}

export function beginNoiseAnew(): void {
  const state = noiseSession.state();
  if (state !== null) noiseSession.restart(state.task);
}
