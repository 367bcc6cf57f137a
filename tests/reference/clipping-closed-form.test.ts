import { describe, expect, test } from 'vitest';
import { overdriveOfThd, type Rails, thdOfOverdrive } from '../../src/dsp/clipping/clipped-thd.ts';
import { cutHarmonic, cutHarmonicSlope, cutMean, cutMeanSquare } from '../../src/dsp/clipping/crest-cut.ts';
import {
  type LimitedSine,
  limitedDistortionMeanSquare,
  limitedHarmonic,
  limitedMeanSquare,
  timeOnRails,
} from '../../src/dsp/clipping/limited-sine.ts';
import { angleOfOverdrive, overdriveOfAngle } from '../../src/dsp/clipping/overdrive.ts';
import tables from './fixtures/clipped-sines.json' with { type: 'json' };
import { lacks, runPython } from './oracle.ts';

const decibels = (ratio: number) => 20 * Math.log10(Math.abs(ratio));
const twoRails = (overdriveDb: number): LimitedSine => {
  const angle = angleOfOverdrive(overdriveDb);
  return { amplitude: 1 / Math.cos(angle), highAngle: angle, lowAngle: angle };
};
const oneRail = (overdriveDb: number): LimitedSine => ({ ...twoRails(overdriveDb), lowAngle: 0 });
const everyOrder = Number.POSITIVE_INFINITY;

/** The tables are in 53-bit numbers from 30-digit arithmetic; 1e-9 leaves room for their own FFT check only. */
const TABLE_DIGITS = 9;

describe('references 3.2, two equal rails', () => {
  test.each(tables['3_sym_hard_clip'].values)('$overdrive_db dB over', (row) => {
    const wave = twoRails(row.overdrive_db);
    const fundamental = limitedHarmonic(wave, 1);
    const dbc = (order: number) => decibels(limitedHarmonic(wave, order) / fundamental);
    expect(fundamental).toBeCloseTo(row.b1, TABLE_DIGITS);
    // The dossier counts from the zero crossing, this code from the crest: b_n = -+c_n in turn.
    expect(-limitedHarmonic(wave, 3)).toBeCloseTo(row.b3, TABLE_DIGITS);
    expect(limitedHarmonic(wave, 5)).toBeCloseTo(row.b5, TABLE_DIGITS);
    expect(-limitedHarmonic(wave, 7)).toBeCloseTo(row.b7, TABLE_DIGITS);
    expect(dbc(3)).toBeCloseTo(row.h3_dbc, TABLE_DIGITS);
    expect(dbc(9)).toBeCloseTo(row.h9_dbc, 7);
    expect(limitedHarmonic(wave, 2)).toBe(0);
    expect(limitedHarmonic(wave, 0)).toBe(0);
    const rails = timeOnRails(wave);
    expect(rails.high + rails.low).toBeCloseTo(row.clipped_fraction_of_time, TABLE_DIGITS);
    expect(decibels(Math.sqrt(2 * limitedMeanSquare(wave)))).toBeCloseTo(row.rms_db_re_sine_at_clip, 9);
    const thd = (highestOrder: number) =>
      100 * thdOfOverdrive(row.overdrive_db, { rails: 'both', highestOrder });
    expect(thd(everyOrder)).toBeCloseTo(row.thd_f_pct, TABLE_DIGITS);
    expect(thd(5)).toBeCloseTo(row.thd_f_to_h5_pct, TABLE_DIGITS);
    expect(thd(10)).toBeCloseTo(row.thd_f_to_h9_pct, TABLE_DIGITS);
    expect(thd(20)).toBeCloseTo(row.thd_f_to_h20_pct, TABLE_DIGITS);
  });

  test.each(tables['3_sym_overdrive_for_thd'].values)('$thd_f_pct % THD gives its overdrive', (row) => {
    expect(overdriveOfThd(row.thd_f_pct / 100, { rails: 'both', highestOrder: everyOrder })).toBeCloseTo(
      row.overdrive_db,
      TABLE_DIGITS,
    );
  });

  test('the 1 % point moves with the band as the dossier says, 0.25126 dB without a limit', () => {
    const onePercent = (highestOrder: number) => overdriveOfThd(0.01, { rails: 'both', highestOrder });
    const published = tables['3_sym_overdrive_for_thd'].one_percent_by_definition;
    expect(onePercent(everyOrder)?.toFixed(5)).toBe('0.25126');
    expect(onePercent(3)).toBeCloseTo(published['THD_F H3 only'], TABLE_DIGITS);
    expect(onePercent(5)).toBeCloseTo(published['THD_F up to H5'], TABLE_DIGITS);
    expect(onePercent(10)).toBeCloseTo(published['THD_F up to H10 (H9)'], TABLE_DIGITS);
    expect(onePercent(20)).toBeCloseTo(published['THD_F up to H20 (H19; 1 kHz in 20 kHz)'], TABLE_DIGITS);
  });

  test('the exact third harmonic, (4/3pi)*sin^3 of the cut angle, to 1e-9 dB of overdrive', () => {
    for (const overdriveDb of [1e-9, 1e-6, 1e-3, 0.05, 3]) {
      const angle = angleOfOverdrive(overdriveDb);
      const exact = (4 / (3 * Math.PI)) * Math.sin(angle) ** 3;
      expect(-limitedHarmonic(twoRails(overdriveDb), 3) / exact).toBeCloseTo(1, 13);
    }
  });

  test('barely over, THD follows the limit 0.9800*e^(5/4) of the dossier', () => {
    const e = 1e-10;
    const overdriveDb = (20 / Math.LN10) * Math.log1p(e);
    const limit = Math.sqrt((32 * Math.SQRT2) / (15 * Math.PI)) * e ** 1.25;
    // The next term is of order sqrt(e) = 1e-5 (the dossier: 0.955 at e = 0.001).
    expect(thdOfOverdrive(overdriveDb, { rails: 'both', highestOrder: everyOrder }) / limit).toBeCloseTo(
      1,
      4,
    );
  });
});

