import { describe, expect, test } from 'vitest';
import { AveragedSpectrum, type Averaging } from '../../src/dsp/spectrum/averaged-spectrum.ts';
import type { WindowShape } from '../../src/dsp/spectrum/window-shape.ts';
import { signal } from '../unit/dsp-signals.ts';
import { lacks, runPython } from './oracle.ts';

const RATE_HZ = 44_100;
const SAMPLES = signal({
  sampleRateHz: RATE_HZ,
  frames: 20_000,
  lines: [
    { frequencyHz: 997, amplitude: 0.5 },
    { frequencyHz: 12_345.6, amplitude: 0.001 },
  ],
  dc: 0.02,
  noiseRms: 0.01,
});

const CASES: { window: string; shape: WindowShape; segmentFrames: number; overlap: number }[] = [
  { window: 'hann', shape: { kind: 'hann' }, segmentFrames: 2048, overlap: 0.5 },
  { window: 'blackmanharris', shape: { kind: 'blackman-harris' }, segmentFrames: 1024, overlap: 0.75 },
  { window: 'flattop', shape: { kind: 'flat-top' }, segmentFrames: 4096, overlap: 0 },
  { window: 'kaiser:20', shape: { kind: 'kaiser', beta: 20 }, segmentFrames: 512, overlap: 0.2 },
  { window: 'kaiser:6', shape: { kind: 'kaiser', beta: 6 }, segmentFrames: 2048, overlap: 0.6 },
];

interface Scipy {
  density: number[];
  power: number[];
  highest: number[];
}

/** Largest difference as a share of the largest value. */
function apart(ours: Float64Array, theirs: readonly number[]): number {
  expect(theirs.length).toBe(ours.length);
  const top = Math.max(...theirs);
  return ours.reduce((most, value, bin) => Math.max(most, Math.abs(value - theirs[bin]!) / top), 0);
}

describe.skipIf(lacks('python'))('as scipy.signal.welch and .spectrogram have it', () => {
  const request = { sampleRateHz: RATE_HZ, samples: [...SAMPLES], cases: CASES };
  const scipy = lacks('python')
    ? []
    : (runPython('spectral_figures.py', [], JSON.stringify(request)) as Scipy[]);

  test.each(CASES.map((row, index) => ({ ...row, index })))('$window', (row) => {
    const read = (scaling: 'density' | 'power', averaging: Averaging) => {
      const { segmentFrames, overlap, shape } = row;
      const averaged = new AveragedSpectrum({
        sampleRateHz: RATE_HZ,
        segmentFrames,
        overlap,
        window: shape,
        averaging,
      });
      averaged.push(SAMPLES, 0, SAMPLES.length);
      const into = new Float64Array(averaged.binCount);
      averaged.read(scaling, into);
      return into;
    };
    const theirs = scipy[row.index]!;
    // Two transforms in 64 bits of the same windowed samples: 1e-15 each, and the window by another formula
    // (scipy's Kaiser uses a table-like I0 of 1e-15).
    expect(apart(read('density', { kind: 'linear' }), theirs.density)).toBeLessThan(1e-13);
    expect(apart(read('power', { kind: 'linear' }), theirs.power)).toBeLessThan(1e-13);
    expect(apart(read('power', { kind: 'peak-hold' }), theirs.highest)).toBeLessThan(1e-13);
  });
});
