import { describe, expect, test } from 'vitest';
import {
  type Weighting,
  weightingAmplitude,
  weightingDb,
  weightingPower,
} from '../../src/dsp/weighting/curves.ts';
import { WeightingFilter } from '../../src/dsp/weighting/weighting-filter.ts';
import { largestDifference, signal } from './dsp-signals.ts';

const RATE_HZ = 48_000;
const NOISE = signal({ sampleRateHz: RATE_HZ, frames: 4000, noiseRms: 0.1 });

function filtered(weighting: Weighting, samples: Float64Array, block = samples.length): Float64Array {
  const filter = new WeightingFilter(weighting, RATE_HZ);
  const into = new Float64Array(samples.length);
  for (let from = 0; from < samples.length; from += block) {
    const to = Math.min(samples.length, from + block);
    filter.process(samples, from, to, into.subarray(from, to));
  }
  return into;
}

describe('curves', () => {
  test('are 0 dB at 1 kHz, Z everywhere, and nothing at DC', () => {
    expect(weightingDb('A', 1000)).toBeCloseTo(0, 12);
    expect(weightingDb('C', 1000)).toBeCloseTo(0, 12);
    expect(weightingDb('Z', 17)).toBe(0);
    expect(weightingDb('A', 0)).toBe(Number.NEGATIVE_INFINITY);
    expect(weightingAmplitude('ccir-rms', 0)).toBe(0);
    expect(10 * Math.log10(weightingPower('A', 100))).toBeCloseTo(weightingDb('A', 100), 12);
  });
});

describe('filter', () => {
  test.each([1, 63, 256, 1000])('blocks of %i make no difference', (block) => {
    expect(largestDifference(filtered('A', NOISE, block), filtered('A', NOISE))).toBe(0);
    expect(largestDifference(filtered('ccir-rms', NOISE, block), filtered('ccir-rms', NOISE))).toBe(0);
  });

  test('a tone comes out at its curve, delayed as stated', () => {
    const frequencyHz = 12_000;
    const filter = new WeightingFilter('C', RATE_HZ);
    const tone = signal({ sampleRateHz: RATE_HZ, frames: 48_000, lines: [{ frequencyHz, amplitude: 1 }] });
    const into = new Float64Array(48_000);
    filter.process(tone, 0, 48_000, into);
    const gain = weightingAmplitude('C', frequencyHz);
    for (let n = 47_000; n < 47_010; n += 1) {
      // The two high-passes at 20.6 Hz still turn the phase by 2 * 20.6 / 12000 = 0.0034.
      expect(Math.abs(into[n]! - gain * tone[n - filter.delayFrames]!)).toBeLessThan(0.004);
    }
  });

  test('Z is the signal itself, at once', () => {
    expect(new WeightingFilter('Z', RATE_HZ).delayFrames).toBe(0);
    expect(filtered('Z', NOISE)).toEqual(NOISE);
  });

  test('may work in place', () => {
    const inPlace = NOISE.slice();
    new WeightingFilter('A', RATE_HZ).process(inPlace, 0, inPlace.length, inPlace);
    expect(largestDifference(inPlace, filtered('A', NOISE))).toBe(0);
  });

  test.each(['A', 'ccir-rms'] as const)('%s: DC does not pass, reset forgets NaN', (weighting) => {
    const filter = new WeightingFilter(weighting, RATE_HZ);
    const into = new Float64Array(4 * RATE_HZ);
    filter.process(new Float64Array(4 * RATE_HZ).fill(0.7), 0, 4 * RATE_HZ, into);
    // Two equal poles at 20.6 Hz: after 4 s, exp(-2 pi 20.6 * 4) is 1e-225; rounding of 0.7 is left.
    expect(Math.abs(into[into.length - 1]!)).toBeLessThan(1e-15);
    filter.process(Float64Array.of(Number.NaN), 0, 1, into);
    filter.reset();
    filter.process(NOISE, 0, NOISE.length, into);
    expect(largestDifference(into.subarray(0, NOISE.length), filtered(weighting, NOISE))).toBe(0);
    expect(into[NOISE.length - 1]).not.toBeNaN();
  });

  test('refuses rates at which it was never held against the curve', () => {
    expect(() => new WeightingFilter('A', 384_000)).toThrow('384000');
    expect(() => new WeightingFilter('A', 4000)).toThrow('4000');
  });
});
