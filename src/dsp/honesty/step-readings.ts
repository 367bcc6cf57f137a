import { CoarseToneFinder } from '../fit/coarse-tone.ts';
import { fitAtKnownFrequency } from '../fit/known-frequency-fit.ts';
import { fitLine } from '../noise/line-fit.ts';
import type { StepReading } from './judgement.ts';
import type { Stretch } from './locate-steps.ts';
import type { BesideTone } from './noise-beside-tone.ts';

const BLOCK_SECONDS = 0.1;

const HIGHEST_HARMONIC = 5;

/** Share of the noise in a harmonic's lobe that its power must exceed: the noise's own scatter is a twentieth. */
const STANDS_OUT = 0.5;

const DB_PER_RELATIVE = 20 / Math.LN10;

/**
 * The tone's own frequency in the loudest step's later half, where whatever moves has mostly settled.
 * @returns `null` where no line is found within 3 % of what was asked
 */
export function toneFrequency(
  samples: Float32Array | Float64Array,
  sampleRateHz: number,
  step: Stretch,
  askedHz: number,
): number | null {
  const stretch = samples.subarray(Math.floor((step.from + step.to) / 2), step.to);
  const coarse = new CoarseToneFinder(stretch.length, sampleRateHz).find(stretch, askedHz);
  if (coarse === null) return null;
  const binHz = sampleRateHz / stretch.length;
  return fitLine(stretch, sampleRateHz, coarse.frequencyHz, binHz / 4, 1)?.frequencyHz ?? coarse.frequencyHz;
}

/** @param tone `noise` of this step, `null` where it is too short to tell */
export function readStep(
  samples: Float32Array | Float64Array,
  sampleRateHz: number,
  step: Stretch,
  tone: { askedDbfs: number; frequencyHz: number; noise: BesideTone | null },
): StepReading {
  const w = (2 * Math.PI * tone.frequencyHz) / sampleRateHz;
  const blockFrames = Math.round(BLOCK_SECONDS * sampleRateHz);
  const blocks = Math.max(3, Math.floor((step.to - step.from) / blockFrames));
  const frames = Math.floor((step.to - step.from) / blocks);
  const amplitudes = Array.from({ length: blocks }, (_, block) =>
    amplitudeAt(samples, step.from + block * frames, frames, w),
  );
  const settled = amplitudes.slice(Math.floor((2 * blocks) / 3));
  const amplitude = settled.reduce((sum, value) => sum + value, 0) / settled.length;
  const density = tone.noise === null ? 0 : densityAt(tone.noise, tone.frequencyHz);
  // Cramer-Rao: the variance of an amplitude is 2 sigma^2 / N, sigma^2 = density * rate / 2.
  const blockNoise = Math.sqrt((density * sampleRateHz) / frames);
  const levels = amplitudes.map((value) => 20 * Math.log10(Math.max(value, 1e-9)));
  return {
    askedDbfs: tone.askedDbfs,
    levelDbfs: 20 * Math.log10(Math.max(amplitude, 1e-9)),
    uncertaintyDb: (DB_PER_RELATIVE * blockNoise) / amplitude / Math.sqrt(settled.length),
    creepDb: 20 * Math.log10(Math.max(amplitude, 1e-9)) - levels[0]!,
    wobbleDb: wobble(levels, (DB_PER_RELATIVE * blockNoise) / amplitude),
    harmonicsDbc: tone.noise === null ? null : harmonics(tone.noise, tone.frequencyHz, amplitude),
  };
}

function amplitudeAt(samples: Float32Array | Float64Array, from: number, frames: number, w: number): number {
  const fit = fitAtKnownFrequency(samples, from, frames, w, { dc: 0, re: 0, im: 0 });
  return Math.hypot(fit.re, fit.im);
}

/** Way travelled up and down, less the way from end to end, less what noise of that scatter travels (1.13 sigma a step). */
function wobble(levels: readonly number[], noiseDb: number): number {
  let travelled = 0;
  for (let at = 1; at < levels.length; at += 1) travelled += Math.abs(levels[at]! - levels[at - 1]!);
  const net = Math.abs(levels.at(-1)! - levels[0]!);
  return Math.max(0, travelled - net - 1.5 * noiseDb * levels.length);
}

function densityAt({ floor, spectrum }: BesideTone, frequencyHz: number): number {
  return floor.values[Math.round(frequencyHz / spectrum.binHz)]!;
}

/** What the spectrum's lobes hold over the floor at harmonics 2 to 5, against the fundamental. */
function harmonics({ floor, spectrum }: BesideTone, frequencyHz: number, amplitude: number): number | null {
  const { values, binHz, lobeBins } = spectrum;
  let power = 0;
  for (let order = 2; order <= HIGHEST_HARMONIC; order += 1) {
    const bin = Math.round((order * frequencyHz) / binHz);
    if (bin + lobeBins >= values.length) break;
    let [over, under] = [0, 0];
    for (let b = bin - lobeBins; b <= bin + lobeBins; b += 1) {
      over += (values[b]! - floor.values[b]!) * binHz;
      under += floor.values[b]! * binHz;
    }
    if (over > STANDS_OUT * under) power += over;
  }
  return power > 0 ? 10 * Math.log10((2 * power) / amplitude ** 2) : null;
}
