import { readFileSync, writeFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { averagedPowerQuantile } from '../../src/dsp/noise/gamma-quantile.ts';
import { findInterruptions } from '../../src/dsp/noise/interruptions.ts';
import { analyseNoise } from '../../src/dsp/noise/noise-floor.ts';
import { readNoise } from '../../src/dsp/noise/noise-reading.ts';
import { addComb, noise } from '../unit/noise-recordings.ts';
import { lacks, runFfmpeg, runPython, runSox } from './oracle.ts';
import { scratchFolder } from './scratch-folder.ts';

const RATE_HZ = 48_000;
const scratch = scratchFolder();

function save(name: string, samples: Float64Array): string {
  writeFileSync(scratch(name), new Uint8Array(samples.buffer));
  return scratch(name);
}

function load(path: string): Float64Array {
  const bytes = readFileSync(path);
  return new Float64Array(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength));
}

interface ScipyLevels {
  levelDbfs: number;
  aWeightedDbfs: number;
  octavesDbfs: number[];
}

describe.skipIf(lacks('python'))('levels of one record by scipy (welch, freqs_zpk)', () => {
  test.each(['white', 'pink', 'brown'] as const)('%s noise with a hum: band, octaves, A', (colour) => {
    const samples = addComb(noise(colour, 0.01, 20 * RATE_HZ, 7), RATE_HZ, () => 50, [0, 2e-3, 1e-3]);
    const scipy = runPython('noise_figures.py', [String(RATE_HZ), save('a.f64', samples)]) as ScipyLevels;
    const { floor } = analyseNoise(samples, RATE_HZ);
    // Both average the same samples with other windows: they differ by a part of the record's own scatter.
    for (const [index, octave] of floor.octaves.entries()) {
      const allowed = 0.02 + octave.uncertaintyDb;
      expect(Math.abs(octave.levelDbfs! - scipy.octavesDbfs[index]!), `${octave.nominalHz} Hz`).toBeLessThan(
        allowed,
      );
    }
    // Brown noise lies in its lowest octaves, and scatters as they do.
    const allowed =
      colour === 'white' ? 0.02 : 0.02 + floor.octaves[colour === 'pink' ? 2 : 0]!.uncertaintyDb;
    expect(Math.abs(floor.levelDbfs! - scipy.levelDbfs)).toBeLessThan(allowed);
    expect(Math.abs(floor.aWeightedDbfs! - scipy.aWeightedDbfs)).toBeLessThan(allowed);
  });

  test('the floor under a hum is what scipy reads of the same noise without it', () => {
    const plain = noise('white', 0.01, 20 * RATE_HZ, 8);
    const scipy = runPython('noise_figures.py', [String(RATE_HZ), save('b.f64', plain)]) as ScipyLevels;
    const hum = addComb(plain.slice(), RATE_HZ, () => 50.01, [0.02, 0.05, 0.01, 0.01, 0.005, 0.005]);
    const { floor } = analyseNoise(hum, RATE_HZ);
    expect(floor.levelDbfs! - scipy.levelDbfs).toBeGreaterThan(3);
    // The bias of the quantile is put right within its own 1 %; octaves scatter by the length of the record.
    expect(Math.abs(floor.floorDbfs! - scipy.levelDbfs)).toBeLessThan(0.05);
    for (const [index, octave] of floor.octaves.entries()) {
      const away = Math.abs(octave.floorDbfs! - scipy.octavesDbfs[index]!);
      expect(away, `${octave.nominalHz} Hz`).toBeLessThan(0.1 + 3 * octave.uncertaintyDb);
    }
  });
});

describe.skipIf(lacks('python'))('quantiles of averaged noise powers by scipy (gamma.isf)', () => {
  test('agree as far as the docstring claims', () => {
    const deviations = [-0.3853, 0, 3, 5.6];
    const rows = runPython('gamma_quantiles.py', deviations.map(String)) as {
      averages: number;
      quantiles: number[];
    }[];
    expect(rows.map((row) => row.averages)).toEqual([4, 7, 20, 100]);
    for (const { averages, quantiles } of rows) {
      for (const [at, quantile] of quantiles.entries()) {
        const ratio = averagedPowerQuantile(averages, deviations[at]!) / quantile;
        expect(Math.abs(ratio - 1), `${averages} averages, ${deviations[at]}`).toBeLessThan(
          at < 3 ? 0.01 : 0.05,
        );
      }
    }
  });
});

