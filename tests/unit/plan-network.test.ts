import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { DriverGroup } from '../../src/plan/chain.ts';
import { driverGroupLoadOhms, driverGroupWatts } from '../../src/plan/load/driver-group.ts';
import { coilPowerShares, type Network, netLoadOhms } from '../../src/plan/load/network.ts';
import { PlanRefused } from '../../src/plan/refused.ts';

const coil = fc.double({ min: 0.1, max: 100, noNaN: true }).map((ohms): Network => ({ kind: 'coil', ohms }));
const { network } = fc.letrec<{ network: Network }>((tie) => ({
  network: fc.oneof(
    { depthSize: 'small' },
    coil,
    fc.record({
      kind: fc.constantFrom('series' as const, 'parallel' as const),
      parts: fc.array(tie('network'), { minLength: 1, maxLength: 4 }),
    }),
  ),
}));

describe('any network', () => {
  it('in series is at least its largest part, in parallel at most its smallest', () => {
    fc.assert(
      fc.property(fc.array(network, { minLength: 1, maxLength: 5 }), (parts) => {
        const loads = parts.map(netLoadOhms);
        expect(netLoadOhms({ kind: 'series', parts })).toBeGreaterThanOrEqual(Math.max(...loads));
        // 1/(1/R) may round up by one unit in the last place.
        expect(netLoadOhms({ kind: 'parallel', parts })).toBeLessThanOrEqual(
          Math.min(...loads) * (1 + 1e-15),
        );
      }),
    );
  });

  it('shares out all of its power and no more', () => {
    fc.assert(
      fc.property(network, (any) => {
        const shares = coilPowerShares(any);
        expect(Math.min(...shares)).toBeGreaterThan(0);
        expect(shares.reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 10);
      }),
    );
  });

  it('loads as the heat in its coils says: sum of I^2 R, currents followed coil by coil', () => {
    fc.assert(
      fc.property(network, (any) => {
        // Slow oracle: drive 1 A and add up the heat; P = I^2 R gives the load, and the shares.
        const heat = coilWatts(any, 1);
        const total = heat.reduce((sum, watts) => sum + watts, 0);
        expect(Math.abs(total / netLoadOhms(any) - 1)).toBeLessThan(1e-12);
        coilPowerShares(any).forEach((share, index) => {
          expect(Math.abs((heat[index]! / total - share) / share)).toBeLessThan(1e-10);
        });
      }),
    );
  });

  it.each([0, -4, Number.NaN, Number.POSITIVE_INFINITY])('refuses a coil of %f ohm', (ohms) => {
    expect(() => netLoadOhms({ kind: 'coil', ohms })).toThrow(PlanRefused);
  });

  it('refuses a joint of nothing', () => {
    expect(() => netLoadOhms({ kind: 'parallel', parts: [] })).toThrow(/no parts/);
  });
});

/** Heat in every coil with `amperes` through the whole. */
function coilWatts(any: Network, amperes: number): number[] {
  if (any.kind === 'coil') return [amperes ** 2 * any.ohms];
  if (any.kind === 'series') return any.parts.flatMap((part) => coilWatts(part, amperes));
  const siemens = any.parts.map((part) => 1 / resistance(part));
  const all = siemens.reduce((sum, part) => sum + part, 0);
  return any.parts.flatMap((part, index) => coilWatts(part, (amperes * siemens[index]!) / all));
}

function resistance(any: Network): number {
  return coilWatts(any, 1).reduce((sum, watts) => sum + watts, 0);
}

const DRIVER: DriverGroup = {
  count: 1,
  coilsEach: 1,
  coilOhms: 4,
  coilWiring: 'single',
  driverWiring: 'single',
  continuousWattsEach: 100,
};

describe('a group of drivers', () => {
  it.each<[Partial<DriverGroup>, RegExp]>([
    [{ driverWiring: 'parallel' }, /"parallel" with a count of 1.*at least 2/],
    [{ count: 2 }, /"single" with a count of 2.*exactly 1/],
    [{ count: 3, driverWiring: 'series-parallel' }, /exactly 4 drivers/],
    [{ count: 2, driverWiring: 'one-in-series-with-parallel-pair' }, /exactly 3 drivers/],
    [{ count: 4, driverWiring: 'one-in-parallel-with-series-pair' }, /exactly 3 drivers/],
    [{ count: 0 }, /whole number from 1/],
    [{ count: 1.5 }, /whole number from 1/],
    [{ coilWiring: 'series' }, /two coils/],
    [{ coilsEach: 2 }, /"series" or "parallel"/],
    [{ coilOhms: 0 }, /above 0/],
  ])('refuses %o in one sentence', (change, sentence) => {
    expect(() => driverGroupLoadOhms({ ...DRIVER, ...change })).toThrow(sentence);
    expect(() => driverGroupLoadOhms({ ...DRIVER, ...change })).toThrow(PlanRefused);
  });

  it('takes the sum of the ratings where all share alike', () => {
    expect(driverGroupWatts({ ...DRIVER, count: 4, driverWiring: 'series-parallel' })).toBeCloseTo(400, 10);
  });

  it('takes half of the sum where one of three carries 2/3: 100 W / (2/3) = 150 W', () => {
    for (const driverWiring of [
      'one-in-series-with-parallel-pair',
      'one-in-parallel-with-series-pair',
    ] as const) {
      expect(driverGroupWatts({ ...DRIVER, count: 3, driverWiring })).toBeCloseTo(150, 10);
    }
  });

  it('meets a rating printed as 1.33 ohm with three 4 ohm drivers in parallel', () => {
    expect(driverGroupLoadOhms({ ...DRIVER, count: 3, driverWiring: 'parallel' })).toBeCloseTo(4 / 3, 14);
  });
});
