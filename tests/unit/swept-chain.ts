/** Recordings of a sweep behind analogue filters, exact: the sweep's spectrum times their closed form. */
import { type ComplexValue, type Filter, filterResponse } from '../../src/dsp/filters/filter-response.ts';
import { inverseTransform } from '../../src/dsp/response/inverse-transform.ts';
import { RealFft, transformLength } from '../../src/dsp/spectrum/real-fft.ts';
import { renderSweep } from '../../src/dsp/tones/sweep.ts';
import { FULL_SWEEP } from '../../src/plan/tone/response-sweep.ts';
import type { Take } from '../../src/procedure/take/take.ts';
import { seededGauss, seededUniform } from './seeded-random.ts';

export const RATE_HZ = 48_000;
export const SWEEP = { kind: 'sweep' as const, ...FULL_SWEEP };

export interface Chain {
  filters?: readonly Filter[];
  /** Anything else in the way. */
  other?: (frequencyHz: number) => ComplexValue;
  gain?: number;
  delaySeconds?: number;
  noiseRms?: number;
  /** What a stage makes of each sample, behind the filters. */
  through?: (sample: number) => number;
  sweep?: typeof SWEEP;
  seed?: number;
}

/** Ahead of the sweep, and behind it. */
const AHEAD_SECONDS = 0.4;
const BEHIND_SECONDS = 0.8;

export function sweptSamples(chain: Chain = {}): Float32Array {
  const { sweep = SWEEP, noiseRms = 0, seed = 1, through = (sample) => sample } = chain;
  const frames = Math.round((AHEAD_SECONDS + sweep.durationSeconds + BEHIND_SECONDS) * RATE_HZ);
  const fft = new RealFft(transformLength(frames));
  fft.input.fill(0);
  fft.input.set(renderSweep(sweep, RATE_HZ), Math.round(AHEAD_SECONDS * RATE_HZ));
  fft.transform();
  const spectrum = new Float64Array(fft.length + 2);
  for (let bin = 1; bin < fft.length / 2; bin += 1) {
    const { re, im } = chainAt(chain, (bin * RATE_HZ) / fft.length);
    const a = fft.spectrum[2 * bin]!;
    const b = fft.spectrum[2 * bin + 1]!;
    spectrum[2 * bin] = a * re - b * im;
    spectrum[2 * bin + 1] = a * im + b * re;
  }
  const samples = new Float64Array(fft.length);
  inverseTransform(fft, spectrum, samples);
  const gauss = seededGauss(seededUniform(seed));
  return Float32Array.from({ length: frames }, (_, n) => through(samples[n]!) + noiseRms * gauss());
}

export function chainAt(
  { filters = [], other, gain = 1, delaySeconds = 0 }: Chain,
  hertz: number,
): ComplexValue {
  const turn = -2 * Math.PI * hertz * delaySeconds;
  const factors = [
    { re: gain * Math.cos(turn), im: gain * Math.sin(turn) },
    ...(other === undefined ? [] : [other(hertz)]),
    ...filters.map((filter) => filterResponse(filter, hertz)),
  ];
  return factors.reduce((a, b) => ({ re: a.re * b.re - a.im * b.im, im: a.re * b.im + a.im * b.re }));
}

export function takeOf(samples: Float32Array, doubts: Take['doubts'] = []): Take {
  return { sampleRateHz: RATE_HZ, startFrame: 0, channels: [samples], doubts };
}

export function filter(
  kind: Filter['kind'],
  alignment: Filter['alignment'],
  order: number,
  cutoffHz: number,
): Filter {
  return { kind, alignment, order, cutoffHz };
}
