/** IEC 61672-1:2013 and ITU-R BS.468-4: shared/reference-tables/frequency-weighting.json; scipy beside it. */
import { describe, expect, test } from 'vitest';
import table from '../../shared/reference-tables/frequency-weighting.json' with { type: 'json' };
import { AveragedSpectrum } from '../../src/dsp/spectrum/averaged-spectrum.ts';
import { renderPink } from '../../src/dsp/tones/pink.ts';
import { weightingDb, weightingPower } from '../../src/dsp/weighting/curves.ts';
import { WeightingFilter } from '../../src/dsp/weighting/weighting-filter.ts';
import { signal } from '../unit/dsp-signals.ts';
import { lacks, runPython } from './oracle.ts';

const ROWS = table.rows.map((row, n) => ({ ...row, exactHz: 1000 * 10 ** ((n + table.firstExponent) / 10) }));

const meanSquare = (samples: Float64Array) => samples.reduce((sum, x) => sum + x * x, 0) / samples.length;

test('the curves at the exact frequencies, and rounded as the standard prints them', () => {
  expect(ROWS.length).toBe(34);
  for (const { exactHz, aExactDb, cExactDb, aTableDb, cTableDb } of ROWS) {
    // The exact columns are printed to 4 decimals.
    expect(Math.abs(weightingDb('A', exactHz) - aExactDb)).toBeLessThan(0.000_051);
    expect(Math.abs(weightingDb('C', exactHz) - cExactDb)).toBeLessThan(0.000_051);
    expect(Math.round(10 * weightingDb('A', exactHz)) / 10).toBeCloseTo(aTableDb, 9);
    expect(Math.round(10 * weightingDb('C', exactHz)) / 10).toBeCloseTo(cTableDb, 9);
  }
});

test('BS.468: its table, which is printed to 0.1 dB', () => {
  for (const { hz, db } of table.bs468) {
    // Half a digit of the table, and as much for the network, whose elements are rounded values.
    expect(Math.abs(weightingDb('ccir-rms', hz) + 5.63 - db), `${hz} Hz`).toBeLessThan(0.1);
  }
  // AES17 has 0 dB at 2 kHz; the table's 5.6 is 0.03 short of the offset, and its rounding 0.05.
  expect(Math.abs(weightingDb('ccir-rms', 2000))).toBeLessThan(0.08);
});

/** Decibels of the filter at a frequency, out of what it makes of an impulse. */
function responseDb(weighting: 'A' | 'C' | 'ccir-rms', sampleRateHz: number): (hz: number) => number {
  const frames = sampleRateHz;
  const impulse = new Float64Array(frames);
  impulse[0] = 1;
  const response = new Float64Array(frames);
  new WeightingFilter(weighting, sampleRateHz).process(impulse, 0, frames, response);
  return (hz) => {
    let re = 0;
    let im = 0;
    for (let n = 0; n < frames; n += 1) {
      const angle = (2 * Math.PI * hz * n) / sampleRateHz;
      re += response[n]! * Math.cos(angle);
      im += response[n]! * Math.sin(angle);
    }
    return 10 * Math.log10(re * re + im * im);
  };
}

describe.each(['A', 'C'] as const)('the %s filter', (weighting) => {
  test.each([8000, 44_100, 48_000, 96_000, 192_000])('at %i Hz: class 1, and the curve itself', (rate) => {
    const response = responseDb(weighting, rate);
    for (const { exactHz, aTableDb, cTableDb, class1Db } of ROWS) {
      if (exactHz > (rate * 20_000) / 44_100) continue;
      const db = response(exactHz);
      const printed = weighting === 'A' ? aTableDb : cTableDb;
      const [above, below] = class1Db as [number, number | null];
      expect(db - printed).toBeLessThan(above);
      if (below !== null) expect(db - printed).toBeGreaterThan(below);
      // The class is wide at the top (-16 dB at 16 kHz). The tight pin: 0.001 dB, what the filter claims.
      expect(Math.abs(db - weightingDb(weighting, exactHz)), `${exactHz} Hz`).toBeLessThan(0.001);
    }
  });
});

test.each([8000, 44_100, 48_000, 96_000, 192_000])(
  'the ccir-rms filter at %i Hz: the curve, and the table',
  (rate) => {
    const response = responseDb('ccir-rms', rate);
    for (const { hz, db } of table.bs468) {
      if (hz > Math.min(20_000, (rate * 20_000) / 44_100)) continue;
      expect(Math.abs(response(hz) - weightingDb('ccir-rms', hz)), `${hz} Hz`).toBeLessThan(0.001);
      expect(Math.abs(response(hz) + 5.63 - db), `${hz} Hz`).toBeLessThan(0.1);
    }
  },
);

