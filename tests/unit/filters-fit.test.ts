import { describe, expect, it, test } from 'vitest';
import { findBassShelf, shelfLossDb } from '../../src/dsp/filters/bass-shelf.ts';
import { type FilterFinding, type FittedFilter, findFilters } from '../../src/dsp/filters/filter-fit.ts';
import { type Filter, filterResponse } from '../../src/dsp/filters/filter-response.ts';
import { prototypePolynomial } from '../../src/dsp/filters/prototype.ts';
import { roughnessDb } from '../../src/dsp/filters/roughness.ts';
import { bilinearWarp, unwarped } from '../../src/dsp/filters/warp.ts';
import { seededGauss, seededUniform } from './seeded-random.ts';

const NOISE_DB = 0.05;

function grid(lowHz: number, highHz: number): Float64Array {
  const points = Math.floor(24 * Math.log2(highHz / lowHz));
  return Float64Array.from({ length: points }, (_, i) => lowHz * 2 ** (i / 24));
}

function magnitudeDb(filter: Filter, frequencyHz: number): number {
  const { re, im } = filterResponse(filter, frequencyHz);
  return 10 * Math.log10(re * re + im * im);
}

/** What is found in a curve with unknown gain and a little noise. */
function found(
  levelDb: (hertz: number) => number,
  { lowHz = 20.5, highHz = 15_000, noiseDb = NOISE_DB, seed = 11 } = {},
): FilterFinding {
  const gauss = seededGauss(seededUniform(seed));
  const frequenciesHz = grid(lowHz, highHz);
  const levelsDb = frequenciesHz.map((hertz) => levelDb(hertz) - 17.3 + noiseDb * gauss());
  return findFilters(
    frequenciesHz,
    levelsDb,
    frequenciesHz.map(() => noiseDb),
  );
}

function peak(hertz: number, centreHz: number, gainDb: number, q: number): number {
  const a = 10 ** (gainDb / 40);
  const x = hertz / centreHz;
  const re = 1 - x * x;
  return 10 * Math.log10((re * re + ((x * a) / q) ** 2) / (re * re + (x / (a * q)) ** 2));
}

/** First-order shelf: `gainDb` below its corner. */
function lowShelf(hertz: number, cornerHz: number, gainDb: number): number {
  const gain = 10 ** (gainDb / 20);
  const x = hertz / cornerHz;
  return 10 * Math.log10((gain * gain + x * x) / (1 + x * x));
}

const LR4 = { kind: 'high-pass', alignment: 'linkwitz-riley', order: 4, cutoffHz: 80 } as const;

