/** A radio made of arithmetic, for the folds of the Source station: what it plays, as takes. */
import type { ToneStretches } from '../../src/dsp/time/tone-stretches.ts';
import { readTake } from '../../src/procedure/take/read-take.ts';
import type { Take } from '../../src/procedure/take/take.ts';
import type { ToneTakeReading } from '../../src/procedure/take/tone-take.ts';
import { seededUniform } from './seeded-random.ts';

export const RATE = 48_000;

/** White noise of the measuring input, RMS at full scale 1.0: -100 dBFS, as a fair sound card has. */
const NOISE = 10 ** (-100 / 20) / Math.SQRT2;

export interface Sounding {
  frequencyHz: number;
  /** Before the ceiling. */
  peak: number;
  ceiling?: number;
  seconds?: number;
  seed?: number;
}

export function sounding({
  frequencyHz,
  peak,
  ceiling = 1,
  seconds = 0.6,
  seed = 1,
}: Sounding): Float32Array {
  const random = seededUniform(seed);
  const samples = new Float32Array(Math.round(seconds * RATE));
  for (let n = 0; n < samples.length; n += 1) {
    const tone = peak * Math.sin((2 * Math.PI * frequencyHz * n) / RATE);
    const noise = NOISE * Math.sqrt(12) * (random() - 0.5);
    samples[n] = Math.max(-ceiling, Math.min(ceiling, tone)) + noise;
  }
  return samples;
}

export function takeOf(...channels: Float32Array[]): Take {
  return { sampleRateHz: RATE, startFrame: 0, channels, doubts: [] };
}

export function toneReading(what: Sounding, channelIndex = 0): ToneTakeReading {
  return readTake({ kind: 'tone', channelIndex, frequencyHz: what.frequencyHz }, takeOf(sounding(what)));
}

/** What `toneStretches` says of a tone that was there in these stretches; levels are read off them. */
export function stretchesOf(
  seconds: number,
  loud: readonly [number, number][],
  quiet: readonly [number, number, number][] = [],
): ToneStretches {
  const levelsDbfs = Array.from({ length: Math.floor(seconds / 0.5) }, (_, index) => {
    const middle = (index + 0.5) * 0.5;
    if (loud.some(([from, to]) => middle > from && middle < to)) return -20;
    return quiet.find(([from, to]) => middle > from && middle < to)?.[2] ?? -120;
  });
  return {
    loudDbfs: -20,
    stretches: loud.map(([startSeconds, endSeconds]) => ({ startSeconds, endSeconds })),
    levelsDbfs,
    everySeconds: 0.5,
  };
}
