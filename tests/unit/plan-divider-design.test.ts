import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type DividerWish, designDivider, USUAL_HEADROOM_DB } from '../../src/plan/divider/design.ts';
import { dividerFigures } from '../../src/plan/divider/divider.ts';
import {
  designHeadsetDivider,
  type HeadsetWish,
  headsetRecognition,
  USUAL_HEADSET,
} from '../../src/plan/divider/headset.ts';
import { e6AtLeast, e24Between, resistorRatingWatts } from '../../src/plan/divider/preferred-values.ts';
import { PlanRefused } from '../../src/plan/refused.ts';

const WISH: DividerWish = {
  highestVolts: 17.3205,
  fullScaleVolts: 2,
  inputOhms: 10_000,
  inputOhmsTolerance: 0.3,
  headroomDb: USUAL_HEADROOM_DB,
  tolerancePercent: 1,
  legs: 1,
};

/** IEC 60063, E24, times a power of ten. */
const E24_TENTHS = [
  10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91,
];

function isE24(ohms: number): boolean {
  const digits = Math.round(ohms / 10 ** (Math.floor(Math.log10(ohms) + 1e-9) - 1));
  return E24_TENTHS.includes(digits);
}

describe('preferred values', () => {
  it('lists E24 in exact decimals, 24 a decade', () => {
    expect(e24Between(1000, 9999)).toEqual(E24_TENTHS.map((tenths) => tenths * 100));
    expect(e24Between(47, 68)).toEqual([47, 51, 56, 62, 68]);
  });

  it('finds the next E6 capacitor up, and a value that is one already', () => {
    expect(e6AtLeast(72e-6)).toBeCloseTo(100e-6, 12);
    expect(e6AtLeast(2.2e-6)).toBeCloseTo(2.2e-6, 14);
  });

  it('derates resistors by two: 0.125 W fits a quarter watt, 0.13 W does not', () => {
    expect(resistorRatingWatts(0.125)).toBe(0.25);
    expect(resistorRatingWatts(0.13)).toBe(0.5);
    expect(resistorRatingWatts(5.1)).toBeNull();
  });
});

describe('divider design', () => {
  it('any wish: E24 parts, headroom kept, heat at half of the rating at most', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 4.1, max: 110, noNaN: true }),
        fc.double({ min: 0.5, max: 2, noNaN: true }),
        fc.constantFrom(1 as const, 2 as const),
        fc.constantFrom(1 as const, 5 as const),
        (highestVolts, fullScaleVolts, legs, tolerancePercent) => {
          const wish = { ...WISH, highestVolts, fullScaleVolts, legs, tolerancePercent };
          const design = designDivider(wish);
          const { seriesOhms, shuntOhms } = design.divider;
          expect(isE24(seriesOhms) && isE24(shuntOhms)).toBe(true);
          expect(design.headroomDb).toBeGreaterThanOrEqual(USUAL_HEADROOM_DB - 1e-9);
          // E24 steps are 10 %, so some pair comes within half a step: 0.41 dB, and the search weighs 0.3 more.
          expect(design.headroomDb).toBeLessThan(USUAL_HEADROOM_DB + 0.8);
          expect(design.seriesWatts).toBeLessThanOrEqual(design.seriesRatedWatts / 2);
          expect(design.shuntWatts).toBeLessThanOrEqual(design.shuntRatedWatts / 2);
          // Energy, an independent way: V^2 over what the source sees, less what the input itself takes.
          const inputVolts = highestVolts * design.ratio;
          const loaded = 1 / (1 / shuntOhms + 1 / wish.inputOhms);
          const total = highestVolts ** 2 / (legs * seriesOhms + loaded);
          expect(legs * design.seriesWatts + inputVolts ** 2 / loaded).toBeCloseTo(total, 9);
        },
      ),
      { numRuns: 60 },
    );
  });

  it('keeps an input impedance known to 30 % from costing more than 0.1 dB', () => {
    // With 1 % parts alone it would be 0.07 dB; the search trades a little headroom for a low shunt.
    for (const highestVolts of [10, 17.3205, 24.5]) {
      expect(designDivider({ ...WISH, highestVolts }).uncertaintyDb).toBeLessThan(0.1);
    }
  });

  it('says what a full-scale sine is at the measured point: full scale over ratio', () => {
    const design = designDivider(WISH);
    expect(design.voltsPerFs * design.ratio).toBeCloseTo(2, 12);
    expect(design.inputPeakVolts).toBeLessThanOrEqual(Math.SQRT2);
  });

  it('the symmetrical one splits the series resistance over both wires', () => {
    const one = { legs: 1, seriesOhms: 20_000, shuntOhms: 1000, inputOhms: 10_000 } as const;
    const exact = { resistors: 0, input: 0 };
    const both = dividerFigures({ ...one, legs: 2, seriesOhms: 10_000 }, exact);
    expect(both.ratio).toBeCloseTo(dividerFigures(one, exact).ratio, 15);
    expect(designDivider({ ...WISH, legs: 2 }).cautions.join(' ')).toMatch(/both wires/);
  });

  it('warns first of speaker level into an input, and of bridged outputs', () => {
    const [first, second] = designDivider(WISH).cautions;
    expect(first).toMatch(/Never feed speaker level/);
    expect(second).toMatch(/neither side is ground/);
  });

  it.each<[string, Partial<DividerWish>, RegExp]>([
    ['an input that takes the voltage as it is', { highestVolts: 0.9 }, /no divider is needed/],
    ['0 V', { highestVolts: 0 }, /above 0/],
    ['a NaN full scale', { fullScaleVolts: Number.NaN }, /above 0/],
    ['a negative headroom', { headroomDb: -1 }, /0 or above/],
    ['an input of 0 ohm', { inputOhms: 0 }, /above 0/],
    ['more than any pair can bring down', { highestVolts: 1e6 }, /No pair of E24/],
  ])('refuses %s', (_, change, sentence) => {
    expect(() => designDivider({ ...WISH, ...change })).toThrow(sentence);
    expect(() => designDivider({ ...WISH, ...change })).toThrow(PlanRefused);
  });
});

