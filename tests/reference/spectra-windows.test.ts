/**
 * What each window does to a line, seen through the averaged spectrum: loss half a bin off, noise bandwidth,
 * highest side lobe. Source: F. J. Harris 1978, table 1, and Kaiser's closed forms, recomputed (references, item 4).
 */
import { describe, expect, test } from 'vitest';
import { AveragedSpectrum } from '../../src/dsp/spectrum/averaged-spectrum.ts';
import type { WindowShape } from '../../src/dsp/spectrum/window-shape.ts';
import { signal } from '../unit/dsp-signals.ts';

const LENGTH = 4096;
const LINE = 1000;

const WINDOWS: {
  name: string;
  window: WindowShape;
  bandwidthBins: number;
  halfBinDb: number;
  sideLobeDb: number;
  nullBins: number;
}[] = [
  {
    name: 'Hann',
    window: { kind: 'hann' },
    bandwidthBins: 1.5,
    halfBinDb: -1.42362,
    sideLobeDb: -31.47,
    nullBins: 2,
  },
  {
    name: 'Blackman-Harris',
    window: { kind: 'blackman-harris' },
    bandwidthBins: 2.00435,
    halfBinDb: -0.82557,
    sideLobeDb: -92.01,
    nullBins: 4,
  },
  {
    name: 'flat top',
    window: { kind: 'flat-top' },
    bandwidthBins: 3.77025,
    halfBinDb: -0.00978,
    sideLobeDb: -93.03,
    nullBins: 5,
  },
  {
    name: 'Kaiser 6',
    window: { kind: 'kaiser', beta: 6 },
    bandwidthBins: 1.46683,
    halfBinDb: -1.5093,
    sideLobeDb: -43.81,
    nullBins: 2.1558,
  },
  {
    name: 'Kaiser 14',
    window: { kind: 'kaiser', beta: 14 },
    bandwidthBins: 2.16113,
    halfBinDb: -0.7128,
    sideLobeDb: -105.94,
    nullBins: 4.5672,
  },
];

/** Level of each bin, dB re the line, which stands `off` bins above bin LINE. */
function levels(window: WindowShape, off: number): { averaged: AveragedSpectrum; dbfs: Float64Array } {
  const averaged = new AveragedSpectrum({
    sampleRateHz: LENGTH,
    segmentFrames: LENGTH,
    overlap: 0,
    window,
    averaging: { kind: 'linear' },
  });
  const lines = [{ frequencyHz: LINE + off, amplitude: 1 }];
  averaged.push(signal({ sampleRateHz: LENGTH, frames: LENGTH, lines }), 0, LENGTH);
  const dbfs = new Float64Array(averaged.binCount);
  averaged.readDbfs('amplitude', dbfs);
  return { averaged, dbfs };
}

describe('a line through each window', () => {
  test.each(WINDOWS)('$name', ({ window, bandwidthBins, halfBinDb, sideLobeDb, nullBins }) => {
    const { averaged, dbfs } = levels(window, 0.5);
    // A bin is 1 Hz here. Printed to 5 decimals; Kaiser's sampled ends differ by 1/(4096 I0(beta)) (beta 6: 4e-6).
    expect(averaged.noiseBandwidthHz).toBeCloseTo(bandwidthBins, 4);
    expect(Math.abs(dbfs[LINE]! - halfBinDb)).toBeLessThan(0.0001);
    expect(Math.abs(dbfs[LINE + 1]! - halfBinDb)).toBeLessThan(0.0001);

    let highest = Number.NEGATIVE_INFINITY;
    for (let off = 0; off < 1; off += 1 / 32) {
      const shifted = levels(window, off).dbfs;
      for (let bin = LINE - 40; bin <= LINE + 40; bin += 1) {
        if (Math.abs(bin - LINE - off) > nullBins) highest = Math.max(highest, shifted[bin]!);
      }
    }
    // Steps of 1/32 bin miss the top of a lobe about one bin wide by 0.01 dB; at -106 dB the line's mirror
    // image, 2000 bins away, adds some.
    expect(Math.abs(highest - sideLobeDb)).toBeLessThan(0.05);
  });
});
