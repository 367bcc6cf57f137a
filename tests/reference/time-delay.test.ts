import { writeFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { correlationDelay } from '../../src/dsp/time/cross-correlation.ts';
import { applyExpectedBand, type ExpectedFilter } from '../../src/dsp/time/expected-band.ts';
import { SincInterpolator } from '../../src/dsp/time/sinc-interpolator.ts';
import { seededGauss, seededUniform } from '../unit/seeded-random.ts';
import { lacks, runPython } from './oracle.ts';
import { scratchFolder } from './scratch-folder.ts';

const scratch = scratchFolder();
const RATE_HZ = 48_000;

describe.skipIf(lacks('python'))('expected bands, by scipy.signal.butter and freqs', () => {
  const filters: ExpectedFilter[] = [1, 2, 3, 4, 5, 6, 7, 8].flatMap((order) => [
    { kind: 'high-pass' as const, alignment: 'butterworth' as const, order, cutoffHz: 40 * order },
    { kind: 'low-pass' as const, alignment: 'butterworth' as const, order, cutoffHz: 500 * order },
    ...(order % 2 === 0
      ? [
          { kind: 'high-pass' as const, alignment: 'linkwitz-riley' as const, order, cutoffHz: 90 },
          { kind: 'low-pass' as const, alignment: 'linkwitz-riley' as const, order, cutoffHz: 3100 },
        ]
      : []),
  ]);
  const hertz = [20, 80, 333, 1000, 4321, 15_000];

  test('every order and alignment, and a cascade of them', () => {
    const cascades = [...filters.map((filter) => [filter]), filters.slice(2, 6)];
    const scipy = runPython('time_delay.py', ['filters', JSON.stringify(cascades), ...hertz.map(String)]) as [
      number,
      number,
    ][][];
    expect(scipy).toHaveLength(25);
    cascades.forEach((cascade, which) => {
      hertz.forEach((hz, at) => {
        const value: [number, number] = [1, 0];
        applyExpectedBand(cascade, hz, value);
        const [real, imaginary] = scipy[which]![at]!;
        // Order 8 by polynomial coefficients in scipy loses some digits: 1e-8 of the value.
        const size = Math.hypot(real, imaginary);
        const error = Math.hypot(value[0] - real, value[1] - imaginary) / size;
        expect(error, `${JSON.stringify(cascade)} at ${hz} Hz`).toBeLessThan(1e-8);
      });
    });
  });
});

test.skipIf(lacks('python'))('delay by cross-correlation, by scipy.signal.correlate', () => {
  const gauss = seededGauss(seededUniform(3));
  const source = Float64Array.from({ length: 9_000 }, () => gauss());
  const sinc = new SincInterpolator();
  for (const delayFrames of [-37.4, 0.25, 250.7]) {
    // Averages over 8 frames, so that nothing is left near half the rate, where no fraction of a frame is defined.
    const smooth = (at: number): number => {
      let sum = 0;
      for (let back = 0; back < 8; back += 1) sum += sinc.valueAt(source, at - back) / 8;
      return sum;
    };
    const first = Float64Array.from({ length: 8192 }, (_, at) => smooth(at + 400) + 0.03 * gauss());
    const second = Float64Array.from(
      { length: 8192 },
      (_, at) => smooth(at + 400 - delayFrames) + 0.03 * gauss(),
    );
    writeFileSync(scratch('first.f64'), new Uint8Array(first.buffer));
    writeFileSync(scratch('second.f64'), new Uint8Array(second.buffer));
    const scipy = runPython('time_delay.py', ['delay', scratch('first.f64'), scratch('second.f64')]) as {
      frames: number;
    };
    const found = correlationDelay(first, second, {
      sampleRateHz: RATE_HZ,
      weighting: 'plain',
      lowHz: 0,
      highHz: RATE_HZ / 2,
    })!;
    // scipy's place is on a grid of 1/64, and its Hann window bends the top by about as much.
    expect(Math.abs(found.delaySeconds * RATE_HZ - scipy.frames)).toBeLessThan(0.04);
    expect(Math.abs(found.delaySeconds * RATE_HZ - delayFrames)).toBeLessThan(0.02);
  }
});