describe("a phone's headset socket", () => {
  const HEADSET: HeadsetWish = { ...WISH, ...USUAL_HEADSET, fullScaleVolts: 0.0158, inputOhms: 10_000 };

  it('feeds bias, recognition resistor and input in parallel: 2.2 k, 2.2 k, 10 k is 991 ohm', () => {
    const design = designHeadsetDivider(HEADSET);
    expect(design.loadOhms).toBeCloseTo(990.99, 2);
    expect(design.divider.inputOhms).toBe(design.loadOhms);
  });

  it('puts 2.5 V through 2.2 k onto 2.2 k: 1.25 V at the contact, taken for a microphone', () => {
    const design = designHeadsetDivider(HEADSET);
    expect(design.contactVolts).toBeCloseTo(1.25, 12);
    expect(headsetRecognition(design.recognitionOhms)).toBe('microphone');
  });

  it('blocks the bias with a corner at 2 Hz or below, under 0.05 dB at 20 Hz', () => {
    const { capacitorFarads, cornerHz, at20HzDb, sourceOhms, loadOhms, capacitorRatedVolts } =
      designHeadsetDivider(HEADSET);
    expect(cornerHz).toBeLessThanOrEqual(2);
    // Voltage across the load of an RC high-pass at 20 Hz, in complex numbers: |R / (R + 1/jwC)|.
    const reactance = 1 / (2 * Math.PI * 20 * capacitorFarads);
    const loop = sourceOhms + loadOhms;
    expect(at20HzDb).toBeCloseTo(20 * Math.log10(loop / Math.hypot(loop, reactance)), 10);
    expect(at20HzDb).toBeGreaterThan(-0.05);
    expect(capacitorRatedVolts).toBeGreaterThanOrEqual(5);
  });

  it('tells a microphone from a pressed button', () => {
    expect([100, 500, 700, 1000, 2200].map(headsetRecognition)).toEqual([
      'button',
      'button',
      'unsure',
      'microphone',
      'microphone',
    ]);
  });

  it.each<[string, Partial<HeadsetWish>, RegExp]>([
    ['a recognition resistor that reads as a button', { recognitionOhms: 470 }, /pressed button/],
    ['a bias that is no headset socket', { biasVolts: 48 }, /2 to 3 V/],
  ])('refuses %s', (_, change, sentence) => {
    expect(() => designHeadsetDivider({ ...HEADSET, ...change })).toThrow(sentence);
  });

  it('keeps the cautions of every divider and adds its own', () => {
    const text = designHeadsetDivider(HEADSET).cautions.join(' ');
    expect(text).toMatch(/Never feed speaker level/);
    expect(text).toMatch(/from its battery/);
  });
});
