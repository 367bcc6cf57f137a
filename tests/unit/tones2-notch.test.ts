import { describe, expect, test } from 'vitest';
import { Notch } from '../../src/dsp/distortion/notch.ts';
import { notchFigures } from '../../src/dsp/distortion/notch-figures.ts';
import { nthOrderPercent, thdReferredToTotal } from '../../src/dsp/distortion/referred-to-total.ts';
import { measureRecord, signal } from './dsp-signals.ts';

const sampleRateHz = 48_000;

describe('standard notch', () => {
  test.each([1.2, 2, 3])('Q of %f is that of the response as applied, at any frequency', (q) => {
    for (const frequencyHz of [20, 997, 10_000, 19_000]) {
      const notch = new Notch(frequencyHz, sampleRateHz, q);
      const at = (hz: number) => notch.powerResponse((2 * Math.PI * hz) / sampleRateHz);
      expect(at(frequencyHz)).toBeLessThan(1e-20);
      // Where half of the power passes below and above, by bisection: their distance is f / Q.
      const edge = (from: number, to: number) => {
        for (let step = 0; step < 60; step += 1) {
          const middle = (from + to) / 2;
          if (at(middle) < 0.5) from = middle;
          else to = middle;
        }
        return from;
      };
      const width = edge(frequencyHz, sampleRateHz / 2) - edge(frequencyHz, 0);
      expect(width * (q / frequencyHz)).toBeCloseTo(1, 9);
    }
  });

  test('takes 1.17, 0.46 and 0.21 dB off the 2nd harmonic (references, item 8)', () => {
    for (const [q, db] of [
      [1.2, 1.17],
      [2, 0.46],
      [3, 0.21],
    ] as const) {
      const response = new Notch(97.3, sampleRateHz, q).powerResponse((2 * Math.PI * 194.6) / sampleRateHz);
      expect(-10 * Math.log10(response)).toBeCloseTo(db, 2);
    }
  });

  test('filters as its response says', () => {
    const notch = new Notch(1000, sampleRateHz, 2);
    const frames = 9600;
    const out = notch.filtered(
      signal({ sampleRateHz, frames, lines: [{ frequencyHz: 1300, amplitude: 1 }] }),
    );
    let power = 0;
    for (const y of out.subarray(frames / 2)) power += y * y;
    const expected = notch.powerResponse((2 * Math.PI * 1300) / sampleRateHz);
    expect((4 * power) / frames / expected).toBeCloseTo(1, 6);
  });

  test('refuses a Q the standard does not allow', () => {
    expect(() => new Notch(1000, sampleRateHz, 1.1)).toThrow('Q 1.1');
    expect(() => new Notch(1000, sampleRateHz, 3.1)).toThrow('Q 3.1');
    expect(() => new Notch(24_000, sampleRateHz, 2)).toThrow('24000 Hz');
  });
});

describe('THD+N by notch', () => {
  test.each([20, 97.3, 997, 6007])(
    '%f Hz with a 2nd of -40 dB: low by the notch, right again when given back',
    (f) => {
      const lines = [
        { frequencyHz: f, amplitude: 0.5 },
        { frequencyHz: 2 * f, amplitude: 0.005, phase: 1 },
      ];
      const samples = signal({ sampleRateHz, frames: 144_000, lines, dc: 0.01 });
      for (const q of [1.2, 2, 3]) {
        const figures = notchFigures(samples, { sampleRateHz, frequencyHz: f, q })!;
        const response = new Notch(f, sampleRateHz, q).powerResponse((4 * Math.PI * f) / sampleRateHz);
        const truth = 10 * Math.log10(1 + 1e4);
        // A line's lobe (Kaiser of 20: 1.01 bins squared of 1.46 Hz) is divided by the notch's bend across it: to second
        // order 1.15/f^2 of the power at Q 1.2, 5.0/f^2 dB, less at higher Q; at 20 Hz higher orders add a twentieth (numpy).
        expect(Math.abs(figures.compensatedSinadDb - truth)).toBeLessThan(5.25 / f ** 2 + 1e-4);
        expect(figures.sinadDb + 10 * Math.log10(response)).toBeCloseTo(truth, f === 20 ? 1 : 2);
      }
    },
  );

  test('follows a tone that is not where it was said to be', () => {
    const samples = signal({
      sampleRateHz,
      frames: 96_000,
      lines: [{ frequencyHz: 1000.2, amplitude: 0.5 }],
    });
    const figures = notchFigures(samples, { sampleRateHz, frequencyHz: 1000 })!;
    expect(figures.frequencyHz).toBeCloseTo(1000.2, 9);
    // Mistuned by 2e-4 a notch of Q 2 would leave -62 dB.
    expect(figures.sinadDb).toBeGreaterThan(200);
  });

  test('no tone, or a record shorter than the notch needs: null', () => {
    expect(notchFigures(new Float64Array(48_000), { sampleRateHz, frequencyHz: 1000 })).toBeNull();
    const short = signal({ sampleRateHz, frames: 1000, lines: [{ frequencyHz: 1000, amplitude: 0.5 }] });
    expect(notchFigures(short, { sampleRateHz, frequencyHz: 1000 })).toBeNull();
  });
});

describe('against the total', () => {
  test('worked example (references, item 8): THD_F 1.04403 % is THD_R 1.04397 %', () => {
    expect(thdReferredToTotal(1.04403)).toBeCloseTo(1.04397, 5);
  });

  test('square wave (references, item 3.1): 48.3426 % is 43.5236 %', () => {
    expect(thdReferredToTotal(48.3426)).toBeCloseTo(43.5236, 4);
  });

  test('2nd and 3rd of 1 and 0.3: each over the total r.m.s.; what is not listed is null', () => {
    const lines = [1, 0.01, 0.003].map((amplitude, at) => ({
      frequencyHz: 997 * (at + 1),
      amplitude: 0.5 * amplitude,
    }));
    const tone = measureRecord(signal({ sampleRateHz, frames: 96_000, lines }), sampleRateHz).tone!;
    const total = Math.sqrt(1 + 1e-4 + 9e-6);
    expect(nthOrderPercent(tone, 2)).toBeCloseTo(1 / total, 6);
    expect(nthOrderPercent(tone, 3)).toBeCloseTo(0.3 / total, 6);
    expect(nthOrderPercent(tone, 12)).toBeNull();
  });
});