describe('references 3.3, one rail', () => {
  test.each(tables['3_one_rail_clip'].values)('$overdrive_db dB over', (row) => {
    const wave = oneRail(row.overdrive_db);
    const fundamental = limitedHarmonic(wave, 1);
    const dbc = (order: number) => decibels(limitedHarmonic(wave, order) / fundamental);
    expect(limitedHarmonic(wave, 0)).toBeCloseTo(row.dc_over_clip, TABLE_DIGITS);
    expect(decibels(fundamental)).toBeCloseTo(row.fundamental_db_re_clip, TABLE_DIGITS);
    expect(dbc(2)).toBeCloseTo(row.h2_dbc, TABLE_DIGITS);
    expect(dbc(3)).toBeCloseTo(row.h3_dbc, TABLE_DIGITS);
    expect(dbc(4)).toBeCloseTo(row.h4_dbc, TABLE_DIGITS);
    expect(dbc(5)).toBeCloseTo(row.h5_dbc, TABLE_DIGITS);
    expect(100 * thdOfOverdrive(row.overdrive_db, { rails: 'one', highestOrder: everyOrder })).toBeCloseTo(
      row.thd_f_pct,
      TABLE_DIGITS,
    );
  });

  test.each(tables['3_one_rail_clip'].overdrive_for_thd)('$thd_f_pct % THD gives its overdrive', (row) => {
    expect(overdriveOfThd(row.thd_f_pct / 100, { rails: 'one', highestOrder: everyOrder })).toBeCloseTo(
      row.overdrive_db,
      TABLE_DIGITS,
    );
  });
});

