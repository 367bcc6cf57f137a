import { sinePeak } from './level.ts';
import { checkFrequency, checkLevel, checkRate } from './limits.ts';
import { sineOfCycles } from './phase.ts';

export interface LoopableSineRequest {
  frequencyHz: number;
  sampleRateHz: number;
  levelDbfs: number;
}

export interface LoopableSine {
  /** A whole number of cycles: played in a loop, the seam cannot be found. */
  samples: Float32Array<ArrayBuffer>;
  /**
   * The frequency that the loop really has, exactly. Within 0.001 Hz of the one
   * asked for; within 0.03 Hz where that lies just beside a simple fraction of
   * the sample rate, which no loop of two seconds can tell from the fraction.
   */
  actualHz: number;
}

/** The length, from one second to two, at which a whole number of cycles comes closest to the frequency. */
function closestLoop(frequencyHz: number, sampleRateHz: number): { frames: number; cycles: number } {
  let best = { frames: sampleRateHz, cycles: 1 };
  let bestErrorHz = Number.POSITIVE_INFINITY;
  for (let frames = sampleRateHz; frames <= 2 * sampleRateHz; frames += 1) {
    const cycles = Math.max(1, Math.round((frequencyHz * frames) / sampleRateHz));
    const errorHz = Math.abs((cycles * sampleRateHz) / frames - frequencyHz);
    if (errorHz < bestErrorHz) {
      bestErrorHz = errorHz;
      best = { frames, cycles };
      if (errorHz === 0) break;
    }
  }
  return best;
}

/**
 * A sine for live playback in a loop. Phases come from integers,
 * `(cycles * frame) mod frames`, so that the last sample leads into the first
 * as into any other. No fade: the player ramps its gain.
 *
 * @throws RangeError for a rate, frequency or level that cannot be rendered
 */
export function loopableSine(request: LoopableSineRequest): LoopableSine {
  const { frequencyHz, sampleRateHz, levelDbfs } = request;
  checkRate(sampleRateHz);
  checkFrequency(frequencyHz, sampleRateHz);
  checkLevel(levelDbfs);
  const { frames, cycles } = closestLoop(frequencyHz, sampleRateHz);
  const peak = sinePeak(levelDbfs);
  const samples = new Float32Array(frames);
  for (let frame = 0; frame < frames; frame += 1) {
    samples[frame] = peak * sineOfCycles(((cycles * frame) % frames) / frames);
  }
  return { samples, actualHz: (cycles * sampleRateHz) / frames };
}
