/** The net load of a channel told in words, as one would wire it. */
import type { DriverGroup, DriverWiring } from '../plan/chain.ts';
import { ohms } from './format/quantity.ts';

export const DRIVER_WIRING_WORDS: Record<DriverWiring, string> = {
  single: 'one driver alone',
  series: 'all in series',
  parallel: 'all in parallel',
  'series-parallel': 'two rows in parallel, each in series',
  'one-in-series-with-parallel-pair': 'one in series with a parallel pair',
  'one-in-parallel-with-series-pair': 'one in parallel with a series pair',
};

/** Wirings that make sense for this many drivers. */
export function wiringsFor(count: number): DriverWiring[] {
  if (count === 1) return ['single'];
  if (count === 3) {
    return ['series', 'parallel', 'one-in-series-with-parallel-pair', 'one-in-parallel-with-series-pair'];
  }
  return count === 4 ? ['series', 'parallel', 'series-parallel'] : ['series', 'parallel'];
}

function coilWords(group: DriverGroup): string {
  if (group.coilsEach === 1) return `a ${ohms(group.coilOhms)} coil`;
  return `two ${ohms(group.coilOhms)} coils in ${group.coilWiring === 'series' ? 'series' : 'parallel'}`;
}

/** "1 driver with two 4 Ω coils in parallel: 2 Ω" */
export function loadWords(group: DriverGroup, netOhms: number): string {
  const drivers = group.count === 1 ? '1 driver' : `${group.count} drivers`;
  const each = group.count === 1 ? 'with' : 'each with';
  const wired = group.count === 1 ? '' : `, ${DRIVER_WIRING_WORDS[group.driverWiring]}`;
  return `${drivers} ${each} ${coilWords(group)}${wired}: ${ohms(netOhms)}`;
}
