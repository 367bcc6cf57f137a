import { StreamMeasurer } from '../../src/dsp/measure/streaming-measure.ts';
import type { Band, ChannelReading } from '../../src/dsp/reading.ts';
import { seededGauss, seededUniform } from './seeded-random.ts';

export interface Line {
  frequencyHz: number;
  amplitude: number;
  /** Of a cosine at frame 0, radians. */
  phase?: number;
}

export interface Recipe {
  sampleRateHz: number;
  frames: number;
  lines?: readonly Line[];
  dc?: number;
  noiseRms?: number;
  seed?: number;
}

/** Sum of cosines, DC and white Gaussian noise, in 64-bit arithmetic; cycles are reduced before the cosine. */
export function signal(recipe: Recipe): Float64Array {
  const { sampleRateHz, frames, lines = [], dc = 0, noiseRms = 0, seed = 1 } = recipe;
  const gauss = seededGauss(seededUniform(seed));
  const samples = new Float64Array(frames);
  for (let frame = 0; frame < frames; frame += 1) {
    let x = dc;
    for (const { frequencyHz, amplitude, phase = 0 } of lines) {
      const cycles = (frequencyHz * frame) / sampleRateHz;
      x += amplitude * Math.cos(2 * Math.PI * (cycles - Math.floor(cycles)) + phase);
    }
    samples[frame] = noiseRms > 0 ? x + noiseRms * gauss() : x;
  }
  return samples;
}

/** Largest difference between two arrays of one length. */
export function largestDifference(a: ArrayLike<number>, b: ArrayLike<number>): number {
  let largest = 0;
  for (let n = 0; n < a.length; n += 1) largest = Math.max(largest, Math.abs(a[n]! - b[n]!));
  return largest;
}

/** One channel through the streaming measurement, in one block. */
export function measureRecord(
  samples: Float32Array | Float64Array,
  sampleRateHz: number,
  band?: Band,
): ChannelReading {
  const measurer = new StreamMeasurer({ sampleRateHz, channelCount: 1, ...(band && { band }) });
  measurer.push([samples], samples.length);
  return measurer.finish()[0]!;
}
