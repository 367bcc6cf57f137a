import { describe, expect, it } from 'vitest';
import type { FilterFinding, FittedFilter } from '../../src/dsp/filters/filter-fit.ts';
import { filterResponse } from '../../src/dsp/filters/filter-response.ts';
import type { CrossoverChannel, WantedSlope } from '../../src/procedure/crossover/crossover.ts';
import { judgedSides, sideInside } from '../../src/procedure/crossover/judge.ts';
import { filter } from './swept-chain.ts';

const FITTED = { lowHz: 16, highHz: 15_000 };

function channel(highPass: WantedSlope | null, lowPass: WantedSlope | null = null): CrossoverChannel {
  return {
    ...{ id: 'one', name: 'One', fedBy: 'left' },
    band: { highPassHz: 80, lowPassHz: lowPass === null ? null : 2000 },
    slopes: { highPass, lowPass },
  };
}

function finding(...found: Partial<FittedFilter>[]): FilterFinding {
  const filters = found.map((one) => ({
    ...{ kind: 'high-pass' as const, alignment: null, order: null, cutoffHz: 80, cutoffUncertaintyHz: 0.1 },
    ...{ slopeDbPerOctave: null, residualDb: 0.01 },
    ...one,
  }));
  return { filters, residualDb: 0.01, verdict: 'filters' };
}

/** Where a filter has fallen 3.0103 dB, by bisection of its own closed form. */
function halfPowerHz(kind: 'high-pass' | 'low-pass', order: number, cutoffHz: number): number {
  let [low, high] = [cutoffHz / 4, cutoffHz * 4];
  for (let step = 0; step < 60; step += 1) {
    const middle = Math.sqrt(low * high);
    const { re, im } = filterResponse(filter(kind, 'linkwitz-riley', order, cutoffHz), middle);
    const isPassed = re * re + im * im > 0.5;
    if (isPassed === (kind === 'low-pass')) low = middle;
    else high = middle;
  }
  return low;
}

describe('a corner', () => {
  it('whose alignment is open is compared as the -3 dB point that it then is', () => {
    const wanted = channel(
      { alignment: 'linkwitz-riley', order: 4 },
      { alignment: 'linkwitz-riley', order: 2 },
    );
    const found = finding(
      { cutoffHz: halfPowerHz('high-pass', 4, 80) },
      { kind: 'low-pass', cutoffHz: halfPowerHz('low-pass', 2, 2000) },
    );
    const { highPass, lowPass } = judgedSides(wanted, found, FITTED, 10);
    expect(highPass.errorPercent).toBeCloseTo(0, 9);
    expect(lowPass.errorPercent).toBeCloseTo(0, 9);
    expect([highPass.problems, highPass.open, sideInside(highPass)]).toEqual([[], 'slope', true]);
  });

  it('off by just more than the tolerance is off, by just less is not', () => {
    const at = (cutoffHz: number) =>
      judgedSides(
        channel({ alignment: 'butterworth', order: 2 }),
        finding({ alignment: 'butterworth', order: 2, cutoffHz }),
        FITTED,
        10,
      ).highPass.problems;
    expect(at(88.1)).toEqual(['corner-off']);
    expect(at(87.9)).toEqual([]);
    expect(at(71.9)).toEqual(['corner-off']);
    expect(at(72.1)).toEqual([]);
  });
});
