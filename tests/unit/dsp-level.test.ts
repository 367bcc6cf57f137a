import { describe, expect, test } from 'vitest';
import { CodeCounter } from '../../src/dsp/level/code-counter.ts';
import { LevelMeter } from '../../src/dsp/level/level-meter.ts';
import { TruePeakMeter } from '../../src/dsp/level/true-peak.ts';
import { signal } from './dsp-signals.ts';

function pushInBlocks(
  meter: { push(samples: Float64Array, from: number, to: number): void },
  samples: Float64Array,
  blockFrames: number,
): void {
  for (let from = 0; from < samples.length; from += blockFrames) {
    meter.push(samples, from, Math.min(samples.length, from + blockFrames));
  }
}

describe('mean square', () => {
  test.each([7, 1000, 48_000])(
    'of 100 whole cycles is half the squared amplitude, in blocks of %i',
    (block) => {
      const meter = new LevelMeter();
      const lines = [{ frequencyHz: 100, amplitude: 0.3, phase: 1 }];
      pushInBlocks(meter, signal({ sampleRateHz: 48_000, frames: 48_000, lines, dc: 0.2 }), block);
      expect(meter.variance).toBeCloseTo(0.045, 14);
      expect(meter.mean).toBeCloseTo(0.2, 14);
      expect(meter.frames).toBe(48_000);
    },
  );

  test('a whisper on a large offset keeps its digits', () => {
    const meter = new LevelMeter();
    const lines = [{ frequencyHz: 100, amplitude: 1e-6 }];
    pushInBlocks(meter, signal({ sampleRateHz: 48_000, frames: 480_000, lines, dc: 0.9 }), 1024);
    // 0.9 itself is rounded to 1e-16 in each sample, against a tone of 1e-6.
    expect(meter.variance / 5e-13).toBeCloseTo(1, 8);
  });

  test('silence after an hour of signal adds nothing', () => {
    const meter = new LevelMeter();
    meter.push(new Float64Array([1, -1]), 0, 2);
    for (let block = 0; block < 1000; block += 1) meter.push(new Float64Array(1024), 0, 1024);
    expect(meter.variance * meter.frames).toBeCloseTo(2, 12);
  });

  test('peaks of either sign count', () => {
    const meter = new LevelMeter();
    meter.push(new Float64Array([0.2, -0.7, 0.5]), 0, 3);
    expect(meter.samplePeak).toBe(0.7);
    meter.reset();
    expect(meter.samplePeak).toBe(0);
    expect(meter.variance).toBe(0);
  });
});

describe('true peak', () => {
  const taps = [
    [0.001708984375, 0.010986328125, -0.0196533203125, 0.033203125, -0.0594482421875, 0.1373291015625],
    [0.97216796875, -0.102294921875, 0.047607421875, -0.026611328125, 0.014892578125, -0.00830078125],
    [-0.0291748046875, 0.029296875, -0.0517578125, 0.089111328125, -0.16650390625, 0.465087890625],
    [0.77978515625, -0.2003173828125, 0.1015625, -0.0582275390625, 0.0330810546875, -0.0189208984375],
  ];
  const phases = [
    [...taps[0]!, ...taps[1]!],
    [...taps[2]!, ...taps[3]!],
    [...taps[2]!, ...taps[3]!].reverse(),
    [...taps[0]!, ...taps[1]!].reverse(),
  ];

  /** Table of BS.1770-5 Annex 2 as printed, convolved plainly. */
  function slowTruePeak(samples: Float64Array): number {
    let peak = 0;
    for (let newest = 11; newest < samples.length; newest += 1) {
      for (const phase of phases) {
        const y = phase.reduce((sum, tap, i) => sum + tap * samples[newest - i]!, 0);
        peak = Math.max(peak, Math.abs(y));
      }
    }
    return peak;
  }

  test.each([1, 5, 64, 1000])('in blocks of %i equals the plain convolution, skipping or not', (block) => {
    for (let seed = 1; seed <= 20; seed += 1) {
      const samples = signal({ sampleRateHz: 1, frames: 1500, noiseRms: 0.1, seed });
      // A loud start makes the bound skip most of what follows; a late peak must still be found.
      if (seed % 2 === 0) samples.fill(0.9, 20, 26);
      if (seed % 4 === 0) samples.fill(-0.95, 1490, 1494);
      const meter = new TruePeakMeter();
      pushInBlocks(meter, samples, block);
      expect(meter.peak).toBeCloseTo(slowTruePeak(samples), 13);
    }
  });

  test.each([
    [60.3, 0.5, 1e-3],
    [997, 0.5, 0],
    [997, 0.35, 1e-4],
    [7300, 0.4, 0],
    [19_000, 0.5, 1e-3],
  ])(
    'of %f Hz held at %f with noise of %f equals the plain convolution: no skipped output was larger',
    (frequencyHz, ceiling, noiseRms) => {
      const lines = [{ frequencyHz, amplitude: 0.5, phase: 0.3 }];
      const samples = signal({ sampleRateHz: 48_000, frames: 6000, lines, noiseRms });
      const held = samples.map((x) => Math.max(-ceiling, Math.min(ceiling, x)));
      // Growing, so that the peak is raised again and again.
      const growing = held.map((x, n) => x * (0.9 + n / 60_000));
      for (const wave of [held, growing]) {
        const meter = new TruePeakMeter();
        pushInBlocks(meter, wave, 1024);
        expect(meter.peak).toBeCloseTo(slowTruePeak(wave), 13);
      }
    },
  );

  test('assumes nothing around the stream: an abrupt start is not a peak', () => {
    const meter = new TruePeakMeter();
    meter.push(new Float64Array(1000).fill(0.5), 0, 1000);
    // The phases' DC gains are 1.001587 and 0.973022 (references, item 7).
    expect(meter.peak).toBeCloseTo(0.5 * 1.001587, 6);
    meter.reset();
    meter.push(new Float64Array(11).fill(0.5), 0, 11);
    expect(meter.peak).toBe(0);
  });
});

describe('extreme codes', () => {
  test('runs are counted across blocks, each rail for itself', () => {
    const counter = new CodeCounter();
    counter.push(new Float64Array([0, 1, 0.9995]), 0, 3);
    counter.push(new Float64Array([0.9991, 0.99, -1, -1, 1, -1]), 0, 6);
    expect(counter.facts).toEqual({
      frames: 9,
      highest: 1,
      lowest: -1,
      longestRunHigh: 3,
      longestRunLow: 2,
      framesHigh: 4,
      framesLow: 3,
    });
    counter.reset();
    counter.push(new Float64Array([0.5, 0.25]), 0, 2);
    expect(counter.facts).toMatchObject({ frames: 2, highest: 0.5, lowest: 0.25, longestRunHigh: 0 });
  });
});
