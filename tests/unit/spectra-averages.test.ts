import { describe, expect, test } from 'vitest';
import { AveragedSpectrum, type AveragedSpectrumOptions } from '../../src/dsp/spectrum/averaged-spectrum.ts';
import type { WindowShape } from '../../src/dsp/spectrum/window-shape.ts';
import { largestDifference, signal } from './dsp-signals.ts';

const RATE_HZ = 48_000;
const SEGMENT = 4096;
const WINDOWS: WindowShape[] = [
  { kind: 'hann' },
  { kind: 'blackman-harris' },
  { kind: 'flat-top' },
  { kind: 'kaiser', beta: 14 },
];

function spectrum(options: Partial<AveragedSpectrumOptions> = {}): AveragedSpectrum {
  return new AveragedSpectrum({
    sampleRateHz: RATE_HZ,
    segmentFrames: SEGMENT,
    overlap: 0.5,
    window: { kind: 'hann' },
    averaging: { kind: 'linear' },
    ...options,
  });
}

function read(averaged: AveragedSpectrum, scaling: 'amplitude' | 'power' | 'density'): Float64Array {
  const into = new Float64Array(averaged.binCount);
  averaged.read(scaling, into);
  return into;
}

const onBin = (bin: number, amplitude: number) =>
  signal({
    sampleRateHz: RATE_HZ,
    frames: 20_000,
    lines: [{ frequencyHz: (bin * RATE_HZ) / SEGMENT, amplitude, phase: 1 }],
  });

describe.each(WINDOWS)('scalings, $kind', (window) => {
  test('a line on a bin reads its RMS, its mean square, its dBFS', () => {
    const averaged = spectrum({ window });
    averaged.push(onBin(100, 0.5), 0, 20_000);
    // 64-bit rounding; Kaiser's window of beta 14 also leaks 1e-6 of the line's mirror image.
    expect(read(averaged, 'amplitude')[100]).toBeCloseTo(0.5 * Math.SQRT1_2, 8);
    expect(read(averaged, 'power')[100]).toBeCloseTo(0.125, 8);
    const decibels = new Float64Array(averaged.binCount);
    averaged.readDbfs('amplitude', decibels);
    expect(decibels[100]).toBeCloseTo(20 * Math.log10(0.5), 6);
  });

  test('density over the whole band adds up to the mean square of noise', () => {
    const frames = 400_000;
    const averaged = spectrum({ window });
    averaged.push(signal({ sampleRateHz: RATE_HZ, frames, noiseRms: 0.1 }), 0, frames);
    const density = read(averaged, 'density');
    const sum = density.reduce((total, value) => total + value * averaged.binHz, 0);
    // A mean over 400 000 samples has a standard deviation of sqrt(2/400000) = 0.22 %; four of them.
    expect(Math.abs(sum / 0.01 - 1)).toBeLessThan(0.009);
    const power = read(averaged, 'power');
    expect(power[50]! / density[50]!).toBeCloseTo(averaged.noiseBandwidthHz, 9);
  });

  test('DC and Nyquist are not doubled', () => {
    const averaged = spectrum({ window });
    averaged.push(
      Float64Array.from({ length: SEGMENT }, (_, n) => 0.25 + 0.1 * (-1) ** n),
      0,
      SEGMENT,
    );
    const power = read(averaged, 'power');
    expect(power[0]).toBeCloseTo(0.0625, 8);
    expect(power[SEGMENT / 2]).toBeCloseTo(0.01, 8);
  });
});

describe('averages', () => {
  const quietThenLoud = (averaged: AveragedSpectrum, quiet: number, loud: number) => {
    const hop = SEGMENT;
    for (let n = 0; n < quiet; n += 1) averaged.push(onBin(64, 0.1), 0, hop);
    for (let n = 0; n < loud; n += 1) averaged.push(onBin(64, 0.8), 0, hop);
    return read(averaged, 'power')[64]!;
  };

  test('linear: every segment counts alike', () => {
    expect(quietThenLoud(spectrum({ overlap: 0 }), 3, 1)).toBeCloseTo((3 * 0.005 + 0.32) / 4, 12);
  });

  test('peak-hold: the loudest stays', () => {
    const averaged = spectrum({ overlap: 0, averaging: { kind: 'peak-hold' } });
    expect(quietThenLoud(averaged, 2, 1)).toBeCloseTo(0.32, 12);
    averaged.push(onBin(64, 0.1), 0, 20_000);
    expect(read(averaged, 'power')[64]).toBeCloseTo(0.32, 12);
  });

  test('exponential: after one time constant 1 - 1/e of a step is there', () => {
    const hopSeconds = SEGMENT / RATE_HZ;
    const averaging = { kind: 'exponential', timeConstantSeconds: 8 * hopSeconds } as const;
    const power = quietThenLoud(spectrum({ overlap: 0, averaging }), 100, 8);
    expect(power).toBeCloseTo(0.005 + (0.32 - 0.005) * (1 - Math.exp(-1)), 12);
  });

  test('exponential: before it has settled it is the mean of all, not a fade from nothing', () => {
    const averaging = { kind: 'exponential', timeConstantSeconds: 10 } as const;
    expect(quietThenLoud(spectrum({ overlap: 0, averaging }), 1, 1)).toBeCloseTo((0.005 + 0.32) / 2, 12);
  });
});

describe('stream', () => {
  const noise = signal({ sampleRateHz: RATE_HZ, frames: 30_000, noiseRms: 0.1, seed: 5 });

  test.each([1, 127, 4096, 10_000])('blocks of %i make no difference', (block) => {
    const whole = spectrum({ overlap: 0.75 });
    whole.push(noise, 0, noise.length);
    const parts = spectrum({ overlap: 0.75 });
    for (let from = 0; from < noise.length; from += block) {
      parts.push(noise, from, Math.min(noise.length, from + block));
    }
    expect(parts.segments).toBe(Math.floor((30_000 - SEGMENT) / (SEGMENT / 4)) + 1);
    expect(largestDifference(read(parts, 'power'), read(whole, 'power'))).toBe(0);
  });

  test('silence reads 0, in decibels -Infinity; reset forgets NaN', () => {
    const averaged = spectrum();
    averaged.push(new Float64Array(SEGMENT).fill(Number.NaN), 0, SEGMENT);
    expect(read(averaged, 'power')[5]).toBeNaN();
    averaged.reset();
    averaged.push(new Float64Array(SEGMENT), 0, SEGMENT);
    expect(Math.max(...read(averaged, 'density'))).toBe(0);
    const decibels = new Float64Array(averaged.binCount);
    averaged.readDbfs('density', decibels);
    expect(decibels[7]).toBe(Number.NEGATIVE_INFINITY);
  });

  test('refuses what makes no spectrum', () => {
    expect(() => spectrum({ overlap: 1 })).toThrow('overlap of 1');
    expect(() => spectrum({ segmentFrames: 1000 })).toThrow('power of two');
    expect(() => spectrum({ window: { kind: 'kaiser', beta: -1 } })).toThrow('beta of -1');
    expect(() => spectrum({ averaging: { kind: 'exponential', timeConstantSeconds: 0 } })).toThrow(
      'constant of 0',
    );
  });
});
