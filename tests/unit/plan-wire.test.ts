import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { PlanRefused } from '../../src/plan/refused.ts';
import { awgAreaMm2, awgDiameterMm } from '../../src/plan/wire/awg.ts';
import { wireCapacityAmperes } from '../../src/plan/wire/capacity.ts';
import { FUSE_RATINGS_AMPS, largestFuseAmps, smallestFuseAmps } from '../../src/plan/wire/fuse.ts';
import { nextThicker, sizeWords, TRADE_SIZES } from '../../src/plan/wire/trade-size.ts';
import { areaForDrop, runOhms } from '../../src/plan/wire/wire-run.ts';

const figures = fc.record({
  metres: fc.double({ min: 0.1, max: 30, noNaN: true }),
  amperes: fc.double({ min: 0.5, max: 400, noNaN: true }),
  allowedVolts: fc.double({ min: 0.05, max: 2, noNaN: true }),
  material: fc.constantFrom('copper' as const, 'copper-clad-aluminium' as const),
});

describe('sizes that are sold', () => {
  it('the advised one keeps the drop, and the next thinner one does not', () => {
    fc.assert(
      fc.property(figures, fc.constantFrom('awg' as const, 'metric' as const), (way, system) => {
        const size = nextThicker(areaForDrop(way), system);
        const sizes = TRADE_SIZES[system];
        const dropOf = (areaMm2: number) => way.amperes * runOhms({ ...way, areaMm2 });
        if (size === null) {
          expect(dropOf(sizes.at(-1)!.areaMm2)).toBeGreaterThan(way.allowedVolts);
          return;
        }
        // Areas within 1 % are one size, so the drop may be that much over.
        expect(dropOf(size.areaMm2)).toBeLessThan(way.allowedVolts * 1.0102);
        const thinner = sizes[sizes.indexOf(size) - 1];
        if (thinner) expect(dropOf(thinner.areaMm2)).toBeGreaterThan(way.allowedVolts);
      }),
    );
  });

  it('go by name, rounded area or not', () => {
    expect(sizeWords(21.2)).toBe('4 AWG (21.2 mm²)');
    expect(sizeWords(awgAreaMm2(-3))).toBe('4/0 AWG (107 mm²)');
    expect(sizeWords(25)).toBe('25 mm²');
    expect(sizeWords(1000)).toBe('1000 mm²');
    expect(nextThicker(21.2, 'awg')?.name).toBe('4 AWG');
    expect(nextThicker(21.2, 'metric')?.name).toBe('25 mm²');
  });
});

describe('what protects a wire', () => {
  it('never carries more than the wire, and the next rating would', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.5, max: 120, noNaN: true }), figures, (areaMm2, { material }) => {
        const capacity = wireCapacityAmperes(areaMm2, material);
        const largest = largestFuseAmps(areaMm2, material);
        expect(largest ?? 0).toBeLessThanOrEqual(capacity);
        const next = FUSE_RATINGS_AMPS.find((amps) => amps > (largest ?? 0));
        if (next !== undefined) expect(next).toBeGreaterThan(capacity);
      }),
    );
  });

  it('4 AWG copper takes 100 A, the same in copper-clad aluminium 80 A: sqrt 0.629 of the current', () => {
    const area = awgAreaMm2(4);
    expect([largestFuseAmps(area, 'copper'), largestFuseAmps(area, 'copper-clad-aluminium')]).toEqual([
      100, 80,
    ]);
    const share = wireCapacityAmperes(area, 'copper-clad-aluminium') / wireCapacityAmperes(area, 'copper');
    expect(share).toBeCloseTo(Math.sqrt(0.629), 12);
  });

  it('has no rating below the smallest wire and above the largest load', () => {
    expect(largestFuseAmps(0.05, 'copper')).toBeNull();
    expect(smallestFuseAmps(501)).toBeNull();
    expect(smallestFuseAmps(34.7)).toBe(40);
  });
});

it('refuses gauges, lengths and areas that cannot be', () => {
  for (const gauge of [-4, 41, 4.5, Number.NaN]) expect(() => awgDiameterMm(gauge)).toThrow(PlanRefused);
  const run = { metres: 5, areaMm2: 21, material: 'copper' } as const;
  expect(() => runOhms({ ...run, metres: 0 })).toThrow(/length.*above 0/);
  expect(() => runOhms({ ...run, areaMm2: Number.NaN })).toThrow(/cross-section.*above 0/);
});
