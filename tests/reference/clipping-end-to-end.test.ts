import { readFileSync, writeFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { limitedHarmonic } from '../../src/dsp/clipping/limited-sine.ts';
import { angleOfOverdrive } from '../../src/dsp/clipping/overdrive.ts';
import { WindowAnalyser } from '../../src/dsp/measure/window-analyser.ts';
import { AUDIO_BAND } from '../../src/dsp/reading.ts';
import { seededGauss, seededUniform } from '../unit/seeded-random.ts';
import { lacks, runFfmpeg } from './oracle.ts';
import { scratchFolder } from './scratch-folder.ts';

const analysers = new Map<string, WindowAnalyser>();
function read(samples: Float32Array, sampleRateHz: number) {
  const key = `${samples.length} at ${sampleRateHz}`;
  const analyser = analysers.get(key) ?? new WindowAnalyser({ frames: samples.length, sampleRateHz });
  analysers.set(key, analyser);
  return analyser.analyse(samples, { band: AUDIO_BAND, expectedHz: null });
}

interface LimitedTone {
  frequencyHz: number;
  highDb: number | null;
  lowDb: number | null;
  frames: number;
  phase: number;
}

const PEAK = 0.5;
const RATE_HZ = 48_000;

/** A limited sine without folding: its harmonics up to half the sample rate (200 at most), added one by one. */
function synthesised({ frequencyHz, highDb, lowDb, frames, phase }: LimitedTone): Float32Array {
  const angle = (overdriveDb: number | null) => (overdriveDb === null ? 0 : angleOfOverdrive(overdriveDb));
  const wave = { amplitude: PEAK, highAngle: angle(highDb), lowAngle: angle(lowDb) };
  const highest = Math.min(200, Math.floor(RATE_HZ / 2 / frequencyHz));
  const terms = Array.from({ length: highest + 1 }, (_, order) => limitedHarmonic(wave, order));
  return Float32Array.from({ length: frames }, (_, frame) => {
    const theta = (2 * Math.PI * frequencyHz * frame) / RATE_HZ + phase;
    return terms.reduce((sum, term, order) => sum + term * Math.cos(order * theta), 0);
  });
}

function addNoise(samples: Float32Array, rms: number, gauss: () => number): Float32Array {
  return samples.map((sample) => sample + rms * gauss());
}

describe('from samples to the verdict', () => {
  test.each([
    { side: 'both', high: 1, low: 1 },
    { side: 'positive', high: 1, low: null },
    { side: 'negative', high: null, low: 1 },
    { side: 'both', high: 1, low: 0.5 },
  ])('0.05 to 12 dB at 60 dB, rails at $high and $low of it', ({ side, high, low }) => {
    const uniform = seededUniform(3);
    const gauss = seededGauss(uniform);
    const tones = [
      { frequencyHz: 41.3, frames: 16_384 },
      { frequencyHz: 100.7, frames: 16_384 },
      { frequencyHz: 440.1, frames: 8192 },
      { frequencyHz: 997, frames: 8192 },
      { frequencyHz: 3111, frames: 8192 },
    ];
    for (const tone of tones) {
      for (const overdriveDb of [0.05, 0.1, 0.2, 0.5, 1, 2, 4, 6, 8, 10, 12]) {
        const highDb = high === null ? null : high * overdriveDb;
        const lowDb = low === null ? null : low * overdriveDb;
        const clean = synthesised({ ...tone, highDb, lowDb, phase: 2 * Math.PI * uniform() });
        const { clipping } = read(addNoise(clean, (PEAK / Math.SQRT2) * 1e-3, gauss), RATE_HZ);
        const what = `${tone.frequencyHz} Hz, ${overdriveDb} dB: ${clipping.evidence.join(' ')}`;
        expect(clipping.verdict, what).toBe('clipped');
        expect(clipping.side, what).toBe(side);
        // Issue 2: within 0.02 dB.
        expect(Math.abs(clipping.overdriveDb! - overdriveDb), what).toBeLessThan(0.02);
        expect(Math.abs(clipping.kneeDbfs! - 20 * Math.log10(PEAK) + overdriveDb), what).toBeLessThan(0.02);
      }
    }
  });

  test('none of 1,000 whole tones, with noise or low harmonics or both, is called clipped', () => {
    const uniform = seededUniform(11);
    const gauss = seededGauss(uniform);
    let toneless = 0;
    let clean = 0;
    for (let tone = 0; tone < 1000; tone++) {
      const frequencyHz = 20 * 500 ** uniform();
      const sampleRateHz = [44_100, 48_000, 96_000][Math.floor(3 * uniform())]!;
      const frames = 2 ** Math.ceil(Math.log2(Math.max(6000, (12 * sampleRateHz) / frequencyHz)));
      const peak = 10 ** ((-60 + 59 * uniform()) / 20);
      const snrDb = 40 + 60 * uniform();
      const sizes = [1, tone & 1 ? 0.05 : 0, tone & 2 ? 0.05 : 0];
      const phases = sizes.map(() => 2 * Math.PI * uniform());
      const step = (2 * Math.PI * frequencyHz) / sampleRateHz;
      const samples = Float32Array.from({ length: frames }, (_, frame) =>
        sizes.reduce((sum, size, at) => {
          const held = (at + 1) * frequencyHz < sampleRateHz / 2;
          return held ? sum + peak * size * Math.cos((at + 1) * step * frame + phases[at]!) : sum;
        }, 0),
      );
      const noisy = addNoise(samples, (peak / Math.SQRT2) * 10 ** (-snrDb / 20), gauss);
      const reading = read(noisy, sampleRateHz);
      if (reading.tone === null) toneless += 1;
      if (reading.clipping.verdict === 'clean') clean += 1;
      const what = `tone ${tone}, ${frequencyHz} Hz: ${reading.clipping.evidence.join(' ')}`;
      expect(['clean', 'undecided'], what).toContain(reading.clipping.verdict);
    }
    expect(toneless).toBeLessThan(10);
    // The rest are tones above 3.2 or 5.3 kHz, and 3rd harmonics in the phase that flattens crests.
    expect(clean).toBeGreaterThan(700);
  });
});

describe.skipIf(lacks('ffmpeg'))('through lossy coding (FFmpeg, 128 kbit/s, as phones record)', () => {
  const scratch = scratchFolder();

  test.each([
    { codec: 'libmp3lame', file: 'tone.mp3' },
    { codec: 'aac', file: 'tone.m4a' },
  ])('$codec keeps the verdict and 0.02 dB', ({ codec, file }) => {
    for (const frequencyHz of [100.7, 997, 2510]) {
      for (const overdriveDb of [0, 0.1, 1, 6]) {
        const frames = 2 * RATE_HZ;
        const limit = overdriveDb === 0 ? null : overdriveDb;
        const samples = synthesised({ frequencyHz, highDb: limit, lowDb: limit, frames, phase: 1 });
        const [raw, coded, back] = ['in.f32', file, 'out.f32'].map(scratch);
        writeFileSync(raw!, new Uint8Array(samples.buffer));
        runFfmpeg(
          '-f',
          'f32le',
          '-ar',
          `${RATE_HZ}`,
          '-ac',
          '1',
          '-i',
          raw!,
          '-c:a',
          codec,
          '-b:a',
          '128k',
          coded!,
        );
        runFfmpeg('-i', coded!, '-f', 'f32le', '-ac', '1', back!);
        const { clipping } = read(readFloats(back!).subarray(30_000, 30_000 + 16_384), RATE_HZ);
        const what = `${frequencyHz} Hz, ${overdriveDb} dB: ${clipping.evidence.join(' ')}`;
        expect(clipping.verdict, what).toBe(limit === null ? 'clean' : 'clipped');
        if (limit === null) continue;
        expect(clipping.side, what).toBe('both');
        expect(Math.abs(clipping.overdriveDb! - overdriveDb), what).toBeLessThan(0.02);
      }
    }
  });
});

function readFloats(path: string): Float32Array {
  const bytes = readFileSync(path);
  return new Float32Array(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.length));
}
