import { describe, expect, test } from 'vitest';
import { BLACKMAN_HARRIS, cosineWindow, FLAT_TOP, HANN } from '../../src/dsp/spectrum/cosine-windows.ts';
import {
  besselI0,
  kaiserBetaForMainLobe,
  kaiserMainLobeBins,
  kaiserResponse,
  kaiserWindow,
} from '../../src/dsp/spectrum/kaiser.ts';
import { RealFft, transformLength } from '../../src/dsp/spectrum/real-fft.ts';
import { signal } from './dsp-signals.ts';

describe('transform', () => {
  test.each([2, 4, 8, 64, 512])('of %i samples equals the sum it stands for, Nyquist included', (length) => {
    const fft = new RealFft(length);
    const samples = signal({ sampleRateHz: 1, frames: length, noiseRms: 1 });
    fft.input.set(samples);
    fft.transform();
    for (let bin = 0; bin <= length / 2; bin += 1) {
      let re = 0;
      let im = 0;
      samples.forEach((x, n) => {
        re += x * Math.cos((2 * Math.PI * bin * n) / length);
        im -= x * Math.sin((2 * Math.PI * bin * n) / length);
      });
      // 64-bit rounding over `length` terms of size 1.
      expect(fft.spectrum[2 * bin]).toBeCloseTo(re, 10);
      expect(fft.spectrum[2 * bin + 1]).toBeCloseTo(im, 10);
    }
  });

  test('leaves its input as it was, so that it can be filled in part', () => {
    const fft = new RealFft(8);
    fft.input.fill(0.5);
    fft.transform();
    expect([...fft.input]).toEqual(Array(8).fill(0.5));
  });

  test('refuses a length that is not a power of two', () => {
    expect(() => new RealFft(48_000)).toThrow('48000');
  });

  test.each([
    [1, 2],
    [2, 2],
    [3, 4],
    [16_384, 16_384],
    [16_385, 32_768],
  ])('%i frames need a transform of %i', (frames, length) => {
    expect(transformLength(frames)).toBe(length);
  });
});

describe('windows', () => {
  test.each([
    ['Hann', HANN],
    ['Blackman-Harris', BLACKMAN_HARRIS],
    ['flat top', FLAT_TOP],
  ])('%s is periodic: a bin-centred line leaks nowhere beyond its own few bins', (_, coefficients) => {
    const length = 1024;
    const fft = new RealFft(length);
    const window = cosineWindow(coefficients, length);
    const line = signal({
      sampleRateHz: length,
      frames: length,
      lines: [{ frequencyHz: 100, amplitude: 1 }],
    });
    for (let n = 0; n < length; n += 1) fft.input[n] = line[n]! * window[n]!;
    fft.transform();
    for (let bin = 0; bin <= length / 2; bin += 1) {
      if (Math.abs(bin - 100) < coefficients.length) continue;
      expect(Math.hypot(fft.spectrum[2 * bin]!, fft.spectrum[2 * bin + 1]!) / length).toBeLessThan(1e-14);
    }
  });

  test.each([0, 3, 9.5, 20])('Kaiser with beta %f answers between bins as its closed form says', (beta) => {
    const length = 4096;
    const window = kaiserWindow(beta, length);
    for (const bins of [0, 0.3, 0.5, 1, 2.7, 5]) {
      let re = 0;
      let sum = 0;
      window.forEach((value, n) => {
        sum += value;
        re += value * Math.cos((2 * Math.PI * bins * (n - length / 2)) / length);
      });
      // The closed form is that of the continuous window; sampling it differs by about 1/length^2, and by
      // 1/length where the ends do not reach zero (beta = 0).
      expect(Math.abs(re / sum - kaiserResponse(beta, bins))).toBeLessThan(beta === 0 ? 1 / length : 1e-5);
    }
  });

  test('beta and main lobe are each other turned round', () => {
    expect(kaiserMainLobeBins(kaiserBetaForMainLobe(4.2))).toBeCloseTo(4.2, 12);
    expect(kaiserBetaForMainLobe(0.5)).toBe(0);
  });

  test('Bessel function as tabulated (Abramowitz and Stegun 9.8: I0(1) and exp(-5) I0(5))', () => {
    expect(besselI0(0)).toBe(1);
    expect(besselI0(1)).toBeCloseTo(1.2660658778, 9);
    expect(besselI0(5) * Math.exp(-5)).toBeCloseTo(0.1835408126, 9);
  });
});
