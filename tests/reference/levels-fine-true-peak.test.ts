/**
 * EBU Tech 3341 cases 15 to 23 by both meters, beside a 32-fold FFT and FFmpeg; and how much a tone can hide
 * between instants. Source: shared/reference-tables/true-peak.json (references, item 7).
 */
import { writeFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import table from '../../shared/reference-tables/true-peak.json' with { type: 'json' };
import { FineTruePeakMeter } from '../../src/dsp/level/fine-true-peak.ts';
import { INSTANTS, SINC_TAPS, sincRows } from '../../src/dsp/level/sinc-kernel.ts';
import { TruePeakMeter } from '../../src/dsp/level/true-peak.ts';
import { kaiserWindow } from '../../src/dsp/spectrum/kaiser.ts';
import { signal } from '../unit/dsp-signals.ts';
import { lacks, runFfmpeg, runPython } from './oracle.ts';
import { scratchFolder } from './scratch-folder.ts';

const RATE_HZ = 48_000;
const FRAMES = RATE_HZ / 2;

/** Fades of 10 ms at both ends. */
function fade(n: number, frames: number, rateHz: number): number {
  return Math.min(1, n / (rateHz / 100), (frames - 1 - n) / (rateHz / 100));
}

function steady(divisor: number, amplitude: number, phaseDeg: number): Float64Array {
  return Float64Array.from(
    { length: FRAMES },
    (_, n) =>
      fade(n, FRAMES, RATE_HZ) *
      amplitude *
      Math.sin((2 * Math.PI * n) / divisor + (phaseDeg * Math.PI) / 180),
  );
}

/** At four times the rate: a period of 16 samples at 1.0 amid one of 24 at 0.5, low-passed, every fourth kept. */
function withBurst(offset: number): Float64Array {
  const frames = 4 * FRAMES;
  const start = 24 * Math.round(frames / 48);
  const wide = Float64Array.from({ length: frames }, (_, n) => {
    const x =
      n < start
        ? 0.5 * Math.sin((2 * Math.PI * n) / 24)
        : n < start + 16
          ? Math.sin((2 * Math.PI * (n - start)) / 16)
          : 0.5 * Math.sin((2 * Math.PI * (n - start - 16)) / 24);
    return x * fade(n, frames, 4 * RATE_HZ);
  });
  const taps = lowPass(1023, 10, (0.49 * RATE_HZ) / (4 * RATE_HZ));
  return Float64Array.from({ length: FRAMES }, (_, n) => {
    let sum = 0;
    for (let tap = 0; tap < taps.length; tap += 1) {
      sum += taps[tap]! * (wide[4 * n + offset + tap - 511] ?? 0);
    }
    return sum;
  });
}

function lowPass(length: number, beta: number, share: number): Float64Array {
  // A symmetric window of odd length is a periodic one of one less, closed by its first sample.
  const window = kaiserWindow(beta, length - 1);
  const taps = Float64Array.from({ length }, (_, n) => {
    const t = n - (length - 1) / 2;
    const sinc = t === 0 ? 2 * share : Math.sin(2 * Math.PI * share * t) / (Math.PI * t);
    return sinc * window[n % (length - 1)]!;
  });
  const sum = taps.reduce((total, tap) => total + tap, 0);
  return taps.map((tap) => tap / sum);
}

const SIGNALS = new Map<number, Float64Array>([
  [15, steady(4, 0.5, 0)],
  [16, steady(4, 0.5, 45)],
  [17, steady(6, 0.5, 60)],
  [18, steady(8, 0.5, 67.5)],
  [19, steady(4, 1.41, 45)],
  ...[0, 1, 2, 3].map((offset): [number, Float64Array] => [20 + offset, withBurst(offset)]),
]);

function readDb(
  meter: { peak: number; push(s: Float64Array, from: number, to: number): void },
  n: number,
): number {
  const samples = SIGNALS.get(n)!;
  meter.push(samples, 0, samples.length);
  return 20 * Math.log10(meter.peak);
}

describe('EBU Tech 3341 (v4, 2023), cases 15 to 23', () => {
  test.each(table.cases)('case $number, expected $expectedDb dBTP', (row) => {
    const standard = readDb(new TruePeakMeter(), row.number);
    const fine = readDb(new FineTruePeakMeter(), row.number);
    for (const reading of [standard, fine]) {
      expect(reading - row.expectedDb).toBeLessThanOrEqual(0.2);
      expect(reading - row.expectedDb).toBeGreaterThanOrEqual(-0.4);
    }
    // Printed to 0.001 dB; where the fades begin (how the ramp ends on a crest) may cost another.
    expect(Math.abs(standard - row.filterDb)).toBeLessThan(0.002);
    // The tight pin for the fine meter: its 0.003 dB beside a 32-fold grid, which hides up to 0.0085 dB itself.
    expect(fine - row.transform32Db).toBeGreaterThan(-0.004);
    expect(fine - row.transform32Db).toBeLessThan(0.01);
  });
});

describe.skipIf(lacks('python'))('beside exact interpolation by FFT (scipy.signal.resample)', () => {
  test('the nine cases, 32-fold', () => {
    const request = { whole: [...SIGNALS.values()].map((samples) => [...samples]) };
    const { wholePeaks } = runPython('level_figures.py', [], JSON.stringify(request)) as {
      wholePeaks: number[];
    };
    [...SIGNALS.values()].forEach((samples, n) => {
      const meter = new FineTruePeakMeter();
      meter.push(samples, 0, samples.length);
      // Asked for: 0.01 dB; their grid hides 20 lg cos(pi / 4 / 32) = 0.0026 dB of it.
      expect(Math.abs(20 * Math.log10(meter.peak / wholePeaks[n]!)), `case ${15 + n}`).toBeLessThan(0.01);
    });
  });

  test('sounds of a hundred lines up to 0.45 of the sample rate, any phases', () => {
    const LENGTH = 2048;
    const sounds = [1, 2, 3, 4, 5, 6].map((seed) => {
      const phases = signal({ sampleRateHz: 1, frames: LENGTH, noiseRms: 10, seed });
      const lines = Array.from({ length: 100 }, (_, k) => {
        const bin = Math.floor(((k + 1) / 100) * 0.45 * LENGTH);
        return { frequencyHz: bin / LENGTH, amplitude: 0.02, phase: phases[k]! };
      });
      return signal({ sampleRateHz: 1, frames: 3 * LENGTH, lines });
    });
    const request = { periodic: sounds.map((sound) => [...sound.subarray(0, LENGTH)]) };
    const { peaks } = runPython('level_figures.py', [], JSON.stringify(request)) as { peaks: number[] };
    sounds.forEach((sound, n) => {
      const meter = new FineTruePeakMeter();
      meter.push(sound, 0, sound.length);
      // Asked for: 0.01 dB.
      expect(Math.abs(20 * Math.log10(meter.peak / peaks[n]!)), `sound ${n}`).toBeLessThan(0.01);
    });
  });
});

describe.skipIf(lacks('ffmpeg'))('beside FFmpeg, ebur128=peak=true', () => {
  const scratch = scratchFolder();

  test.each(table.cases)('case $number', ({ number }) => {
    const file = scratch(`${number}.f64`);
    writeFileSync(file, new Uint8Array(SIGNALS.get(number)!.buffer));
    const input = ['-f', 'f64le', '-ar', String(RATE_HZ), '-ac', '1', '-i', file];
    const { stderr } = runFfmpeg(...input, '-af', 'ebur128=peak=true', '-f', 'null', '-');
    const theirs = Number(/True peak:\s+Peak:\s+(\S+)/.exec(stderr)![1]);
    const ours = readDb(new FineTruePeakMeter(), number);
    // It prints 0.1 dB and looks at a four-fold grid, where fs/4 can hide 0.1685 dB.
    expect(theirs - ours).toBeLessThan(0.06);
    expect(theirs - ours).toBeGreaterThan(-0.1685 - 0.06);
  });
});

describe('a crest midway between two instants of an n-fold grid hides 20 lg cos(pi f / n)', () => {
  const rows = sincRows();
  const fold = table.underReadBound.filter(
    (row) => row.oversampling >= 2 && INSTANTS % row.oversampling === 0,
  );

  test.each(fold)('$oversampling-fold', ({ oversampling, db }) => {
    // Between instants 1 and 2 of a grid of n to the sample; both are interpolated, neither is a sample.
    const crest = 1.5 / oversampling;
    for (const share of ['0.25', '0.4', '0.45'] as const) {
      for (const place of [1, 2]) {
        let value = 0;
        for (let tap = 0; tap < SINC_TAPS; tap += 1) {
          const t = tap - SINC_TAPS / 2 + 1 - crest;
          const weight = rows[((place * INSTANTS) / oversampling) * SINC_TAPS + tap]!;
          value += weight * Math.cos(2 * Math.PI * Number(share) * t);
        }
        // Printed to 0.0001 dB; the kernel's own 0.003 dB.
        expect(Math.abs(20 * Math.log10(value) - db[share]), share).toBeLessThan(0.0031);
      }
    }
  });
});
