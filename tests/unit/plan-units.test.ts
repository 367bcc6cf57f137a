import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { statedOhms } from '../../src/plan/load/stated-ohms.ts';
import { dbuToVolts, dbvToVolts, voltsToDbu, voltsToDbv } from '../../src/plan/units/decibel-volts.ts';
import { dbfsToVolts, voltsToDbfs } from '../../src/plan/units/full-scale.ts';
import { sinePeakToRms, sineRmsToPeak } from '../../src/plan/units/peak.ts';
import { voltsToWatts, wattsToVolts } from '../../src/plan/units/power.ts';
import { dbToRatio, dbToRelative, ratioToDb, relativeToDb } from '../../src/plan/units/ratio.ts';

const volts = fc.double({ min: 1e-6, max: 1e4, noNaN: true });
const ohms = fc.double({ min: 0.1, max: 100, noNaN: true });

describe('conversions in pairs', () => {
  it.each([
    ['dBV', voltsToDbv, dbvToVolts],
    ['dBu', voltsToDbu, dbuToVolts],
    ['peak', sineRmsToPeak, sinePeakToRms],
    ['ratio', ratioToDb, dbToRatio],
    ['relative', relativeToDb, dbToRelative],
  ] as const)('%s undoes itself', (_, there, back) => {
    fc.assert(
      fc.property(volts, (value) => {
        // Doubles hold 2e-16; 1e4 V in dB and back loses a few of them.
        expect(Math.abs(back(there(value)) / value - 1)).toBeLessThan(1e-13);
      }),
    );
  });

  it('watts and dBFS undo themselves with their second figure', () => {
    fc.assert(
      fc.property(volts, ohms, (value, second) => {
        expect(Math.abs(wattsToVolts(voltsToWatts(value, second), second) / value - 1)).toBeLessThan(1e-13);
        expect(Math.abs(dbfsToVolts(voltsToDbfs(value, second), second) / value - 1)).toBeLessThan(1e-13);
      }),
    );
  });
});

it('half of full scale in amplitude is -6.0206 dBFS, so 2 V per full scale is 1 V there', () => {
  expect(dbfsToVolts(-6.0206, 2)).toBeCloseTo(1, 5);
});

it('silence is 0 V and -Infinity dB; NaN stays NaN', () => {
  expect(dbfsToVolts(Number.NEGATIVE_INFINITY, 2)).toBe(0);
  expect(voltsToDbv(0)).toBe(Number.NEGATIVE_INFINITY);
  expect(voltsToDbfs(Number.NaN, 2)).toBeNaN();
});

describe('printed loads', () => {
  it.each([
    [1.33, 4 / 3],
    [2.67, 8 / 3],
    [0.67, 2 / 3],
    [1.333, 4 / 3],
    [5.33, 16 / 3],
  ])('%f ohm means a third', (printed, exact) => {
    expect(statedOhms(printed)).toBe(exact);
  });

  it.each([0.5, 1, 1.3, 1.6, 2, 2.7, 3, 3.2, 4, 6, 8])('%f ohm means itself', (printed) => {
    expect(statedOhms(printed)).toBe(printed);
  });
});
