/** Pink and white noise in third-octaves: filter bank, sum of bins, numpy, scipy and SoX's own noise. */
import { writeFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { OctaveFilterBank } from '../../src/dsp/bands/filter-bank.ts';
import { fractionalOctaveBands } from '../../src/dsp/bands/fractional-octave.ts';
import { SpectrumBands } from '../../src/dsp/bands/spectrum-bands.ts';
import { AveragedSpectrum } from '../../src/dsp/spectrum/averaged-spectrum.ts';
import { renderPink } from '../../src/dsp/tones/pink.ts';
import { signal } from '../unit/dsp-signals.ts';
import { lacks, runPython, runSox } from './oracle.ts';
import { scratchFolder } from './scratch-folder.ts';

const RATE_HZ = 48_000;
const SECONDS = 30;
const FRAMES = SECONDS * RATE_HZ;
const SETTLE = RATE_HZ;
const BANDS = fractionalOctaveBands(3, 50, 16_000);

function byFilters(samples: Float64Array): Float64Array {
  const bank = new OctaveFilterBank(BANDS, RATE_HZ);
  bank.push(samples, 0, SETTLE);
  bank.restart();
  bank.push(samples, SETTLE, samples.length);
  const into = new Float64Array(BANDS.length);
  bank.meanSquares(into);
  return into;
}

function byBins(samples: Float64Array): Float64Array {
  const averaged = new AveragedSpectrum({
    sampleRateHz: RATE_HZ,
    segmentFrames: 32_768,
    overlap: 0.5,
    window: { kind: 'hann' },
    averaging: { kind: 'linear' },
  });
  averaged.push(samples, 0, samples.length);
  const density = new Float64Array(averaged.binCount);
  averaged.read('density', density);
  const into = new Float64Array(BANDS.length);
  const sums = new SpectrumBands(BANDS, averaged);
  expect(BANDS.every((_, band) => sums.isResolved(band))).toBe(true);
  sums.meanSquares(density, into);
  return into;
}

const decibels = (a: number, b: number) => 10 * Math.log10(a / b);
/** Standard deviation of a band level, decibels: 4.34 / sqrt(B T) (references, item 16). */
const spreadDb = (band: number) => 4.34 / Math.sqrt((BANDS[band]!.highHz - BANDS[band]!.lowHz) * SECONDS);

const NOISES = {
  white: () => signal({ sampleRateHz: RATE_HZ, frames: FRAMES, noiseRms: 0.1, seed: 11 }),
  pink: () =>
    renderPink(
      { kind: 'pink', lowHz: 15, highHz: 22_000, levelDbfs: -20, durationSeconds: SECONDS, seed: 3 },
      RATE_HZ,
    ),
};

const scratch = scratchFolder();

describe.skipIf(lacks('python'))('the same noise by four roads', () => {
  test.each(['white', 'pink'] as const)('%s', (colour) => {
    const samples = NOISES[colour]();
    const file = scratch(`${colour}.f64`);
    writeFileSync(file, new Uint8Array(samples.buffer));
    const scipy = runPython(
      'band_levels.py',
      [],
      JSON.stringify({
        file,
        sampleRateHz: RATE_HZ,
        bands: BANDS.map(({ lowHz, highHz }) => [lowHz, highHz]),
        settleFrames: SETTLE,
      }),
    ) as { lines: number[]; filtered: number[] };
    const filters = byFilters(samples);
    const bins = byBins(samples);
    BANDS.forEach((band, n) => {
      const name = `${band.nominalHz} Hz`;
      // Roads look at the same noise, but not at the same seconds of it (start-up, window tapers) nor through
      // the same flanks: they differ by a part of the spread of the level itself. Twice the spread, and 0.05 dB
      // for pink noise's slope across flanks of different shape.
      const most = 2 * spreadDb(n) + 0.05;
      expect(Math.abs(decibels(filters[n]!, scipy.lines[n]!)), name).toBeLessThan(most);
      expect(Math.abs(decibels(bins[n]!, scipy.lines[n]!)), name).toBeLessThan(most);
      expect(Math.abs(decibels(filters[n]!, bins[n]!)), name).toBeLessThan(most);
      // scipy's filter has its edges at -3 dB, so it is wider: (pi/8)/sin(pi/8) = 0.112 dB below some kilohertz.
      // On the same seconds through nearly the same flanks, so much closer than the spread.
      if (band.centreHz < 5000) {
        expect(Math.abs(decibels(scipy.filtered[n]!, filters[n]!) - 0.112), name).toBeLessThan(
          0.02 + 0.3 * spreadDb(n),
        );
      }
    });
  });
});

describe.skipIf(lacks('sox'))('noise of SoX', () => {
  test('pink: level in every third-octave, each octave its three thirds', () => {
    const { stdout } = runSox(
      ...['-R', '-r', String(RATE_HZ), '-n', '-t', 'f64', '-', 'synth', String(SECONDS), 'pinknoise'],
    );
    const samples = new Float64Array(
      stdout.buffer.slice(stdout.byteOffset, stdout.byteOffset + stdout.length),
    );
    expect(samples.length).toBe(FRAMES);
    const thirds = byFilters(samples);
    const whole = new OctaveFilterBank(fractionalOctaveBands(1, 63, 8000), RATE_HZ);
    whole.push(samples, 0, samples.length);
    const octaves = new Float64Array(whole.bands.length);
    whole.meanSquares(octaves);
    const mean = 10 ** (thirds.reduce((sum, value) => sum + Math.log10(value), 0) / thirds.length);
    thirds.forEach((value, n) => {
      // SoX's generator is level to 0.21 dB over 120 s (references, item 16); three spreads of 30 s beside it.
      expect(Math.abs(decibels(value, mean)), `${BANDS[n]!.nominalHz} Hz`).toBeLessThan(
        0.21 + 3 * spreadDb(n),
      );
    });
    octaves.forEach((value, n) => {
      // Three thirds to an octave, both filtered by noise bandwidths of the bands themselves.
      const parts = thirds[3 * n]! + thirds[3 * n + 1]! + thirds[3 * n + 2]!;
      expect(Math.abs(decibels(value, parts)), `${whole.bands[n]!.nominalHz} Hz`).toBeLessThan(
        2 * spreadDb(3 * n) + 0.05,
      );
    });
  });
});
