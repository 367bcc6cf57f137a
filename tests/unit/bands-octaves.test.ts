import { describe, expect, test } from 'vitest';
import { bandResponse, bandSections, bandShape } from '../../src/dsp/bands/butterworth-band.ts';
import { OctaveFilterBank } from '../../src/dsp/bands/filter-bank.ts';
import { fractionalOctaveBand, fractionalOctaveBands } from '../../src/dsp/bands/fractional-octave.ts';
import { SpectrumBands } from '../../src/dsp/bands/spectrum-bands.ts';
import { largestDifference, signal } from './dsp-signals.ts';

const RATE_HZ = 48_000;

describe('bands', () => {
  test.each([1, 3, 6, 12, 24] as const)(
    '1/%i octave: edges touch, ten to the 0.3 is an octave',
    (fraction) => {
      const bands = fractionalOctaveBands(fraction, 20, 20_000);
      bands.slice(1).forEach((band, n) => {
        expect(Math.abs(bands[n]!.highHz / band.lowHz - 1)).toBeLessThan(1e-14);
      });
      expect(bands[fraction]!.centreHz / bands[0]!.centreHz).toBeCloseTo(10 ** 0.3, 12);
      expect(new Set(bands.map((band) => band.nominalHz)).size).toBe(bands.length);
      bands.forEach((band) => {
        // Two digits from 5.0 up are 1 % apart, preferred numbers up to 0.9 % off: labels stay within 1.1 %.
        expect(Math.abs(band.nominalHz / band.centreHz - 1)).toBeLessThan(0.011);
      });
    },
  );

  test('even fractions have an edge at 1 kHz, odd ones a centre', () => {
    expect(fractionalOctaveBand(6, 0).lowHz).toBeCloseTo(1000, 10);
    expect(fractionalOctaveBand(24, -1).highHz).toBeCloseTo(1000, 10);
    expect(fractionalOctaveBand(3, 0).centreHz).toBe(1000);
  });

  test('are found by their nominal names, both ends included', () => {
    const thirds = fractionalOctaveBands(3, 20, 20_000);
    expect(thirds.length).toBe(31);
    expect(thirds[0]!.nominalHz).toBe(20);
    expect(thirds[2]!.nominalHz).toBe(31.5);
    expect(thirds[30]!.nominalHz).toBe(20_000);
    expect(fractionalOctaveBands(1, 31.5, 16_000).map((band) => band.nominalHz)).toEqual([
      31.5, 63, 125, 250, 500, 1000, 2000, 4000, 8000, 16_000,
    ]);
    expect(() => fractionalOctaveBands(3, 0, 100)).toThrow('0 to 100');
  });
});

describe('filter', () => {
  test.each([
    [891.25, 1122.02],
    [17_782.8, 22_387.2],
    [8.9125, 11.22],
  ])('%f to %f Hz: sections do what the closed form says', (lowHz, highHz) => {
    const shape = bandShape(lowHz, highHz, RATE_HZ);
    const { gain, a1, a2 } = bandSections(shape);
    for (const ratio of [0.3, 0.8, 0.95, 1, 1.02, 1.07, 1.5, 4]) {
      const hz = Math.sqrt(lowHz * highHz) * ratio;
      if (hz >= RATE_HZ / 2) continue;
      const w = (2 * Math.PI * hz) / RATE_HZ;
      let power = 1;
      for (let n = 0; n < 4; n += 1) {
        const re = 1 + a1[n]! * Math.cos(w) + a2[n]! * Math.cos(2 * w);
        const im = a1[n]! * Math.sin(w) + a2[n]! * Math.sin(2 * w);
        power *= (gain[n]! * 2 * Math.sin(w)) ** 2 / (re * re + im * im);
      }
      const expected = bandResponse(shape, hz, RATE_HZ);
      // Coefficients near 2 have steps of 2e-16; at 10 Hz, w^2 is 1.7e-6 and the band a tenth of it wide.
      expect(10 * Math.log10(power / expected)).toBeCloseTo(0, 5);
    }
  });

  test('refuses a band that does not fit below half the sample rate', () => {
    expect(() => bandShape(17_783, 22_387, 44_100)).toThrow('44100');
    expect(() => new OctaveFilterBank(fractionalOctaveBands(1, 1000, 16_000), 44_100)).toThrow('44100');
  });
});

