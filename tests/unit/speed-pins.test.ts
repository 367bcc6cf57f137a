/**
 * Work on speed must change no reading. `fixtures/readings-before-speed.json` holds what the engine read
 * of these signals before any of that work; every figure must still come out alike to a billionth part,
 * which is far under any uncertainty and far over what another order of 53-bit sums can do.
 *
 * Whoever changes a reading on purpose writes the file anew, with the reason in the commit:
 * `KNEEPOINT_WRITE_PINS=1 npx vitest run --project unit tests/unit/speed-pins.test.ts`.
 */
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { StreamMeasurer } from '../../src/dsp/measure/streaming-measure.ts';
import { WindowAnalyser } from '../../src/dsp/measure/window-analyser.ts';
import { AUDIO_BAND, type ChannelReading } from '../../src/dsp/reading.ts';
import { type Recipe, signal } from './dsp-signals.ts';

const PINS = fileURLToPath(new URL('fixtures/readings-before-speed.json', import.meta.url));
const WRITE = process.env.KNEEPOINT_WRITE_PINS === '1';
const RELATIVE = 1e-9;

interface Pinned extends Recipe {
  /** The wave is held between these. */
  ceiling?: number;
  floor?: number;
  /** Samples before this are silence. */
  silentFrames?: number;
}

const line = (frequencyHz: number, amplitude: number, phase = 0.7) => ({ frequencyHz, amplitude, phase });

/** Noise stands in each, so that no figure is dust of the arithmetic itself. */
const SIGNALS: Record<string, Pinned> = {
  'clean 997 Hz': { sampleRateHz: 48_000, frames: 300_001, lines: [line(997, 0.5)], noiseRms: 1e-5 },
  'hard-clipped 997 Hz': {
    sampleRateHz: 48_000,
    frames: 200_000,
    lines: [line(997, 1)],
    noiseRms: 1e-4,
    ceiling: 0.7,
    floor: -0.7,
  },
  'one side clipped, 44.1 kHz, DC': {
    sampleRateHz: 44_100,
    frames: 150_000,
    lines: [line(60.3, 0.8)],
    noiseRms: 1e-4,
    dc: 0.01,
    ceiling: 0.6,
  },
  'at full scale': {
    sampleRateHz: 48_000,
    frames: 100_000,
    lines: [line(400, 1.2)],
    noiseRms: 1e-3,
    ceiling: 1,
    floor: -1,
  },
  '5 kHz at 192 kHz': { sampleRateHz: 192_000, frames: 400_000, lines: [line(5000.3, 0.3)], noiseRms: 1e-4 },
  '31 Hz at 8 kHz': { sampleRateHz: 8000, frames: 90_000, lines: [line(31, 0.3)], noiseRms: 1e-4 },
  'short record': { sampleRateHz: 48_000, frames: 9001, lines: [line(1000, 0.3)], noiseRms: 1e-4 },
  'tone after silence': {
    sampleRateHz: 48_000,
    frames: 600_000,
    lines: [line(440, 0.25), line(1320, 0.01)],
    noiseRms: 1e-5,
    silentFrames: 70_000,
  },
  'harmonics and hum': {
    sampleRateHz: 48_000,
    frames: 250_000,
    lines: [line(1000, 0.4), line(2000, 1e-3, 2), line(3000, 3e-4, 1), line(50, 1e-3)],
    noiseRms: 1e-5,
  },
  noise: { sampleRateHz: 48_000, frames: 250_000, noiseRms: 0.2 },
  'a slow tone in noise': { sampleRateHz: 48_000, frames: 250_000, lines: [line(5, 0.1)], noiseRms: 0.01 },
};

function samplesOf(recipe: Pinned): Float32Array {
  const { ceiling = Number.POSITIVE_INFINITY, floor = Number.NEGATIVE_INFINITY, silentFrames = 0 } = recipe;
  const samples = signal(recipe).map((x) => Math.max(floor, Math.min(ceiling, x)));
  samples.fill(0, 0, silentFrames);
  return Float32Array.from(samples);
}

/** What was read, without the sentences and the verdict, which are other people's work. */
type Reading = Pick<
  ChannelReading,
  'levelDbfs' | 'samplePeakDbfs' | 'truePeakDbtp' | 'crestFactorDb' | 'dcFullScale' | 'tone'
> & { verdict: string };

function readingOf(reading: ChannelReading): Reading {
  const { levelDbfs, samplePeakDbfs, truePeakDbtp, crestFactorDb, dcFullScale, tone, clipping } = reading;
  return {
    levelDbfs,
    samplePeakDbfs,
    truePeakDbtp,
    crestFactorDb,
    dcFullScale,
    tone,
    verdict: clipping.verdict,
  };
}

function asRecord(samples: Float32Array, sampleRateHz: number): Reading {
  const measurer = new StreamMeasurer({ sampleRateHz, channelCount: 1 });
  for (let from = 0; from < samples.length; from += 5000) {
    const to = Math.min(samples.length, from + 5000);
    measurer.push([samples.subarray(from, to)], to - from);
  }
  return readingOf(measurer.finish()[0]!);
}

function asWindow(samples: Float32Array, sampleRateHz: number): Reading {
  const frames = Math.min(16_384, samples.length);
  const analyser = new WindowAnalyser({ frames, sampleRateHz });
  const window = samples.subarray(samples.length - frames);
  return readingOf(analyser.analyse(window, { band: AUDIO_BAND, expectedHz: null }));
}

/** Same shape, same words, numbers alike; levels in dB are compared as the amplitudes they stand for are, about. */
function expectAlike(actual: unknown, pinned: unknown, place: string): void {
  if (typeof pinned === 'number') {
    const away = Math.abs((actual as number) - pinned);
    expect(away, `${place}: ${actual} was ${pinned}`).toBeLessThanOrEqual(
      RELATIVE * Math.max(Math.abs(pinned), 1e-3),
    );
  } else if (pinned !== null && typeof pinned === 'object') {
    for (const [key, value] of Object.entries(pinned))
      expectAlike((actual as Record<string, unknown> | null)?.[key], value, `${place}, ${key}`);
  } else expect(actual, place).toBe(pinned);
}

const pins: Record<string, { record: Reading; window: Reading }> =
  existsSync(PINS) && !WRITE ? JSON.parse(readFileSync(PINS, 'utf8')) : {};

describe('readings are what they were before the work on speed', () => {
  test.each(Object.entries(SIGNALS))('%s', (name, recipe) => {
    const samples = samplesOf(recipe);
    const record = asRecord(samples, recipe.sampleRateHz);
    const window = asWindow(samples, recipe.sampleRateHz);
    if (WRITE) pins[name] = { record, window };
    expect(pins[name], 'the file of pins holds this signal').toBeDefined();
    expectAlike(record, pins[name]!.record, 'record');
    expectAlike(window, pins[name]!.window, 'window');
    if (WRITE) writeFileSync(PINS, `${JSON.stringify(pins, null, 2)}\n`);
  });
});
