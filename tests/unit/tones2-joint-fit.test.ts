import { describe, expect, test } from 'vitest';
import { normalMatrix } from '../../src/dsp/fit/line-normal.ts';
import { fitSeveralTones } from '../../src/dsp/fit/several-tones.ts';
import {
  fitCombinations,
  fitFourParameters,
  fitHarmonics,
  fitThreeParameters,
} from '../../src/dsp/fit/sine-fit.ts';
import { signal } from './dsp-signals.ts';
import { seededUniform } from './seeded-random.ts';

const sampleRateHz = 48_000;

describe('normal matrix in closed form', () => {
  const cases = [
    { frames: 96, orders: [[1]], bases: [0.21] },
    { frames: 97, orders: [[1], [2], [5]], bases: [0.4] },
    {
      frames: 1000,
      orders: [
        [1, 0],
        [0, 1],
        [-1, 1],
        [2, -1],
      ],
      bases: [0.5, 0.52],
    },
    // Two lines 0.0003 radians apart over 500 frames: the curvature's series, not its closed form.
    {
      frames: 500,
      orders: [
        [1, 0],
        [0, 1],
      ],
      bases: [0.7, 0.7 + 1e-6],
    },
  ];

  test.each(cases)('$frames frames, $orders', ({ frames, orders, bases }) => {
    const uniform = seededUniform(3);
    const lines = orders.length;
    const at = {
      dc: 0,
      cosine: Float64Array.from({ length: lines }, () => uniform() - 0.5),
      sine: Float64Array.from({ length: lines }, () => uniform() - 0.5),
      bases: Float64Array.from(bases),
    };
    const size = 1 + 2 * lines + bases.length;
    const slow = new Float64Array(size * size);
    for (let n = 0; n < frames; n += 1) {
      const u = n - (frames - 1) / 2;
      const row = new Float64Array(size);
      row[0] = 1;
      orders.forEach((order, k) => {
        const w = order.reduce((sum, times, j) => sum + times * bases[j]!, 0);
        row[1 + 2 * k] = Math.cos(w * u);
        row[2 + 2 * k] = Math.sin(w * u);
        const slope = u * (at.sine[k]! * Math.cos(w * u) - at.cosine[k]! * Math.sin(w * u));
        order.forEach((times, j) => {
          row[1 + 2 * lines + j]! += times * slope;
        });
      });
      for (let i = 0; i < size; i += 1) {
        for (let j = 0; j < size; j += 1) slow[i * size + j]! += row[i]! * row[j]!;
      }
    }
    const fast = normalMatrix(frames, orders, at, new Float64Array(size * size));
    for (let i = 0; i < size; i += 1) {
      for (let j = 0; j < size; j += 1) {
        // Against what the two columns could at most share: 1e-9 leaves room for the cancellation near 0.
        const most = Math.sqrt(slow[i * size + i]! * slow[j * size + j]!);
        expect(Math.abs(fast[i * size + j]! - slow[i * size + j]!) / most).toBeLessThan(1e-9);
      }
    }
  });
});

describe('IEEE 1057 fits without noise', () => {
  const line = { frequencyHz: 10.3, amplitude: 0.5, phase: 0.7 };
  // 1.03 cycles: nothing is averaged out, the fit alone must tell DC, tone and image apart.
  const samples = signal({ sampleRateHz, frames: 4800, lines: [line], dc: 0.01 });

  test('three parameters', () => {
    const fit = fitThreeParameters(samples, sampleRateHz, 10.3)!;
    expect(fit.lines[0]!.amplitude).toBeCloseTo(0.5, 12);
    expect(fit.lines[0]!.phaseRadians).toBeCloseTo(0.7, 12);
    expect(fit.dc).toBeCloseTo(0.01, 12);
    expect(fit.lines[0]!.uncertainty.frequencyHz).toBe(0);
    expect(fit.residualRms).toBeLessThan(1e-13);
  });

  test('four parameters, from 16 % away', () => {
    const fit = fitFourParameters(samples, sampleRateHz, 12)!;
    expect(fit.lines[0]!.frequencyHz).toBeCloseTo(10.3, 10);
    expect(fit.lines[0]!.amplitude).toBeCloseTo(0.5, 12);
    expect(fit.lines[0]!.phaseRadians).toBeCloseTo(0.7, 11);
  });

  test('harmonics with the tone: two cycles and a 3rd of 40 %', () => {
    const lines = [1, 2, 3].map((order) => ({
      frequencyHz: 10 * order,
      amplitude: [0.5, 0.05, 0.2][order - 1]!,
      phase: order,
    }));
    const fit = fitHarmonics(signal({ sampleRateHz, frames: 9600, lines, dc: 0.1 }), sampleRateHz, 10.1, 5)!;
    lines.forEach(({ amplitude, phase }, at) => {
      expect(fit.lines[at]!.amplitude).toBeCloseTo(amplitude, 11);
      expect(fit.lines[at]!.phaseRadians).toBeCloseTo(phase, 10);
    });
    expect(fit.lines[3]!.amplitude).toBeLessThan(1e-12);
  });

  test('orders at or above half the rate are left out', () => {
    const high = signal({ sampleRateHz, frames: 4800, lines: [{ frequencyHz: 9000, amplitude: 0.1 }] });
    expect(fitHarmonics(high, sampleRateHz, 9000, 10)!.lines).toHaveLength(2);
  });
});

