/** Each shortcut taken for speed, against the plain way that it stands for. */
import { describe, expect, test } from 'vitest';
import { HopSums } from '../../src/dsp/fit/hop-sums.ts';
import { fitAtKnownFrequency } from '../../src/dsp/fit/known-frequency-fit.ts';
import { RealFft } from '../../src/dsp/spectrum/real-fft.ts';
import { TwinFft } from '../../src/dsp/spectrum/twin-fft.ts';
import { signal } from './dsp-signals.ts';

const noise = (frames: number, seed: number) =>
  signal({
    sampleRateHz: 48_000,
    frames,
    noiseRms: 0.1,
    seed,
    lines: [{ frequencyHz: 997, amplitude: 0.3 }],
  });

describe('two signals in one transform', () => {
  test.each([2, 16, 1024])('of length %i come apart as each by itself', (length) => {
    const twin = new TwinFft(length);
    const plain = new RealFft(length);
    const signals = [noise(length, 1), noise(length, 2).map((x) => 0.01 * x)];
    for (const [place, samples] of signals.entries())
      for (let n = 0; n < length; n += 1) twin.input[2 * n + place] = samples[n]!;
    twin.transform();
    const power = new Float64Array(length / 2 + 1);
    const plainPower = new Float64Array(length / 2 + 1);
    twin.addPower(power);
    for (const [place, samples] of signals.entries()) {
      plain.input.set(samples);
      plain.transform();
      plain.addPower(plainPower);
      for (let bin = 0; bin <= length / 2; bin += 1) {
        const apart = { re: 0, im: 0 };
        twin.bin(place, bin, apart);
        // Rounding of 53 bits over log2(1024) stages of sums that reach 150.
        expect(apart.re).toBeCloseTo(plain.spectrum[2 * bin]!, 11);
        expect(apart.im).toBeCloseTo(plain.spectrum[2 * bin + 1]!, 11);
      }
    }
    for (const [bin, value] of power.entries()) expect(value / plainPower[bin]!).toBeCloseTo(1, 10);
  });
});

describe('sums shared by overlapping segments', () => {
  test.each([1024, 1021])('hops of %i: fit and powers are those of each segment by itself', (hopFrames) => {
    const w = (2 * Math.PI * 997.3) / 48_000;
    const samples = noise(10 * hopFrames, 3);
    const sums = new HopSums(hopFrames, 4, w);
    for (let from = 0; from + 4 * hopFrames <= samples.length; from += hopFrames) {
      sums.advance(samples, from);
      const shared = sums.fit({ dc: 0, re: 0, im: 0 });
      const alone = fitAtKnownFrequency(samples, from, 4 * hopFrames, w, { dc: 0, re: 0, im: 0 });
      expect(shared.re).toBeCloseTo(alone.re, 12);
      expect(shared.im).toBeCloseTo(alone.im, 12);
      expect(shared.dc).toBeCloseTo(alone.dc, 12);
      for (let part = 0; part < 4; part += 1) {
        const hop = samples.subarray(from + part * hopFrames, from + (part + 1) * hopFrames);
        expect(sums.power(part)).toBeCloseTo(
          hop.reduce((sum, x) => sum + x * x, 0),
          10,
        );
      }
    }
  });
});
