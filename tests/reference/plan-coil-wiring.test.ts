/** Source: shared/reference-tables/coil-wiring.json (exact fractions, and all 90 networks driven in ngspice). */
import { describe, expect, it } from 'vitest';
import wiring from '../../shared/reference-tables/coil-wiring.json' with { type: 'json' };
import type { CoilWiring, DriverGroup, DriverWiring } from '../../src/plan/chain.ts';
import { driverGroupLoadOhms, driverPowerShares } from '../../src/plan/load/driver-group.ts';

const DRIVERS: Record<string, DriverWiring> = {
  'drivers series': 'series',
  'drivers parallel': 'parallel',
  'drivers series-parallel (2x2)': 'series-parallel',
  'drivers one in series with a parallel pair': 'one-in-series-with-parallel-pair',
  'drivers one in parallel with a series pair': 'one-in-parallel-with-series-pair',
};
const COILS: Record<string, CoilWiring> = { 'coils series': 'series', 'coils parallel': 'parallel' };

function fraction(text: string): number {
  const [above, below] = text.split('/').map(Number);
  return above! / (below ?? 1);
}

function group(drivers: string, arrangement: string): DriverGroup {
  const [, count, kind, ohms] = /^(\d)x (SVC|DVC) (\d) ohm$/.exec(drivers)!;
  const parts = arrangement.split('; ');
  return {
    count: Number(count),
    coilsEach: kind === 'DVC' ? 2 : 1,
    coilOhms: Number(ohms),
    coilWiring: COILS[parts[0]!] ?? 'single',
    driverWiring: DRIVERS[parts.at(-1)!] ?? 'single',
    continuousWattsEach: 100,
  };
}

const networks = Object.entries(wiring.netOhms).flatMap(([drivers, arrangements]) =>
  Object.entries(arrangements).map(([arrangement, netOhms]) => ({ drivers, arrangement, netOhms })),
);

describe('coil wiring', () => {
  it('gives the exact net load of all 90 networks', () => {
    expect(networks).toHaveLength(90);
    for (const { drivers, arrangement, netOhms } of networks) {
      const ohms = driverGroupLoadOhms(group(drivers, arrangement));
      // Exact fractions: only rounding of doubles may stand between.
      expect(Math.abs(ohms / fraction(netOhms) - 1), `${drivers}, ${arrangement}`).toBeLessThan(1e-14);
    }
  });

  it.each([
    'drivers one in series with a parallel pair',
    'drivers one in parallel with a series pair',
  ] as const)('shares power as 2/3, 1/6, 1/6: %s', (arrangement) => {
    for (const drivers of ['3x SVC 4 ohm', '3x DVC 2 ohm']) {
      const name = drivers.includes('DVC') ? `coils series; ${arrangement}` : arrangement;
      const shares = driverPowerShares(group(drivers, name));
      wiring.powerShares[arrangement].forEach((share, driver) => {
        expect(shares[driver]).toBeCloseTo(fraction(share), 14);
      });
    }
  });

  it('shares power evenly in every other network', () => {
    for (const { drivers, arrangement } of networks.filter(
      ({ arrangement }) => !arrangement.includes('one in'),
    )) {
      const of = group(drivers, arrangement);
      for (const share of driverPowerShares(of)) expect(share).toBeCloseTo(1 / of.count, 14);
    }
  });
});
