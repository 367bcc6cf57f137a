import { describe, expect, test } from 'vitest';
import { BLACKMAN_HARRIS, cosineWindow, FLAT_TOP, HANN } from '../../src/dsp/spectrum/cosine-windows.ts';
import { kaiserMainLobeBins, kaiserResponse, kaiserWindow } from '../../src/dsp/spectrum/kaiser.ts';
import { windowFigures } from '../../src/dsp/spectrum/window-figures.ts';
import { lacks, runPython } from './oracle.ts';

const LENGTH = 4096;

/**
 * F. J. Harris, Proc. IEEE 66(1) 1978, table 1, recomputed (references, item 4): coherent gain c0, noise
 * bandwidth 1 + sum of c_k^2 / (2 c0^2). To the digits of that table.
 */
const PUBLISHED = [
  { name: 'hann', coefficients: HANN, gain: 0.5, bandwidth: 1.5 },
  { name: 'blackmanharris', coefficients: BLACKMAN_HARRIS, gain: 0.35875, bandwidth: 2.00435 },
  { name: 'flattop', coefficients: FLAT_TOP, gain: 0.215579, bandwidth: 3.77025 },
] as const;

/** Kaiser: closed forms of references, item 4, against arrays of 2^14 there. */
const PUBLISHED_KAISER = [
  { beta: 5, gain: 0.54481, bandwidth: 1.35896, halfBinDb: -1.7478, nullBins: 1.8796 },
  { beta: 8.6, gain: 0.4208, bandwidth: 1.72137, halfBinDb: -1.1092, nullBins: 2.9144 },
  { beta: 14, gain: 0.33187, bandwidth: 2.16113, halfBinDb: -0.7128, nullBins: 4.5672 },
  { beta: 20, gain: 0.27846, bandwidth: 2.56426, halfBinDb: -0.5097, nullBins: 6.4443 },
] as const;

describe('windows as published', () => {
  test.each(PUBLISHED)('$name', ({ coefficients, gain, bandwidth }) => {
    const figures = windowFigures(cosineWindow(coefficients, LENGTH));
    expect(figures.coherentGain).toBeCloseTo(gain, 6);
    expect(figures.noiseBandwidthBins).toBeCloseTo(bandwidth, 5);
  });

  test.each(PUBLISHED_KAISER)('Kaiser, beta $beta', ({ beta, gain, bandwidth, halfBinDb, nullBins }) => {
    const figures = windowFigures(kaiserWindow(beta, LENGTH));
    // The window's ends are not zero at small beta, and one of the two is missing: 1/(4096 I0(beta)).
    expect(figures.coherentGain).toBeCloseTo(gain, 4);
    expect(figures.noiseBandwidthBins).toBeCloseTo(bandwidth, 4);
    expect(20 * Math.log10(kaiserResponse(beta, 0.5))).toBeCloseTo(halfBinDb, 4);
    expect(kaiserMainLobeBins(beta)).toBeCloseTo(nullBins, 4);
    expect(kaiserResponse(beta, kaiserMainLobeBins(beta))).toBeCloseTo(0, 12);
  });
});

interface ScipyWindow {
  samples: number[];
  coherentGain: number;
  noiseBandwidthBins: number;
  highestSideLobeDb: number;
  halfBinLossDb: number;
}

describe.skipIf(lacks('python'))('windows as scipy makes them', () => {
  const names = ['hann', 'blackmanharris', 'flattop', 'kaiser:8.6', 'kaiser:20'];
  const scipy = lacks('python') ? {} : (runPython('window_figures.py', names) as Record<string, ScipyWindow>);

  test.each(names)('%s', (name) => {
    const beta = Number(name.split(':')[1]);
    const ours = name.startsWith('kaiser')
      ? kaiserWindow(beta, LENGTH)
      : cosineWindow(PUBLISHED.find((window) => window.name === name)!.coefficients, LENGTH);
    const theirs = scipy[name]!;
    // Both in 64 bits: rounding of a handful of terms of size 1.
    theirs.samples.forEach((value, index) => {
      expect(ours[[1, 500, 1024, 2048, 4000][index]!]).toBeCloseTo(value, 12);
    });
    expect(windowFigures(ours).coherentGain).toBeCloseTo(theirs.coherentGain, 12);
    expect(windowFigures(ours).noiseBandwidthBins).toBeCloseTo(theirs.noiseBandwidthBins, 11);
    if (beta > 0) expect(20 * Math.log10(kaiserResponse(beta, 0.5))).toBeCloseTo(theirs.halfBinLossDb, 5);
  });

  test('the deep Kaiser window keeps its side lobes at -155 dB', () => {
    expect(scipy['kaiser:20']!.highestSideLobeDb).toBeCloseTo(-154.97, 1);
  });
});
