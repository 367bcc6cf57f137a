import type { NoiseTask } from '../procedure/noise/noise.ts';
import type { CalibrationStamp, Job } from './document.ts';
import { planJobChannel } from './job-plan.ts';

/**
 * The noise task at one channel's terminals, or by a microphone for the whole vehicle (`channelId` null).
 *
 * @param calibration of the input at hand; `null` leaves everything in dBFS
 * @throws JobRefused where the channel's chain cannot exist
 */
export function noiseTask(
  job: Job,
  channelId: string | null,
  calibration: CalibrationStamp | null,
): NoiseTask {
  const byWire = channelId !== null;
  return {
    channelId,
    place: byWire ? 'terminals' : 'microphone',
    targetVolts: byWire ? planJobChannel(job, channelId).targetVolts : null,
    noiseDb: job.tolerances.noiseDb,
    // A microphone's volts are not the channel's.
    voltsPerFs: byWire ? (calibration?.voltsPerFs ?? null) : null,
    voltsUncertaintyDb: byWire ? (calibration?.uncertaintyDb ?? null) : null,
  };
}
