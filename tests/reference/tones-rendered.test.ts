/** Rendered tones, as they stand in the file, against numpy and scipy. */
import { writeFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { wavPieces } from '../../src/audio/wav/wav-encoder.ts';
import { renderTone } from '../../src/dsp/tones/render-tone.ts';
import type { ToneSpec } from '../../src/dsp/tones/spec.ts';
import { lacks, runPython } from './oracle.ts';
import { scratchFolder } from './scratch-folder.ts';

const scratch = scratchFolder();
let written = 0;

function fileOf(samples: Float64Array, sampleRateHz: number, bits: 16 | 24): string {
  written += 1;
  const path = scratch(`tone-${written}.wav`);
  const pieces = wavPieces({ sampleRateHz, bits, frames: samples.length, ditherSeed: written }, [samples]);
  writeFileSync(path, Buffer.concat([...pieces]));
  return path;
}

function rendered(spec: ToneSpec, sampleRateHz: number, bits: 16 | 24 = 24): string {
  return fileOf(renderTone(spec, sampleRateHz), sampleRateHz, bits);
}

describe.skipIf(lacks('python'))('sine level, by least squares in numpy', () => {
  test.each<[number, number, number, 16 | 24]>([
    [997, 0, 44_100, 16],
    [997, -5, 48_000, 16],
    [39.7, -12, 44_100, 16],
    [80, -0.1, 48_000, 24],
    [19_000.5, -20, 44_100, 24],
    [3_150, -60, 48_000, 24],
  ])('%d Hz at %d dBFS, %i Hz, %i bits', (frequencyHz, levelDbfs, sampleRateHz, bits) => {
    const path = rendered({ kind: 'sine', frequencyHz, levelDbfs, durationSeconds: 5 }, sampleRateHz, bits);
    const found = runPython('tone_figures.py', ['sine', path, `${frequencyHz}`, '0.02']) as Record<
      string,
      number
    >;
    // Issue 2: level exact to 0.001 dB.
    expect(Math.abs(found.levelDbfs! - levelDbfs)).toBeLessThan(0.001);
    // Phase 0 at the first frame, no drift over the five seconds: 1e-3 of a radian is what 16-bit noise allows here.
    expect(Math.abs(found.phase!)).toBeLessThan(1e-3);
  });
});

interface PinkFigures {
  levelDbfs: number;
  crestDb: number;
  outsideDb: number;
  bands: { centreHz: number; errorDb: number }[];
}

describe.skipIf(lacks('python'))('pink noise, by scipy.signal.welch in third-octaves', () => {
  test.each<[number, number, number, number]>([
    [20, 20_000, -14, 27],
    [300, 3_000, -18, 8],
    [30, 120, -16, 4],
  ])('%i to %i Hz at %i dBFS over 120 s', (lowHz, highHz, levelDbfs, bands) => {
    const spec: ToneSpec = { kind: 'pink', lowHz, highHz, levelDbfs, durationSeconds: 120, seed: 2 };
    const found = runPython('tone_figures.py', [
      'pink',
      rendered(spec, 44_100),
      `${lowHz}`,
      `${highHz}`,
    ]) as PinkFigures;
    expect(found.bands.length).toBeGreaterThanOrEqual(bands);
    // References item 16: 4.34/sqrt(B T) is 0.18 dB (1 s) for the 25 Hz band over 120 s; two general-purpose generators reach 0.21 dB.
    for (const band of found.bands) expect(Math.abs(band.errorDb), `${band.centreHz} Hz`).toBeLessThan(0.3);
    expect(Math.abs(found.levelDbfs - levelDbfs)).toBeLessThan(0.001);
    // A Gaussian waveform of five million samples: 13 to 15 dB.
    expect(found.crestDb).toBeGreaterThan(11);
    expect(found.crestDb).toBeLessThan(15.5);
    expect(found.outsideDb).toBeLessThan(-50);
  });
});

test.skipIf(lacks('python'))(
  "a sweep's energy falls by 3.01 dB per octave (references item 10), by numpy",
  () => {
    const spec: ToneSpec = { kind: 'sweep', startHz: 20, endHz: 20_000, levelDbfs: -6, durationSeconds: 10 };
    const found = runPython('tone_figures.py', ['sweep', rendered(spec, 48_000), '50', '16000']) as Record<
      string,
      number
    >;
    // 10 lg 2, as simulated in references item 10 (-3.0102, -3.0103).
    expect(Math.abs(found.slopeDbPerOctave! + 3.0103)).toBeLessThan(0.01);
    expect(found.ripple!).toBeLessThan(0.1);
  },
);

interface DitherFigures {
  noiseDbfs: number;
  bandsDb: number[];
  harmonicsDbfs: number[];
}

describe.skipIf(lacks('python'))('dither of 16-bit files, by scipy', () => {
  const second = 48_000;
  const frames = 2 ** 20;
  test.each<[string, number, number]>([
    ['under silence', 0, 0],
    ['under a sine at -6 dBFS', 997, -6],
    ['under a sine of half a step', 997, -96.33],
  ])('%s is white noise at -93.32 dBFS', (_, frequencyHz, levelDbfs) => {
    const samples =
      frequencyHz === 0
        ? new Float64Array(frames)
        : renderTone(
            { kind: 'sine', frequencyHz, levelDbfs, durationSeconds: frames / second + 0.2 },
            second,
          ).slice(4_800, 4_800 + frames);
    const found = runPython('dither_noise.py', [
      fileOf(samples, second, 16),
      `${frequencyHz}`,
    ]) as DitherFigures;
    // References item 17: -10 lg 2^31 = -93.3193. A million samples hold the power to 0.005 dB (1 s).
    expect(Math.abs(found.noiseDbfs + 93.3193)).toBeLessThan(0.02);
    // Each of 16 bands holds 32 768 independent values: 4.34/sqrt(32768) = 0.024 dB (1 s).
    for (const band of found.bandsDb) expect(Math.abs(band)).toBeLessThan(0.12);
    // Undithered, half a step would come out square or vanish. Harmonics of a million samples of noise: -150 dBFS.
    for (const harmonic of found.harmonicsDbfs.slice(1)) expect(harmonic).toBeLessThan(-140);
    if (frequencyHz !== 0) expect(Math.abs(found.harmonicsDbfs[0]! - levelDbfs)).toBeLessThan(0.05);
  });
});
