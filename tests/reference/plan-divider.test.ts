/** Source: shared/reference-tables/divider-loading.json and gum-example.json (closed forms; Monte Carlo). */
import { describe, expect, it } from 'vitest';
import table from '../../shared/reference-tables/divider-loading.json' with { type: 'json' };
import gum from '../../shared/reference-tables/gum-example.json' with { type: 'json' };
import { combined, rectangular } from '../../src/plan/calibration/gum.ts';
import { dividerFigures, dividerPower } from '../../src/plan/divider/divider.ts';
import { resistorRatingWatts } from '../../src/plan/divider/preferred-values.ts';
import { wattsToVolts } from '../../src/plan/units/power.ts';
import { ratioToDb } from '../../src/plan/units/ratio.ts';

const EXACT_PARTS = { resistors: 0, input: 0 };

describe('divider', () => {
  it('agrees with every tabulated ratio and loading error', () => {
    expect(table.dividers).toHaveLength(7);
    for (const row of table.dividers) {
      const inputOhms = row.inputOhms ?? Number.POSITIVE_INFINITY;
      const figures = dividerFigures({ legs: 1, ...row, inputOhms }, EXACT_PARTS);
      // Half of the last printed digit of each column.
      expect(Math.abs(1 / figures.ratio - row.division)).toBeLessThan(5.1e-5);
      expect(Math.abs(figures.ratioDb - row.ratioDb)).toBeLessThan(5.1e-4);
      expect(Math.abs(figures.loadingErrorDb - row.loadingErrorDb)).toBeLessThan(5.1e-4);
    }
  });

  it('agrees with the tabulated heat, the input pulled', () => {
    for (const { seriesOhms, shuntOhms, totalWatts } of table.dividers) {
      const pulled = { legs: 1, seriesOhms, shuntOhms, inputOhms: Number.POSITIVE_INFINITY } as const;
      const { seriesWatts, shuntWatts } = dividerPower(pulled, table.volts);
      expect(Math.abs(seriesWatts + shuntWatts - totalWatts)).toBeLessThan(5.1e-5);
    }
  });

  it('finds a quarter-watt 10 kohm over-dissipated at 1500 W into 4 ohm', () => {
    const { overDissipated } = table.worked;
    const pulled = { legs: 1, ...overDissipated, inputOhms: Number.POSITIVE_INFINITY } as const;
    const { seriesWatts } = dividerPower(pulled, wattsToVolts(1500, 4));
    expect(Math.abs(seriesWatts - overDissipated.seriesWatts)).toBeLessThan(5.1e-4);
    expect(resistorRatingWatts(seriesWatts)).toBe(1);
  });

  it('agrees with the worked ratios down to 2 V', () => {
    for (const { watts, loadOhms, ratio, ratioDb } of table.worked.toTwoVolts) {
      const wanted = 2 / wattsToVolts(watts, loadOhms);
      expect(Math.abs(wanted - ratio)).toBeLessThan(5.1e-6);
      expect(Math.abs(ratioToDb(wanted) - ratioDb)).toBeLessThan(5.1e-3);
    }
  });
});

describe('uncertainty', () => {
  it('agrees with the worked power of V within 1 % and R within 0.5 %', () => {
    // P = V^2 / R: sensitivity 2 to V, 1 to R, all relative.
    const relative = combined([2 * rectangular(0.01), rectangular(0.005)]);
    expect(Math.abs(100 * relative - gum.relativeStandardUncertaintyPercent)).toBeLessThan(5.1e-5);
    expect(Math.abs(10 * Math.log10(1 + 2 * relative) - gum.expandedDb)).toBeLessThan(5.1e-4);
  });

  it.each([
    { resistors: 0.01, input: 0.1, legs: 1 as const },
    { resistors: 0.05, input: 0.1, legs: 2 as const },
  ])('of a ratio agrees with drawing the parts 200 000 times: $legs leg(s), $resistors', (tolerances) => {
    const parts = { seriesOhms: 22_000, shuntOhms: 2200, inputOhms: 10_000, legs: tolerances.legs };
    const drawn = drawnSpreadDb(parts, tolerances, 200_000);
    const { uncertaintyDb } = dividerFigures(parts, tolerances);
    // The draw's own spread is 1/sqrt(2 N) = 0.16 %; first-order propagation of 10 % leaves under 1 %.
    expect(Math.abs(drawn / uncertaintyDb - 1)).toBeLessThan(0.015);
  });
});

/** Standard deviation of the ratio in dB with every resistor drawn evenly from its tolerance. Seeded. */
function drawnSpreadDb(
  parts: { seriesOhms: number; shuntOhms: number; inputOhms: number; legs: 1 | 2 },
  tolerances: { resistors: number; input: number },
  draws: number,
): number {
  let seed = 12345;
  const within = (tolerance: number) => {
    seed = (Math.imul(seed, 1664525) + 1013904223) >>> 0;
    return 1 + tolerance * (seed / 2 ** 31 - 1);
  };
  let mean = 0;
  let squares = 0;
  for (let draw = 1; draw <= draws; draw++) {
    let series = 0;
    for (let leg = 0; leg < parts.legs; leg++) series += parts.seriesOhms * within(tolerances.resistors);
    const shunt = parts.shuntOhms * within(tolerances.resistors);
    const input = parts.inputOhms * within(tolerances.input);
    const loaded = (shunt * input) / (shunt + input);
    const ratioDb = 20 * Math.log10(loaded / (series + loaded));
    const step = ratioDb - mean;
    mean += step / draw;
    squares += step * (ratioDb - mean);
  }
  return Math.sqrt(squares / (draws - 1));
}