describe('filter bank', () => {
  const bands = fractionalOctaveBands(3, 50, 16_000);
  const levels = (bank: OctaveFilterBank) => {
    const into = new Float64Array(bands.length);
    bank.meanSquares(into);
    return into;
  };

  test('a tone at a centre reads its mean square there', () => {
    const bank = new OctaveFilterBank(bands, RATE_HZ);
    const band = bands.findIndex(({ nominalHz }) => nominalHz === 500);
    const frequencyHz = bands[band]!.centreHz;
    const tone = signal({ sampleRateHz: RATE_HZ, frames: 96_000, lines: [{ frequencyHz, amplitude: 0.5 }] });
    bank.push(tone, 0, 48_000);
    bank.restart();
    bank.push(tone, 48_000, 96_000);
    expect(bank.frames).toBe(48_000);
    // One second holds 501.19 cycles: the unfinished one is 1/2000 at most.
    expect(Math.abs(levels(bank)[band]! / 0.125 - 1)).toBeLessThan(5e-4);
    // Two bands off, 1 / (1 + v^8) of the analogue filter with v = (r - 1/r) / width, r = 10^0.2, its width
    // the band's by (pi/8) / sin(pi/8); the bilinear axis bends that by 1 % in v at 800 Hz.
    const v = ((10 ** 0.2 - 10 ** -0.2) / (10 ** 0.05 - 10 ** -0.05)) * (Math.PI / 8 / Math.sin(Math.PI / 8));
    expect(10 * Math.log10((levels(bank)[band + 2]! / 0.125) * (1 + v ** 8))).toBeCloseTo(0, 0);
  });

  test.each([1, 255, 256, 1000])('blocks of %i make no difference', (block) => {
    const noise = signal({ sampleRateHz: RATE_HZ, frames: 5000, noiseRms: 0.1 });
    const whole = new OctaveFilterBank(bands, RATE_HZ);
    whole.push(noise, 0, 5000);
    const parts = new OctaveFilterBank(bands, RATE_HZ);
    for (let from = 0; from < 5000; from += block) parts.push(noise, from, Math.min(5000, from + block));
    // Only the order of the sums differs.
    expect(largestDifference(levels(parts), levels(whole))).toBeLessThan(1e-16);
  });

  test('after silence it is silent, and reset forgets', () => {
    const bank = new OctaveFilterBank(bands, RATE_HZ);
    bank.push(new Float64Array(1000).fill(Number.NaN), 0, 1000);
    bank.reset();
    expect(levels(bank)[3]).toBe(0);
    bank.push(signal({ sampleRateHz: RATE_HZ, frames: 5000, noiseRms: 0.1 }), 0, 5000);
    // The 50 Hz band is 11.5 Hz wide and falls by 8.7 dB * pi * 11.5 * 0.38 a second at the slowest pole.
    bank.push(new Float64Array(20 * RATE_HZ), 0, 20 * RATE_HZ);
    bank.restart();
    bank.push(new Float64Array(1000), 0, 1000);
    expect(Math.max(...levels(bank))).toBeLessThan(1e-60);
  });
});

describe('bands of a spectrum', () => {
  const spectrum = { binHz: 10, noiseBandwidthHz: 15 };

  test('bins at the edges count by their share', () => {
    const density = Float64Array.from({ length: 201 }, (_, bin) => (bin === 90 ? 3 : bin === 89 ? 5 : 1));
    const bands = [{ index: 0, nominalHz: 1000, centreHz: 1000, lowHz: 893, highHz: 1121 }];
    const into = new Float64Array(1);
    new SpectrumBands(bands, spectrum).meanSquares(density, into);
    // 893 to 895 Hz at 5, to 905 at 3, to 1121 at 1.
    expect(into[0]).toBeCloseTo(2 * 5 + 10 * 3 + 216, 9);
  });

  test('flat density gives each band its width; DC and Nyquist hold all of theirs in half a bin', () => {
    const density = new Float64Array(201).fill(2);
    // One-sided: a white spectrum has half the density at DC and Nyquist.
    density[0] = 1;
    density[200] = 1;
    const bands = [
      { index: 0, nominalHz: 1, centreHz: 1, lowHz: 1, highHz: 2000 },
      ...fractionalOctaveBands(3, 50, 1000),
      { index: 99, nominalHz: 2500, centreHz: 2500, lowHz: 1990, highHz: 3000 },
    ];
    const into = new Float64Array(bands.length);
    new SpectrumBands(bands, spectrum).meanSquares(density, into);
    bands.slice(0, -1).forEach(({ lowHz, highHz }, band) => {
      expect(into[band]).toBeCloseTo(2 * (highHz - lowHz), 9);
    });
    expect(into[bands.length - 1]).toBeCloseTo(2 * 10, 9);
  });

  test('says which bands are too narrow for it', () => {
    const sums = new SpectrumBands(fractionalOctaveBands(3, 100, 200), spectrum);
    // 23 %: 23, 29, 37 and 46 Hz wide, against two noise bandwidths of 15 Hz.
    expect([0, 1, 2, 3].map((band) => sums.isResolved(band))).toEqual([false, false, true, true]);
  });
});