describe('several tones', () => {
  const amplitudes = [0.2, 0.2, 0.01];
  // Bins of 1/frames. 1.5 is the closest pair of like level that the docstring promises.
  test.each([1.5, 2, 3, 5, 40])('%f bins apart, the third 26 dB weaker, each near its bound', (bins) => {
    const uniform = seededUniform(17 + bins);
    const squares = { frequency: 0, amplitude: 0, phase: 0 };
    const draws = 12;
    for (let draw = 0; draw < draws; draw += 1) {
      const frames = 12_000;
      const binHz = sampleRateHz / frames;
      const lines = [0, bins, 2.3 * bins].map((away, k) => ({
        frequencyHz: 1000 + binHz * (away + 0.2 * (k + uniform())),
        amplitude: amplitudes[k]!,
        phase: 6 * uniform() - 3,
      }));
      const made = signal({ sampleRateHz, frames, lines, dc: 0.01, noiseRms: 1e-4, seed: 1 + draw });
      const fit = fitSeveralTones(made, sampleRateHz, 3)!;
      lines.forEach((line, k) => {
        const { frequencyHz, amplitude, phaseRadians, uncertainty } = fit.lines[k]!;
        const turn = (phaseRadians - line.phase) / (2 * Math.PI);
        squares.frequency += ((frequencyHz - line.frequencyHz) / uncertainty.frequencyHz) ** 2;
        squares.amplitude += ((amplitude - line.amplitude) / uncertainty.amplitude) ** 2;
        squares.phase += ((2 * Math.PI * (turn - Math.round(turn))) / uncertainty.phaseRadians) ** 2;
      });
      expect(fit.residualRms / 1e-4).toBeCloseTo(1, 1);
    }
    // The claimed covariance is the inverse Fisher matrix. Of 36 z values the r.m.s. is known to 12 %, less where
    // close lines share their error (bins 1.5): four times that.
    for (const sum of Object.values(squares)) expect(Math.sqrt(sum / (3 * draws))).toBeLessThan(1.5);
  });

  test('a tone 100 dB under its neighbour 3 bins away is found', () => {
    const lines = [
      { frequencyHz: 1000, amplitude: 0.5 },
      { frequencyHz: 1003, amplitude: 5e-6, phase: 1 },
    ];
    const fit = fitSeveralTones(
      signal({ sampleRateHz, frames: 48_000, lines, noiseRms: 1e-6 }),
      sampleRateHz,
      2,
    )!;
    expect(fit.lines[1]!.frequencyHz).toBeCloseTo(1003, 2);
    // Noise of 1e-6 over 48000 samples leaves 6.5e-9: five of these.
    expect(Math.abs(fit.lines[1]!.amplitude - 5e-6)).toBeLessThan(3.3e-8);
  });
});

describe('what cannot be fitted is null', () => {
  test('silence has no tones; NaN, too few samples and a frequency out of range have no fit', () => {
    expect(fitSeveralTones(new Float64Array(4800), sampleRateHz, 1)).toBeNull();
    expect(fitFourParameters(new Float64Array(4800).fill(Number.NaN), sampleRateHz, 100)).toBeNull();
    expect(fitFourParameters(new Float64Array([1, 0, 1]), sampleRateHz, 100)).toBeNull();
    expect(fitThreeParameters(new Float64Array(480), sampleRateHz, 0)).toBeNull();
  });

  test('the same line asked for twice', () => {
    const samples = signal({ sampleRateHz, frames: 4800, lines: [{ frequencyHz: 1000, amplitude: 0.5 }] });
    expect(fitCombinations(samples, sampleRateHz, [1000], [[1], [1]])).toBeNull();
  });

  test('no line near the start: the fit walks away', () => {
    const samples = signal({ sampleRateHz, frames: 4800, lines: [{ frequencyHz: 1000, amplitude: 0.5 }] });
    expect(fitFourParameters(samples, sampleRateHz, 1000 + 6.4 * 10)).toBeNull();
  });
});