test('1 kHz at -20 dBFS reads -25.63 dB CCIR-RMS (AES17; references, item 8)', () => {
  const rate = 48_000;
  const tone = signal({
    sampleRateHz: rate,
    frames: 2 * rate,
    lines: [{ frequencyHz: 1000, amplitude: 0.1 }],
  });
  const weighted = new Float64Array(2 * rate);
  new WeightingFilter('ccir-rms', rate).process(tone, 0, 2 * rate, weighted);
  // The rational form reads 0.04 dB low at 1 kHz; the table itself is printed to 0.1.
  expect(Math.abs(10 * Math.log10(2 * meanSquare(weighted.subarray(rate))) + 25.63)).toBeLessThan(0.05);
});

test('noise from 20 Hz to 20 kHz: pink loses 2.859 dB by A, white 2.048 dB', () => {
  const rate = 48_000;
  const averaged = new AveragedSpectrum({
    sampleRateHz: rate,
    segmentFrames: 65_536,
    overlap: 0.5,
    window: { kind: 'hann' },
    averaging: { kind: 'linear' },
  });
  const pink = renderPink(
    { kind: 'pink', lowHz: 20, highHz: 20_000, levelDbfs: -20, durationSeconds: 30, seed: 5 },
    rate,
  );
  averaged.push(pink, 0, pink.length);
  const density = new Float64Array(averaged.binCount);
  averaged.read('density', density);
  let plain = 0;
  let weighted = 0;
  density.forEach((value, bin) => {
    plain += value;
    weighted += value * weightingPower('A', bin * averaged.binHz);
  });
  // Every line of this noise has its power exactly; only segments, half a band's stretch, leave a spread:
  // the weighted part sits above 500 Hz, thousands of hertz over 30 s: 4.34/sqrt(5000*30) = 0.011 dB; three.
  expect(Math.abs(10 * Math.log10(weighted / plain) - table.bandNoiseDb.pink)).toBeLessThan(0.035);

  let whitePlain = 0;
  let whiteWeighted = 0;
  for (let hz = 20.5; hz < 20_000; hz += 1) {
    whitePlain += 1;
    whiteWeighted += weightingPower('A', hz);
  }
  expect(10 * Math.log10(whiteWeighted / whitePlain)).toBeCloseTo(table.bandNoiseDb.white, 3);
});

describe.skipIf(lacks('python'))('beside scipy', () => {
  const rate = 44_100;
  const samples = signal({
    sampleRateHz: rate,
    frames: 44_100,
    lines: [
      { frequencyHz: 30, amplitude: 0.9 },
      { frequencyHz: 1000, amplitude: 0.2 },
      { frequencyHz: 16_000, amplitude: 0.3 },
    ],
  });
  // Fades, so that neither the circle's seam nor the filter's tail counts.
  samples.forEach((x, n) => {
    samples[n] = x * Math.sin((Math.PI * (n + 0.5)) / samples.length) ** 2;
  });
  const hz = ROWS.map(({ exactHz }) => exactHz);
  const scipy = lacks('python')
    ? null
    : (runPython(
        'weighting_figures.py',
        [],
        JSON.stringify({ sampleRateHz: rate, samples: [...samples], hz }),
      ) as Record<'A' | 'C', { db: number[]; meanSquare: number }>);

  test.each(['A', 'C'] as const)('%s: the analogue network by freqs_zpk', (weighting) => {
    scipy![weighting].db.forEach((db, n) => {
      // 64 bits on both sides, poles to 16 digits.
      expect(weightingDb(weighting, hz[n]!)).toBeCloseTo(db, 9);
    });
  });

  test.each(['A', 'C'] as const)(
    '%s: level of a sound through the filter, and by weighted lines',
    (weighting) => {
      const filter = new WeightingFilter(weighting, rate);
      const weighted = new Float64Array(samples.length);
      filter.process(samples, 0, samples.length, weighted);
      // The filter's own 0.001 dB.
      expect(Math.abs(10 * Math.log10(meanSquare(weighted) / scipy![weighting].meanSquare))).toBeLessThan(
        0.001,
      );
    },
  );
});
