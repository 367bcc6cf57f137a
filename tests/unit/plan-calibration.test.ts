import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { USUAL_INPUTS, usualFullScale, usualInput } from '../../src/plan/calibration/usual-full-scale.ts';
import {
  calibrateByDivider,
  calibrateByMeter,
  type MeterComparison,
} from '../../src/plan/calibration/volts-per-full-scale.ts';
import { PlanRefused } from '../../src/plan/refused.ts';
import { dbfsToVolts } from '../../src/plan/units/full-scale.ts';

const COMPARISON: MeterComparison = {
  meterVolts: 10,
  meter: { percentOfReading: 1, digits: 3, voltsPerDigit: 0.01 },
  levelDbfs: -20,
  levelUncertaintyDb: 0,
};

describe('calibration by multimeter', () => {
  it('10 V read at -20 dBFS is 100 V per full scale', () => {
    expect(calibrateByMeter(COMPARISON).voltsPerFs).toBeCloseTo(100, 12);
  });

  it('(1 % + 3 digits) of 10.00 V: limit 0.13 V, u = 0.13/sqrt 3 = 0.07506 V = 0.7506 %, 0.0652 dB', () => {
    expect(calibrateByMeter(COMPARISON).uncertaintyDb).toBeCloseTo(0.0652, 4);
  });

  it("adds the level's uncertainty as root of squares: hypot(0.0652, 0.05) = 0.0822 dB", () => {
    const { uncertaintyDb } = calibrateByMeter({ ...COMPARISON, levelUncertaintyDb: 0.05 });
    expect(uncertaintyDb).toBeCloseTo(0.0822, 4);
  });

  it('reads its own tone back as the meter read it, whatever the level', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.5, max: 80, noNaN: true }),
        fc.double({ min: -60, max: 0, noNaN: true }),
        (meterVolts, levelDbfs) => {
          const { voltsPerFs } = calibrateByMeter({ ...COMPARISON, meterVolts, levelDbfs });
          expect(Math.abs(dbfsToVolts(levelDbfs, voltsPerFs) / meterVolts - 1)).toBeLessThan(1e-12);
        },
      ),
    );
  });

  it.each<[string, Partial<MeterComparison>, RegExp]>([
    ['0 V', { meterVolts: 0 }, /above 0/],
    ['a negative voltage', { meterVolts: -3 }, /above 0/],
    ['silence', { levelDbfs: Number.NEGATIVE_INFINITY }, /below 0 dBFS/],
    ['NaN', { levelDbfs: Number.NaN }, /below 0 dBFS/],
    ['an overloaded input', { levelDbfs: 1.2 }, /below 0 dBFS/],
    ['a reading inside its own limit', { meterVolts: 0.03 }, /own limit of 0\.03 V/],
    ['a negative accuracy', { meter: { percentOfReading: -1, digits: 3, voltsPerDigit: 0.01 } }, /per cent/],
  ])('refuses %s', (_, change, sentence) => {
    expect(() => calibrateByMeter({ ...COMPARISON, ...change })).toThrow(sentence);
    expect(() => calibrateByMeter({ ...COMPARISON, ...change })).toThrow(PlanRefused);
  });
});

describe('calibration by divider', () => {
  it('2 V full scale behind 1:12 is 24 V per full scale; 0.1 and 0.2 dB make 0.2236 dB', () => {
    const calibration = calibrateByDivider(
      { volts: 2, uncertaintyDb: 0.1, measured: true },
      { ratio: 1 / 12, uncertaintyDb: 0.2 },
    );
    expect(calibration.voltsPerFs).toBeCloseTo(24, 12);
    expect(calibration.uncertaintyDb).toBeCloseTo(0.2236, 4);
    expect(calibration.basis).toBe('divider');
  });

  it('a full scale nobody measured stays assumed, with its range as uncertainty', () => {
    // Line input, 1 to 4 V: 2 V, half of 12.04 dB over sqrt 3 = 3.476 dB.
    const calibration = calibrateByDivider(usualFullScale(usualInput('line')), null);
    expect(calibration.voltsPerFs).toBeCloseTo(2, 12);
    expect(calibration.uncertaintyDb).toBeCloseTo(3.476, 3);
    expect(calibration.basis).toBe('assumed');
  });

  it('refuses a divider that amplifies', () => {
    const fullScale = { volts: 2, uncertaintyDb: 0, measured: true };
    expect(() => calibrateByDivider(fullScale, { ratio: 12, uncertaintyDb: 0 })).toThrow(/1 at the most/);
  });
});

it('marks every usual full scale as common practice', () => {
  for (const input of USUAL_INPUTS) {
    expect(input.provenance).toBe('common practice');
    expect(usualFullScale(input).measured).toBe(false);
    expect(input.lowVolts).toBeLessThan(input.highVolts);
  }
});