describe.skipIf(lacks('sox'))('pink noise of SoX', () => {
  test('octaves, and A against unweighted, as references item 16 has them', () => {
    runSox(
      '-n',
      '-R',
      '-r',
      String(RATE_HZ),
      '-t',
      'f64',
      scratch('pink.f64'),
      'synth',
      '60',
      'pinknoise',
      'vol',
      '0.1',
    );
    const { floor } = analyseNoise(load(scratch('pink.f64')), RATE_HZ);
    // Item 16: each octave -9.985 dB of the total, SoX's generator level within 0.21 dB; the scatter of 60 s.
    for (const octave of floor.octaves.slice(0, 9)) {
      const away = octave.levelDbfs! - floor.levelDbfs! + 9.985;
      expect(Math.abs(away), `${octave.nominalHz} Hz`).toBeLessThan(0.21 + 3 * octave.uncertaintyDb);
    }
    // Item 5: -2.859 dB; the same deviations of the generator.
    expect(Math.abs(floor.aWeightedDbfs! - floor.levelDbfs! + 2.859)).toBeLessThan(0.21);
    expect(floor.lines).toEqual([]);
  });

  test('hum and whine mixed by SoX are told apart', () => {
    const hum = scratch('hum.wav');
    const mix = scratch('mix.f64');
    const form = ['-R', '-n', '-r', String(RATE_HZ), '-e', 'float', '-b', '32'];
    runSox(...form, hum, 'synth', '12', 'square', '59.97', 'vol', '0.002');
    runSox(...form, scratch('whine.wav'), 'synth', '12', 'sine', '900:2700', 'vol', '0.0006');
    runSox(...form, scratch('bed.wav'), 'synth', '12', 'pinknoise', 'vol', '0.01');
    runSox('-m', hum, scratch('whine.wav'), scratch('bed.wav'), '-t', 'f64', mix, 'vol', '3');
    const { mains, engine } = readNoise(load(mix), RATE_HZ);
    expect(Math.abs(mains!.fundamentalHz - 59.97)).toBeLessThan(0.01);
    expect(mains!.lines.map((line) => line.order).slice(0, 3)).toEqual([1, 3, 5]);
    // A square of 0.002: fundamental 4/pi of it.
    expect(Math.abs(mains!.lines[0]!.levelDbfs - 20 * Math.log10((4 / Math.PI) * 0.002))).toBeLessThan(0.5);
    expect(engine!.lowestHz).toBeGreaterThan(900);
    // 5 % of the frames lie beyond each end: 990 and 2610 Hz.
    expect(Math.abs(engine!.lowestHz / 990 - 1)).toBeLessThan(0.02);
    expect(Math.abs(engine!.highestHz / 2610 - 1)).toBeLessThan(0.02);
  });
});

describe.skipIf(lacks('python'))('a whine swept by scipy.signal.chirp', () => {
  test('lies where scipy.signal.spectrogram has its ridge', () => {
    const file = scratch('whine.f64');
    const scipy = runPython('sweeping_whine.py', [file]) as { seconds: number[]; ridgeHz: number[] };
    const { engine, mains } = readNoise(load(file), RATE_HZ);
    expect(Math.abs(mains!.fundamentalHz - 50.02)).toBeLessThan(0.01);
    expect(engine!.trackHz).toHaveLength(scipy.ridgeHz.length);
    const apart = engine!.trackHz
      .map((hz, frame) => Math.abs(hz - scipy.ridgeHz[frame]!))
      .sort((a, b) => a - b);
    // One bin of either spectrum is 11.7 Hz; single frames of scipy's ridge are lost in the noise.
    expect(apart[Math.floor(0.8 * apart.length)]).toBeLessThan(11.8);
    expect(Math.abs(engine!.trackSeconds[0]! - scipy.seconds[0]!)).toBeLessThan(0.001);
    // The chirp's peak of 3e-4, less what its sweep leaves outside the summed bins.
    expect(Math.abs(engine!.lines[0]!.levelDbfs - 20 * Math.log10(3e-4))).toBeLessThan(0.5);
  });
});

describe.skipIf(lacks('ffmpeg'))('holes as FFmpeg (silencedetect) sees them', () => {
  test('each found at its place, with its length', () => {
    const samples = noise('pink', 0.05, 6 * RATE_HZ, 12);
    for (const [from, frames] of [
      [48_123, 960],
      [100_000, 4410],
      [200_777, 12_000],
    ] as const) {
      samples.fill(0, from, from + frames);
    }
    const file = save('holes.f64', samples);
    const { stderr } = runFfmpeg(
      ...['-f', 'f64le', '-ar', String(RATE_HZ), '-ac', '1', '-i', file],
      ...['-af', 'silencedetect=noise=-100dB:duration=0.01', '-f', 'null', '-'],
    );
    const starts = [...stderr.matchAll(/silence_start: ([\d.]+)/g)].map((match) => Number(match[1]));
    const lengths = [...stderr.matchAll(/silence_duration: ([\d.]+)/g)].map((match) => Number(match[1]));
    expect(starts).toHaveLength(3);
    const { dropouts, clicks } = findInterruptions(samples, RATE_HZ);
    expect(clicks).toEqual([]);
    expect(dropouts.map((dropout) => dropout.kind)).toEqual(['zeros', 'zeros', 'zeros']);
    for (const [at, dropout] of dropouts.entries()) {
      // FFmpeg prints microseconds and counts on to the first frame that is not silent.
      expect(Math.abs(dropout.seconds - starts[at]!)).toBeLessThan(1.5 / RATE_HZ);
      expect(Math.abs(dropout.lengthSeconds - lengths[at]!)).toBeLessThan(2.5 / RATE_HZ);
    }
  });
});