describe('overdrive and THD undo each other', () => {
  const cases = (['both', 'one'] as Rails[]).flatMap((rails) =>
    [3, 5, 19, everyOrder].flatMap((highestOrder) =>
      [1e-6, 0.001, 0.05, 0.3, 2, 12, 40].map((overdriveDb) => ({ rails, highestOrder, overdriveDb })),
    ),
  );
  test.each(cases)('$rails, up to order $highestOrder, $overdriveDb dB', ({ overdriveDb, ...question }) => {
    const back = overdriveOfThd(thdOfOverdrive(overdriveDb, question), question);
    // Near a square wave THD hardly moves with overdrive: 1e-14 in THD is up to 1e-8 of the overdrive.
    expect(back! / overdriveDb).toBeCloseTo(1, 8);
  });

  test('THD grows with overdrive without a turn, so that the inverse is one number', () => {
    for (const rails of ['both', 'one'] as Rails[]) {
      for (const highestOrder of [2, 3, 4, 5, 7, 10, 19, 60]) {
        if (rails === 'both' && highestOrder === 2) continue;
        let last = 0;
        for (let overdriveDb = 0.01; overdriveDb < 60; overdriveDb *= 1.05) {
          const thd = thdOfOverdrive(overdriveDb, { rails, highestOrder });
          expect(thd).toBeGreaterThan(last);
          last = thd;
        }
      }
    }
  });

  test('what no limiter can make has no overdrive', () => {
    // A square wave holds 48.34 % (references 3.1); harmonics past the band hold nothing.
    expect(overdriveOfThd(0.4835, { rails: 'both', highestOrder: everyOrder })).toBeNull();
    expect(overdriveOfThd(0.01, { rails: 'both', highestOrder: 1 })).toBeNull();
    expect(overdriveOfThd(Number.NaN, { rails: 'both', highestOrder: everyOrder })).toBeNull();
    expect(overdriveOfThd(0, { rails: 'one', highestOrder: everyOrder })).toBe(0);
  });

  test('angle and overdrive', () => {
    expect(angleOfOverdrive(0)).toBe(0);
    expect(angleOfOverdrive(6.020599913279624)).toBeCloseTo(Math.PI / 3, 14);
    for (const overdriveDb of [1e-12, 1e-6, 0.25, 6, 60]) {
      expect(overdriveOfAngle(angleOfOverdrive(overdriveDb)) / overdriveDb).toBeCloseTo(1, 9);
    }
  });
});

interface Oracle {
  cuts: { angle: number; mean: number; meanSquare: number; harmonics: { order: number; value: number }[] }[];
  limited: {
    upperDb: number;
    lowerDb: number | null;
    amplitude: number;
    mean: number;
    terms: number[];
    distortionMeanSquare: number;
    meanSquare: number;
  }[];
}

const withoutPython = lacks('python');

describe.skipIf(withoutPython)(
  'against scipy quadrature and a numpy FFT (tests/reference/oracle/clipped_sine.py)',
  () => {
    const oracle = (withoutPython ? null : runPython('clipped_sine.py')) as Oracle;

    test('every cut, to 1e-9 of its size', () => {
      for (const row of oracle.cuts) {
        expect(cutMean(row.angle) / row.mean).toBeCloseTo(1, 9);
        expect(cutMeanSquare(row.angle) / row.meanSquare).toBeCloseTo(1, 9);
        for (const { order, value } of row.harmonics) {
          // High orders of wide cuts all but cancel; there the size to compare with is the envelope.
          const size = Math.max(Math.abs(value), (1e-3 / order ** 2) * row.angle ** 3);
          expect(Math.abs(cutHarmonic(order, row.angle) - value) / size).toBeLessThan(1e-9);
        }
      }
    });

    test('two unequal rails: mean, forty terms, powers', () => {
      for (const row of oracle.limited) {
        const wave = {
          amplitude: row.amplitude,
          highAngle: angleOfOverdrive(row.upperDb),
          lowAngle: row.lowerDb === null ? 0 : angleOfOverdrive(row.lowerDb),
        };
        // 2^20 points per period leave an error of about (2*pi/2^20)^2 = 4e-11 times the slope's jump.
        expect(limitedHarmonic(wave, 0)).toBeCloseTo(row.mean, 9);
        row.terms.forEach((term, index) => {
          expect(limitedHarmonic(wave, index + 1)).toBeCloseTo(term, 9);
        });
        expect(limitedDistortionMeanSquare(wave)).toBeCloseTo(row.distortionMeanSquare, 9);
        expect(limitedMeanSquare(wave)).toBeCloseTo(row.meanSquare, 9);
      }
    });
  },
);

test('the slope against the cube of the angle is that of the closed form', () => {
  for (const angle of [0.02, 0.4, 1.3]) {
    for (const order of [1, 2, 3, 8]) {
      const step = 1e-4 * angle ** 3;
      const at = (cube: number) => cutHarmonic(order, Math.cbrt(cube));
      const measured = (at(angle ** 3 + step) - at(angle ** 3 - step)) / (2 * step);
      // A central difference over 1e-4 of the cube is right to about 1e-8.
      expect(cutHarmonicSlope(order, angle)).toBeCloseTo(measured, 7);
    }
  }
});
