import { fitAtKnownFrequency } from '../../dsp/fit/known-frequency-fit.ts';

/** Of a tone's steady middle; half a second of 38 Hz leaves each of them almost five periods. */
const STRETCHES = 4;
/** Less of a stretch's power than this in the tone, and its level is that of the noise. */
const LEAST_SHARE = 0.5;
/** A level that creeps does so throughout: a step, or a start that came late, happens within one stretch. */
const LEAST_PART = 0.1;

/**
 * How far the level of a steady tone moves on from its first quarter to its last, dB, where it does so all the time;
 * 0 where it does not. A step that comes once is none.
 *
 * @returns `null` where the tone does not outweigh the noise
 */
export function creepDb(samples: Float32Array, frequencyHz: number, sampleRateHz: number): number | null {
  const frames = Math.floor(samples.length / STRETCHES);
  const w = (2 * Math.PI * frequencyHz) / sampleRateHz;
  const levels: number[] = [];
  for (let stretch = 0; stretch < STRETCHES; stretch += 1) {
    const from = stretch * frames;
    const { re, im } = fitAtKnownFrequency(samples, from, frames, w, { dc: 0, re: 0, im: 0 });
    const power = (re * re + im * im) / 2;
    if (!(power > LEAST_SHARE * meanPower(samples, from, frames))) return null;
    levels.push(10 * Math.log10(power));
  }
  const moved = levels.at(-1)! - levels[0]!;
  const isAllTheTime = levels.slice(1).every((level, at) => (level - levels[at]!) / moved > LEAST_PART);
  return isAllTheTime ? moved : 0;
}

function meanPower(samples: Float32Array, from: number, frames: number): number {
  let sum = 0;
  for (let frame = from; frame < from + frames; frame += 1) sum += samples[frame]! ** 2;
  return sum / frames;
}
