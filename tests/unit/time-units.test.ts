import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import {
  centimetresToMilliseconds,
  inchesToMilliseconds,
  millisecondsToCentimetres,
  millisecondsToInches,
} from '../../src/dsp/time/delay-units.ts';
import { speedOfSound } from '../../src/dsp/time/speed-of-sound.ts';

const table = JSON.parse(
  readFileSync(new URL('../../shared/reference-tables/speed-of-sound.json', import.meta.url), 'utf8'),
) as {
  rows: {
    celsius: number;
    metresPerSecond: number;
    iso9613: number;
    microsecondsPerCm: number;
    microsecondsPerInch: number;
  }[];
};

describe('speed of sound and delay units, against the table of references item 10', () => {
  test.each(table.rows)('$celsius °C', (row) => {
    // The table is printed to 0.001 m/s.
    expect(Math.abs(speedOfSound(row.celsius) - row.metresPerSecond)).toBeLessThan(0.0006);
    // References: the sources agree within 0.035 m/s.
    expect(Math.abs(speedOfSound(row.celsius) - row.iso9613)).toBeLessThan(0.035);
    // Printed to 0.0001 µs: half a step.
    expect(Math.abs(centimetresToMilliseconds(1, row.celsius) * 1000 - row.microsecondsPerCm)).toBeLessThan(
      6e-5,
    );
    expect(Math.abs(inchesToMilliseconds(1, row.celsius) * 1000 - row.microsecondsPerInch)).toBeLessThan(
      6e-5,
    );
  });

  test('conversions come in pairs', () => {
    for (const ms of [-3.7, 0, 0.02, 12.5]) {
      expect(centimetresToMilliseconds(millisecondsToCentimetres(ms, 31), 31)).toBeCloseTo(ms, 12);
      expect(inchesToMilliseconds(millisecondsToInches(ms, 31), 31)).toBeCloseTo(ms, 12);
    }
    expect(millisecondsToCentimetres(1, 20)).toBeCloseTo(2.54 * millisecondsToInches(1, 20), 12);
  });

  test.each([-51, 91, Number.NaN])('%d °C is refused', (celsius) => {
    expect(() => speedOfSound(celsius)).toThrow(RangeError);
  });
});
