/**
 * Source: shared/reference-tables/power-voltage.json and decibel-units.json
 * (40-digit decimal square roots and ngspice; closed forms).
 */
import { describe, expect, it } from 'vitest';
import units from '../../shared/reference-tables/decibel-units.json' with { type: 'json' };
import powers from '../../shared/reference-tables/power-voltage.json' with { type: 'json' };
import { statedOhms } from '../../src/plan/load/stated-ohms.ts';
import { resistorHeatWatts } from '../../src/plan/pickup/load-resistors.ts';
import { planTarget } from '../../src/plan/target.ts';
import { DBU_REFERENCE_VOLTS, voltsToDbu, voltsToDbv } from '../../src/plan/units/decibel-volts.ts';
import { sineRmsToPeak } from '../../src/plan/units/peak.ts';

/** The tables are printed to 4 decimals. */
const HALF_DIGIT = 0.5001e-4;

function ohmsOf(text: string): number {
  const [above, below] = text.split('/').map(Number);
  return above! / (below ?? 1);
}

const points = Object.entries(powers.targetVolts).flatMap(([watts, row]) =>
  Object.entries(row).map(([ohms, volts]) => ({ watts: Number(watts), ohms, volts })),
);

describe('target voltage', () => {
  it('agrees with all 112 tabulated powers and loads', () => {
    expect(points).toHaveLength(112);
    for (const { watts, ohms, volts } of points) {
      const { targetVolts } = planTarget({ watts, ohms: ohmsOf(ohms) });
      expect(Math.abs(targetVolts - volts), `${watts} W into ${ohms} ohm`).toBeLessThan(HALF_DIGIT);
    }
  });

  it('heats a load resistor with the tabulated power: V^2 / R gives it back at all 112 points', () => {
    for (const { watts, ohms, volts } of points) {
      const heat = resistorHeatWatts(volts, ohmsOf(ohms));
      // P goes as V^2, so the last printed digit of V weighs twice.
      expect(Math.abs(heat / watts - 1), `${volts} V across ${ohms} ohm`).toBeLessThan(
        (2.01 * HALF_DIGIT) / volts,
      );
    }
  });

  it('reads a printed 1.33 and 2.67 of a data sheet as 4/3 and 8/3', () => {
    for (const { watts, ohms, volts } of points.filter((point) => point.ohms.includes('/'))) {
      const printed = Number(ohmsOf(ohms).toFixed(2));
      const { targetVolts } = planTarget({ watts, ohms: statedOhms(printed) });
      expect(Math.abs(targetVolts - volts), `${watts} W at ${printed} ohm`).toBeLessThan(HALF_DIGIT);
    }
  });
});

describe('dBV and dBu', () => {
  it('agree with the tabulated levels', () => {
    expect(units.levels).toHaveLength(15);
    for (const { volts, dbv, dbu } of units.levels) {
      // The tabulated volts carry 6 decimals: at 0.316228 V that is 1e-5 dB.
      expect(Math.abs(voltsToDbv(volts) - dbv)).toBeLessThan(HALF_DIGIT + 2e-5);
      expect(Math.abs(voltsToDbu(volts) - dbu)).toBeLessThan(HALF_DIGIT + 2e-5);
    }
  });

  it('stand 2.218487 dB apart, dBu being re sqrt(0.6) V', () => {
    expect(DBU_REFERENCE_VOLTS).toBeCloseTo(units.dbuReferenceVolts, 15);
    expect(voltsToDbu(1) - voltsToDbv(1)).toBeCloseTo(units.dbuMinusDbv, 12);
  });
});

it("a sine's peak stands above its RMS by the tabulated crest factor", () => {
  const crestDb = 20 * Math.log10(sineRmsToPeak(1));
  expect(Math.abs(crestDb - units.crest.crestFactorDb.sine)).toBeLessThan(HALF_DIGIT);
});
