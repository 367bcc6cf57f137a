import { describe, expect, test } from 'vitest';
import {
  differenceFrequencyDistortion,
  modulationDistortion,
} from '../../src/dsp/intermodulation/figures.ts';
import { fitTwoTones } from '../../src/dsp/intermodulation/products.ts';
import { seededGauss, seededUniform } from './seeded-random.ts';

/** Rate at which nothing that a cube makes of 20 kHz folds back. */
const sampleRateHz = 192_000;

interface Bend {
  lowHz: number;
  highHz: number;
  low: number;
  high: number;
  square: number;
  cube: number;
  noiseRms?: number;
  seed?: number;
}

/** Two tones through `x + a x^2 + k x^3`. */
function bent(bend: Bend, frames: number): Float64Array {
  const gauss = seededGauss(seededUniform(bend.seed ?? 1));
  return Float64Array.from({ length: frames }, (_, n) => {
    const turn = (hz: number) => 2 * Math.PI * (((hz * n) / sampleRateHz) % 1);
    const x = bend.low * Math.cos(turn(bend.lowHz) + 0.1) + bend.high * Math.cos(turn(bend.highHz) + 1);
    return x + bend.square * x * x + bend.cube * x ** 3 + (bend.noiseRms ?? 0) * gauss();
  });
}

/** Closed forms (trigonometric identities; references, item 3.5 for one tone). */
function closedForm({ low, high, square, cube }: Bend) {
  return {
    low: low * (1 + cube * (0.75 * low ** 2 + 1.5 * high ** 2)),
    high: high * (1 + cube * (0.75 * high ** 2 + 1.5 * low ** 2)),
    difference: Math.abs(square * low * high),
    twiceLow: Math.abs(0.75 * cube * low ** 2 * high),
    twiceHigh: Math.abs(0.75 * cube * low * high ** 2),
  };
}

describe('60 Hz and 7 kHz, 4 to 1', () => {
  test.each([
    { square: 0.02, cube: 0.03 },
    { square: -1e-4, cube: -2e-5 },
    { square: 0, cube: 0.1 },
    { square: 0.1, cube: 0 },
  ])('x + $square x^2 + $cube x^3: sidebands summed, against the high tone', ({ square, cube }) => {
    const bend = { lowHz: 60.1, highHz: 7003.7, low: 0.4, high: 0.1, square, cube };
    const truth = closedForm(bend);
    const figures = modulationDistortion(fitTwoTones(bent(bend, 96_000), sampleRateHz, 60, 7000)!);
    // Without noise only arithmetic is left: 1e-9 of a percent.
    expect(figures.second!.percent).toBeCloseTo((200 * truth.difference) / truth.high, 9);
    expect(figures.third!.percent).toBeCloseTo((200 * truth.twiceLow) / truth.high, 9);
    expect(figures.total!.percent).toBeCloseTo(
      Math.hypot(figures.second!.percent, figures.third!.percent),
      9,
    );
  });
});

describe.each([
  [18_000, 19_000],
  [19_000, 20_000],
])('%i and %i Hz, alike', (lowHz, highHz) => {
  test('difference at 1 kHz and both thirds beside the tones, against the two tones together', () => {
    const bend = {
      lowHz: lowHz + 0.37,
      highHz: highHz - 0.21,
      low: 0.25,
      high: 0.2,
      square: 0.02,
      cube: -0.03,
    };
    const truth = closedForm(bend);
    const products = fitTwoTones(bent(bend, 96_000), sampleRateHz, lowHz, highHz)!;
    const figures = differenceFrequencyDistortion(products);
    const reference = truth.low + truth.high;
    expect(figures.second!.percent).toBeCloseTo((100 * truth.difference) / reference, 9);
    expect(figures.third!.percent).toBeCloseTo((100 * (truth.twiceLow + truth.twiceHigh)) / reference, 9);
    expect(products.low.frequencyHz).toBeCloseTo(bend.lowHz, 8);
    expect(products.high.amplitude).toBeCloseTo(truth.high, 10);
    expect(products.at(2, -1)!.frequencyHz).toBeCloseTo(2 * bend.lowHz - bend.highHz, 7);
  });
});

describe('limits', () => {
  test('claimed uncertainties are those of the scatter', () => {
    let squares = 0;
    const draws = 40;
    for (let seed = 1; seed <= draws; seed += 1) {
      const bend: Bend = {
        lowHz: 60,
        highHz: 7000,
        low: 0.4,
        high: 0.1,
        square: 0.002,
        cube: 0.003,
        noiseRms: 1e-4,
        seed,
      };
      const truth = closedForm(bend);
      const figures = modulationDistortion(fitTwoTones(bent(bend, 24_000), sampleRateHz, 60, 7000)!);
      const { percent, uncertaintyPercent } = figures.second!;
      squares += ((percent - (200 * truth.difference) / truth.high) / uncertaintyPercent) ** 2;
    }
    // The r.m.s. of 40 draws of unit variance is known to 11 %: three times that.
    expect(Math.abs(Math.sqrt(squares / draws) - 1)).toBeLessThan(0.34);
  });

  test('a product beyond half the sample rate is null, and so is what needs it', () => {
    const frames = 48_000;
    const samples = Float64Array.from(
      { length: frames },
      (_, n) => 0.2 * (Math.cos(0.83 * Math.PI * n) + Math.cos(0.9 * Math.PI * n)),
    );
    const products = fitTwoTones(samples, 48_000, 19_920, 21_600)!;
    expect(products.at(-1, 2)!.frequencyHz).toBeCloseTo(23_280, 6);
    expect(products.at(1, 1)).toBeNull();
    expect(modulationDistortion(products).second).toBeNull();
    expect(differenceFrequencyDistortion(products).second!.percent).toBeLessThan(1e-9);
  });

  test('without the two tones there is nothing to read', () => {
    expect(fitTwoTones(new Float64Array(9600), 48_000, 60, 7000)).toBeNull();
    const one = Float64Array.from({ length: 9600 }, (_, n) => Math.cos((2 * Math.PI * 1000 * n) / 48_000));
    expect(fitTwoTones(one, 48_000, 1000, 1001)).toBeNull();
  });
});
