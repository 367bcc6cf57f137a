import { describe, expect, test } from 'vitest';
import { TruePeakMeter } from '../../src/dsp/level/true-peak.ts';

const RATE_HZ = 48_000;

function truePeakDb(samples: Float64Array): number {
  const meter = new TruePeakMeter();
  meter.push(samples, 0, samples.length);
  return 20 * Math.log10(meter.peak);
}

/** Fades of 10 ms at both ends, as EBU Tech 3341 asks for. */
function faded(samples: Float64Array): Float64Array {
  const fade = RATE_HZ / 100;
  return samples.map((x, n) => x * Math.min(1, n / fade, (samples.length - 1 - n) / fade));
}

describe('EBU Tech 3341 (v4, 2023), table 1: +0.2/-0.4 dB', () => {
  const SECONDS = 1;
  test.each([
    { number: 15, divisor: 4, amplitude: 0.5, phaseDeg: 0, expected: -6, filter: -6.217063 },
    { number: 16, divisor: 4, amplitude: 0.5, phaseDeg: 45, expected: -6, filter: -5.975909 },
    { number: 17, divisor: 6, amplitude: 0.5, phaseDeg: 60, expected: -6, filter: -6.313275 },
    { number: 18, divisor: 8, amplitude: 0.5, phaseDeg: 67.5, expected: -6, filter: -6.026489 },
    { number: 19, divisor: 4, amplitude: 1.41, phaseDeg: 45, expected: 3, filter: 3.029073 },
  ])('case $number', ({ divisor, amplitude, phaseDeg, expected, filter }) => {
    const samples = Float64Array.from(
      { length: SECONDS * RATE_HZ },
      (_, n) => amplitude * Math.sin((2 * Math.PI * n) / divisor + (phaseDeg * Math.PI) / 180),
    );
    const reading = truePeakDb(faded(samples));
    expect(reading - expected).toBeLessThanOrEqual(0.2);
    expect(reading - expected).toBeGreaterThanOrEqual(-0.4);
    // These very samples convolved with the table of BS.1770-5 by numpy 1.24 (`convolve`, mode 'valid').
    expect(reading).toBeCloseTo(filter, 6);
  });
});

describe('steady tones at any phase: extremes of the 48-tap filter (references, item 7, brute force)', () => {
  test.each([
    { divisor: 3, least: -0.294, most: 0.021 },
    { divisor: 4, least: -0.197, most: 0.22 },
    { divisor: 6, least: -0.295, most: 0.022 },
    { divisor: 10, least: -0.047, most: 0.19 },
    { divisor: 12, least: 0.053, most: 0.218 },
    { divisor: 48, least: 0.002, most: 0.009 },
  ])('fs/$divisor', ({ divisor, least, most }) => {
    let lowest = Number.POSITIVE_INFINITY;
    let highest = Number.NEGATIVE_INFINITY;
    for (let step = 0; step < 720; step += 1) {
      const phase = (step * Math.PI) / 360 / (divisor / 2);
      const samples = Float64Array.from({ length: 200 }, (_, n) =>
        Math.sin((2 * Math.PI * n) / divisor + phase),
      );
      const reading = truePeakDb(samples);
      lowest = Math.min(lowest, reading);
      highest = Math.max(highest, reading);
    }
    // Printed to 0.001 dB, over a grid of phases of its own.
    expect(Math.abs(lowest - least)).toBeLessThan(0.0015);
    expect(Math.abs(highest - most)).toBeLessThan(0.0015);
  });
});