describe('filters that are there', () => {
  it('are named with corner and slope, whatever the gain', () => {
    const { filters, verdict } = found((hertz) => magnitudeDb(LR4, hertz));
    expect(verdict).toBe('filters');
    expect(filters).toHaveLength(1);
    expect(filters[0]).toMatchObject({ ...LR4, cutoffHz: expect.closeTo(80, 0), slopeDbPerOctave: 24 });
    // Its uncertainty is what it misses by, within four of them.
    const { cutoffHz, cutoffUncertaintyHz } = filters[0]!;
    expect(Math.abs(cutoffHz - 80)).toBeLessThan(4 * cutoffUncertaintyHz);
    expect(cutoffUncertaintyHz).toBeLessThan(0.2);
  });

  it('are both named where they make a band, the high-pass first', () => {
    const low = { kind: 'low-pass', alignment: 'bessel', order: 3, cutoffHz: 2500 } as const;
    const { filters } = found((hertz) => magnitudeDb(LR4, hertz) + magnitudeDb(low, hertz));
    expect(filters).toMatchObject([LR4, low].map((filter) => ({ ...filter, cutoffHz: expect.any(Number) })));
    expect(Math.abs(filters[1]!.cutoffHz / 2500 - 1)).toBeLessThan(0.01);
  });

  it('are recognised as digital, whose corner is where it was set', () => {
    const corner = { kind: 'low-pass', alignment: 'butterworth', order: 2 } as const;
    const digital = { ...corner, cutoffHz: bilinearWarp(6000, 44_100) };
    const { filters } = found((hertz) => magnitudeDb(digital, bilinearWarp(hertz, 44_100)));
    expect(filters).toMatchObject([corner]);
    expect(Math.abs(filters[0]!.cutoffHz / 6000 - 1)).toBeLessThan(0.003);
  });

  it('are told apart where only their knee differs: Butterworth 2, Linkwitz-Riley 2, Bessel 2', () => {
    for (const alignment of ['butterworth', 'linkwitz-riley', 'bessel'] as const) {
      const { filters } = found((hertz) => magnitudeDb({ ...LR4, alignment, order: 2 }, hertz));
      expect(filters).toMatchObject([{ alignment, order: 2 }]);
    }
  });

  it('are left open in what the data do not show, over 40 kinds of noise of 0.3 dB: never named wrong', () => {
    for (const [order, highHz, furthest] of [
      // The half-power point lies on a slope of 12 dB per octave and more, its level known to some 0.1 dB: 1 %.
      // Twice that for the shapes that the noise lets through.
      [4, 107, 0.03],
      // Little of 6 dB per octave, the pass band's level no better known: several times that. A second, needless
      // filter in the fit doubles it.
      [2, 150, 0.1],
    ] as const) {
      const truth = { kind: 'low-pass', alignment: 'butterworth', order, cutoffHz: 100 } as const;
      for (let seed = 1; seed <= 40; seed += 1) {
        const { filters } = found((hertz) => magnitudeDb(truth, hertz), { highHz, noiseDb: 0.3, seed });
        expect(filters).toHaveLength(1);
        const [{ alignment, order: told, slopeDbPerOctave, cutoffHz }] = filters as [FittedFilter];
        expect([null, 'butterworth']).toContain(alignment);
        expect([null, order]).toContain(told);
        expect(slopeDbPerOctave).toBe(told === null ? null : 6 * order);
        expect(Math.abs(cutoffHz / 100 - 1)).toBeLessThan(furthest);
      }
    }
  });
});

describe('what is none of these', () => {
  it.each([
    ['a shelf of -6 dB', (hertz: number) => lowShelf(hertz, 200, -6)],
    ['a shelf of -12 dB', (hertz: number) => lowShelf(hertz, 300, -12)],
    ['a shelf of +6 dB', (hertz: number) => lowShelf(hertz, 200, 6)],
    ['a peak of 6 dB', (hertz: number) => peak(hertz, 1000, 6, 1)],
    ['a cut of 9 dB', (hertz: number) => peak(hertz, 120, -9, 1)],
    ["a room's ripple", (hertz: number) => 4 * Math.sin(17 * Math.log(hertz)) + 3 * Math.sin(hertz / 40)],
    ['a slope of 3 dB per octave', (hertz: number) => -3 * Math.log2(hertz / 20)],
    [
      "a filter behind a room's ripple",
      (hertz: number) => magnitudeDb(LR4, hertz) + 3 * Math.sin(20 * Math.log(hertz)),
    ],
  ])('%s: no filter is named, and the residual of the best fit is told', (_, levelDb) => {
    const finding = found(levelDb);
    expect(finding.filters).toEqual([]);
    expect(finding.verdict).toBe('none of these');
    expect(finding.residualDb).toBeGreaterThan(0.5);
  });

  it('calls a flat response flat', () => {
    expect(found(() => 0)).toMatchObject({ filters: [], verdict: 'flat' });
  });

  it('names no filter whose corner lies outside the data', () => {
    const below = { ...LR4, order: 2, cutoffHz: 12 };
    expect(found((hertz) => magnitudeDb(below, hertz))).toMatchObject({ filters: [], verdict: 'flat' });
  });
});

