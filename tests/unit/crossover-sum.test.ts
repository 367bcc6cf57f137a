/**
 * What two branches add up to, against the closed forms of S. Linkwitz (JAES 24(1), 1976) and S. Lipshitz and
 * J. Vanderkooy (JAES 31(7/8), 1983): odd Butterworth pairs sum flat either way up, LR4 in the same polarity, LR2 with
 * one side turned over.
 */
import { describe, expect, it } from 'vitest';
import { type Filter, filterResponse } from '../../src/dsp/filters/filter-response.ts';
import { type Transfer, transferFrequencies } from '../../src/dsp/response/transfer.ts';
import { type Branch, branchSum, handoverOf } from '../../src/procedure/crossover/sum.ts';
import { filter } from './swept-chain.ts';

const AROUND = { lowHz: 40, highHz: 160 };

function branch(filters: Filter[], facing: Filter['kind'], gainDb = 0): Branch {
  const frequenciesHz = transferFrequencies({ lowHz: 16, highHz: 15_000 }, 2);
  const values = frequenciesHz.map((hertz) =>
    filters
      .map((one) => filterResponse(one, hertz))
      .reduce((a, b) => ({ re: a.re * b.re - a.im * b.im, im: a.re * b.im + a.im * b.re })),
  );
  const transfer: Transfer = {
    frequenciesHz,
    magnitudesDb: values.map(({ re, im }) => 20 * Math.log10(Math.hypot(re, im)) + gainDb),
    phasesDeg: values.map(({ re, im }) => (Math.atan2(im, re) * 180) / Math.PI),
    uncertaintiesDb: frequenciesHz.map(() => 0),
    snrDb: frequenciesHz.map(() => 80),
  };
  return { transfer, filters, facing };
}

function sums(alignment: Filter['alignment'], order: number, lowerHz = 80, upperHz = 80) {
  const lower = branch([filter('low-pass', alignment, order, lowerHz)], 'low-pass', 6);
  const upper = branch([filter('high-pass', alignment, order, upperHz)], 'high-pass', -11);
  return [false, true].map((turned) => handoverOf(branchSum(lower, upper, turned, AROUND)));
}

describe('the sum of a low-pass and a high-pass at one corner', () => {
  it.each([
    ['linkwitz-riley', 4, 0],
    ['linkwitz-riley', 8, 0],
    ['linkwitz-riley', 2, 1],
    ['linkwitz-riley', 6, 1],
    ['butterworth', 1, 0],
    ['butterworth', 1, 1],
    ['butterworth', 3, 0],
    ['butterworth', 3, 1],
    ['butterworth', 5, 1],
  ] as const)('%s of order %i is flat (as wired 0, one turned over 1: %i)', (alignment, order, turned) => {
    const { deepestDb, highestDb } = sums(alignment, order)[turned]!;
    // Rounding only, and what the median takes for the pass band.
    expect(Math.abs(deepestDb)).toBeLessThan(1e-9);
    expect(Math.abs(highestDb)).toBeLessThan(1e-9);
  });

  it.each([
    ['linkwitz-riley', 2, 0],
    ['linkwitz-riley', 4, 1],
    ['butterworth', 2, 0],
    ['butterworth', 4, 1],
  ] as const)('%s of order %i has its null at the corner (%i)', (alignment, order, turned) => {
    const { deepestDb, deepestHz } = sums(alignment, order)[turned]!;
    // The grid's nearest point lies within half a step, 1/48 octave, of the corner; there the null is 29 dB deep at least.
    expect(deepestDb).toBeLessThan(-29);
    expect(Math.abs(Math.log2(deepestHz / 80))).toBeLessThan(1 / 40);
  });

  it.each([
    ['butterworth', 2, 1],
    ['butterworth', 4, 0],
  ] as const)('%s of order %i stands 3.01 dB high at the corner (%i)', (alignment, order, turned) => {
    const { highestDb, deepestDb } = sums(alignment, order)[turned]!;
    // The nearest point of the grid is a little off the corner.
    expect(highestDb).toBeGreaterThan(2.98);
    expect(highestDb).toBeLessThan(3.0104);
    expect(deepestDb).toBeGreaterThan(-1e-9);
  });
});

it('a high-pass an octave too high leaves a hole either way up', () => {
  const [asWired, turned] = sums('linkwitz-riley', 4, 80, 160);
  // No closed form of the depth is at hand, so the filters' own are scanned in steps of a tenth of a hertz.
  const value = (hertz: number, sign: number) => {
    const low = filterResponse(filter('low-pass', 'linkwitz-riley', 4, 80), hertz);
    const high = filterResponse(filter('high-pass', 'linkwitz-riley', 4, 160), hertz);
    return 20 * Math.log10(Math.hypot(low.re + sign * high.re, low.im + sign * high.im));
  };
  const scan = (sign: number) =>
    Math.min(...Array.from({ length: 1201 }, (_, n) => value(40 + n / 10, sign)));
  // Between two points of the grid, 1/24 octave, the hole is flat.
  expect(asWired!.deepestDb).toBeCloseTo(scan(1), 1);
  expect(turned!.deepestDb).toBeCloseTo(scan(-1), 1);
  expect(asWired!.deepestDb).toBeLessThan(-3);
});

it('what a filter at the far end of a band takes is no loss of the handover', () => {
  const lowpass = filter('low-pass', 'linkwitz-riley', 4, 80);
  const rumble = filter('high-pass', 'butterworth', 2, 25);
  const lower = branch([rumble, lowpass], 'low-pass');
  const upper = branch([filter('high-pass', 'linkwitz-riley', 4, 80)], 'high-pass');
  const { deepestDb } = handoverOf(branchSum(lower, upper, false, AROUND));
  // The rumble filter itself takes 0.6 dB at 40 Hz; its phase, 26 degrees at 80 Hz, costs the sum 0.2 dB.
  expect(deepestDb).toBeGreaterThan(-0.35);
  expect(deepestDb).toBeLessThan(-0.1);
});

it('a branch lost in noise adds nothing', () => {
  const lower = branch([filter('low-pass', 'linkwitz-riley', 4, 80)], 'low-pass');
  const upper = branch([filter('high-pass', 'linkwitz-riley', 4, 80)], 'high-pass');
  const silent = {
    ...upper.transfer,
    magnitudesDb: upper.transfer.magnitudesDb.map((level, i) =>
      upper.transfer.frequenciesHz[i]! < 60 ? null : level,
    ),
  };
  const points = branchSum(lower, { ...upper, transfer: silent }, false, AROUND);
  const at40 = points[0]!;
  const alone = filterResponse(filter('low-pass', 'linkwitz-riley', 4, 80), at40.frequencyHz);
  expect(at40.levelDb).toBeCloseTo(20 * Math.log10(Math.hypot(alone.re, alone.im)), 9);
});
