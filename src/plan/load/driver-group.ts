import type { DriverGroup, DriverWiring } from '../chain.ts';
import { PlanRefused, positive } from '../refused.ts';
import { coilPowerShares, type Network, netLoadOhms } from './network.ts';
import { statedOhms } from './stated-ohms.ts';

/** Nominal load of the wired group, ohms. @throws PlanRefused for a combination that cannot be wired. */
export function driverGroupLoadOhms(group: DriverGroup): number {
  return netLoadOhms(driverGroupNetwork(group));
}

/**
 * Share of the group's power in each driver; the shares sum to 1. Equal unless
 * the wiring is one of the two three-driver cases, where the single driver
 * takes 2/3 and each of the pair 1/6.
 * @throws PlanRefused for a combination that cannot be wired.
 */
export function driverPowerShares(group: DriverGroup): number[] {
  const perCoil = coilPowerShares(driverGroupNetwork(group));
  return Array.from({ length: group.count }, (_, driver) =>
    perCoil
      .slice(driver * group.coilsEach, (driver + 1) * group.coilsEach)
      .reduce((sum, share) => sum + share, 0),
  );
}

/**
 * Continuous power of the group, watts: the most it takes while the hardest
 * worked driver stays within its own rating. That is the sum of the ratings
 * where all share alike, and half of the sum (1.5 ratings of three) where one
 * driver takes 2/3.
 * @throws PlanRefused for a combination that cannot be wired, or a rating not above 0 W.
 */
export function driverGroupWatts(group: DriverGroup): number {
  const wattsEach = positive(group.continuousWattsEach, 'The continuous power of a driver, in watts,');
  return wattsEach / Math.max(...driverPowerShares(group));
}

/** The group as a network of its coils, driver after driver. @throws PlanRefused as above. */
export function driverGroupNetwork(group: DriverGroup): Network {
  refuseImpossibleWiring(group);
  const driver = oneDriver(group);
  const drivers = Array.from({ length: group.count }, () => driver);
  switch (group.driverWiring) {
    case 'single':
      return driver;
    case 'series':
      return { kind: 'series', parts: drivers };
    case 'parallel':
      return { kind: 'parallel', parts: drivers };
    case 'series-parallel': {
      const string: Network = { kind: 'series', parts: [driver, driver] };
      return { kind: 'parallel', parts: [string, string] };
    }
    case 'one-in-series-with-parallel-pair':
      return { kind: 'series', parts: [driver, { kind: 'parallel', parts: [driver, driver] }] };
    case 'one-in-parallel-with-series-pair':
      return { kind: 'parallel', parts: [driver, { kind: 'series', parts: [driver, driver] }] };
  }
}

function oneDriver(group: DriverGroup): Network {
  const coil: Network = { kind: 'coil', ohms: statedOhms(group.coilOhms) };
  if (group.coilWiring === 'single') return coil;
  return { kind: group.coilWiring, parts: [coil, coil] };
}

const COUNT_NEEDED: Record<DriverWiring, (count: number) => boolean> = {
  single: (count) => count === 1,
  series: (count) => count >= 2,
  parallel: (count) => count >= 2,
  'series-parallel': (count) => count === 4,
  'one-in-series-with-parallel-pair': (count) => count === 3,
  'one-in-parallel-with-series-pair': (count) => count === 3,
};

const COUNT_SENTENCE: Record<DriverWiring, string> = {
  single: 'exactly 1 driver; join more in series or in parallel',
  series: 'at least 2 drivers; with 1 the wiring is "single"',
  parallel: 'at least 2 drivers; with 1 the wiring is "single"',
  'series-parallel': 'exactly 4 drivers, two strings of two',
  'one-in-series-with-parallel-pair': 'exactly 3 drivers',
  'one-in-parallel-with-series-pair': 'exactly 3 drivers',
};

function refuseImpossibleWiring(group: DriverGroup): void {
  if (!Number.isInteger(group.count) || group.count < 1) {
    throw new PlanRefused(
      `The number of drivers is ${group.count}; it must be a whole number from 1 upwards.`,
    );
  }
  if (!COUNT_NEEDED[group.driverWiring](group.count)) {
    throw new PlanRefused(
      `Driver wiring "${group.driverWiring}" with a count of ${group.count} cannot be made: it needs ${COUNT_SENTENCE[group.driverWiring]}.`,
    );
  }
  if (group.coilsEach === 1 && group.coilWiring !== 'single') {
    throw new PlanRefused(
      `Coil wiring "${group.coilWiring}" needs two coils in each driver; with one coil it is "single".`,
    );
  }
  if (group.coilsEach === 2 && group.coilWiring === 'single') {
    throw new PlanRefused(
      'A driver with two coils is wired "series" or "parallel"; with one coil left open it does not take its rated power.',
    );
  }
}
