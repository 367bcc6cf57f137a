import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { ChannelRating } from '../../src/plan/chain.ts';
import { amplifierPower } from '../../src/plan/power/amplifier-power.ts';
import { PlanRefused } from '../../src/plan/refused.ts';

const rating = (...ratings: [loadOhms: number, watts: number][]): ChannelRating => ({
  ratings: ratings.map(([loadOhms, watts]) => ({ loadOhms, watts })),
  minimumLoadOhms: 1,
});

describe('an amplifier at a stated load', () => {
  it('gives what is stated', () => {
    expect(amplifierPower(rating([4, 75], [2, 110]), 2)).toEqual({
      basis: 'stated',
      watts: 110,
      boundsWatts: null,
    });
  });

  it('gives what is stated at 1.33 ohm into three 4 ohm drivers', () => {
    expect(amplifierPower(rating([4, 200], [1.33, 500]), 1 / (3 / 4)).watts).toBe(500);
  });
});

it('of two powers stated for one load, takes the smaller, whichever comes first', () => {
  expect(amplifierPower(rating([4, 100], [4, 75]), 4).watts).toBe(75);
  expect(amplifierPower(rating([4, 75], [4, 100]), 4).watts).toBe(75);
});

describe('between two stated loads', () => {
  it('is a source behind a resistance: 30 V behind 1 ohm, worked by hand', () => {
    // 4 ohm: 30 * 4/5 = 24 V, 144 W. 2 ohm: 30 * 2/3 = 20 V, 200 W. 3 ohm: 30 * 3/4 = 22.5 V, 168.75 W.
    const power = amplifierPower(rating([4, 144], [2, 200]), 3);
    expect(power.basis).toBe('interpolated');
    expect(power.watts).toBeCloseTo(168.75, 9);
    // Volts not below those at 2 ohm (20 V), nor above those at 4 ohm (24 V): 133.33 to 192 W.
    expect(power.boundsWatts?.low).toBeCloseTo(400 / 3, 9);
    expect(power.boundsWatts?.high).toBeCloseTo(192, 9);
  });

  it('holds the voltage of a stiff amplifier: 20 V at 4 and 2 ohm is 133.33 W at 3 ohm', () => {
    expect(amplifierPower(rating([4, 100], [2, 200]), 3).watts).toBeCloseTo(400 / 3, 9);
  });

  it('stays within 3 % of an amplifier whose supply holds the power: 500 W at 1 and at 2 ohm', () => {
    // By hand: 1/V = 0.0447214 at 1 S, 0.0316228 at 0.5 S; at 0.75 S 0.0381721: 26.197 V, 514.7 W into 4/3 ohm.
    expect(amplifierPower(rating([1, 500], [2, 500]), 4 / 3).watts).toBeCloseTo(514.7, 1);
  });

  it('finds any source behind any resistance again, inside its own bounds', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 5, max: 100, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.double({ min: 2, max: 4, noNaN: true }),
        (openVolts, sourceOhms, loadOhms) => {
          const watts = (ohms: number) => ((openVolts * ohms) / (ohms + sourceOhms)) ** 2 / ohms;
          const power = amplifierPower(rating([2, watts(2)], [4, watts(4)]), loadOhms);
          expect(Math.abs(power.watts! / watts(loadOhms) - 1)).toBeLessThan(1e-5);
          if (power.boundsWatts === null) return;
          expect(power.watts).toBeGreaterThanOrEqual(power.boundsWatts.low * (1 - 1e-9));
          expect(power.watts).toBeLessThanOrEqual(power.boundsWatts.high * (1 + 1e-9));
        },
      ),
    );
  });

  it('says nothing where the voltage would fall as the load rises (60 W at 2, 20 W at 4 ohm)', () => {
    expect(amplifierPower(rating([2, 60], [4, 20]), 3)).toMatchObject({ basis: 'none', watts: null });
  });

  it('says nothing where the current would rise with the load (50 W at 2, 300 W at 4 ohm)', () => {
    expect(amplifierPower(rating([2, 50], [4, 300]), 3)).toMatchObject({ basis: 'none', watts: null });
  });

  it('says nothing where the stated loads lie so far apart that more than a factor of two is possible', () => {
    // 300 W at 1 and at 8 ohm: at 2.83 ohm anything from 106 to 848 W.
    expect(amplifierPower(rating([1, 300], [8, 300]), 2.83)).toMatchObject({ basis: 'none', watts: null });
  });
});

describe('outside the stated loads', () => {
  it('above, gives the voltage of the highest stated load as a lower bound: 20 V into 8 ohm is 50 W', () => {
    expect(amplifierPower(rating([4, 100], [2, 150]), 8)).toEqual({
      basis: 'at-least',
      watts: 50,
      boundsWatts: null,
    });
  });

  it('below, says nothing', () => {
    expect(amplifierPower(rating([4, 100]), 2)).toMatchObject({ basis: 'none', watts: null });
  });
});

it.each([
  [rating(), 4, /no power rating/],
  [rating([4, 0]), 4, /above 0/],
  [rating([0, 75]), 4, /above 0/],
  [rating([4, 75]), Number.NaN, /above 0/],
])('refuses %j at %f ohm', (bad, loadOhms, sentence) => {
  expect(() => amplifierPower(bad, loadOhms)).toThrow(sentence);
  expect(() => amplifierPower(bad, loadOhms)).toThrow(PlanRefused);
});