test('roughness reads the noise of a curve and leaves its slope alone', () => {
  const gauss = seededGauss(seededUniform(3));
  const smooth = grid(20, 15_000).map((hertz) => magnitudeDb(LR4, hertz));
  expect(Math.max(...roughnessDb(smooth))).toBeLessThan(0.001);
  const rough = roughnessDb(smooth.map((level) => level + 0.2 * gauss()));
  const mean = rough.reduce((sum, value) => sum + value, 0) / rough.length;
  // Readings of 17 differences each, correlated: within a tenth, averaged over the whole curve.
  expect(Math.abs(mean / 0.2 - 1)).toBeLessThan(0.1);
});

test('the warp of the bilinear transform and its inverse undo each other', () => {
  expect(unwarped(bilinearWarp(9000, 48_000), 48_000)).toBeCloseTo(9000, 9);
});

test.each([
  ['butterworth', 9],
  ['linkwitz-riley', 3],
  ['bessel', 0],
] as const)('there is no %s of order %i', (alignment, order) => {
  expect(() => prototypePolynomial(alignment, order)).toThrow(RangeError);
});

describe('bass that is missing ahead of the filters', () => {
  /** What is said of a curve behind filters that are known but for their corners, and of filters alone. */
  function shelf(levelDb: (hertz: number) => number, seed = 5) {
    const gauss = seededGauss(seededUniform(seed));
    const frequenciesHz = grid(20.5, 15_000);
    const levelsDb = frequenciesHz.map((hertz) => levelDb(hertz) - 17.3 + NOISE_DB * gauss());
    const sigmasDb = frequenciesHz.map(() => NOISE_DB);
    const snrDb = frequenciesHz.map(() => 60);
    const { residualDb } = findFilters(frequenciesHz, levelsDb, sigmasDb);
    const known = { highPass: LR4, lowPass: null };
    return findBassShelf({ frequenciesHz, levelsDb, sigmasDb, snrDb }, known, residualDb);
  }

  it.each([
    [100, 12],
    [250, 6],
    [60, 4],
  ])('a shelf at %d Hz of %d dB is told from other filters, and leaves the corner where it is', (hz, db) => {
    const found = shelf((hertz) => magnitudeDb(LR4, hertz) + lowShelf(hertz, hz, -db));
    expect(found?.lowPassHz).toBeNull();
    // 0.05 dB of noise on 24 points an octave, over the two octaves that hold the shelf and the corner both.
    expect(found!.cornerHz / hz).toBeCloseTo(1, 1);
    expect(Math.abs(found!.lossDb - db)).toBeLessThan(0.5);
    expect(Math.abs(found!.highPassHz! - 80)).toBeLessThan(1);
    expect(shelfLossDb(found!, 40)).toBeCloseTo(-lowShelf(40, hz, -db), 0);
  });

  it('is none where a shelf of second order might as well be another corner', () => {
    const second = (hertz: number) => {
      const x = (hertz / 120) ** 4;
      return 10 * Math.log10((0.1 + x) / (1 + x));
    };
    // It is a high-pass at 104 Hz to a few hundredths of a decibel: no corner is let off for it.
    const found = shelf((hertz) => magnitudeDb(LR4, hertz) + second(hertz));
    expect(found === null || Math.abs(found.highPassHz! / 80 - 1) > 0.1).toBe(true);
  });

  it.each<[string, Filter]>([
    ['the filter itself', LR4],
    ['a corner a tenth off', { ...LR4, cutoffHz: 88 }],
    ['a corner a fifth off', { ...LR4, cutoffHz: 96 }],
    ['a corner an octave off', { ...LR4, cutoffHz: 160 }],
    ['another order', { ...LR4, alignment: 'butterworth', order: 5 }],
    ['another alignment', { ...LR4, alignment: 'bessel' }],
  ])('is none where there is %s', (_, filter) => {
    for (const seed of [1, 2, 3]) expect(shelf((hertz) => magnitudeDb(filter, hertz), seed)).toBeNull();
  });
});
