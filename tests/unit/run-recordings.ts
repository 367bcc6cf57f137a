/** The run track of the demo job as some recorder may have it. */
import { readFileSync } from 'node:fs';
import { runWav } from '../../src/audio/wav/run-wav.ts';
import { type CheckWish, checkTask } from '../../src/job/check-task.ts';
import type { RunTrack } from '../../src/job/manifest.ts';
import { readJob } from '../../src/job/read-job.ts';
import { type RunOptions, usualRunOptions } from '../../src/job/run-track/options.ts';
import { runTrack } from '../../src/job/run-track/run-track.ts';
import type { CheckReport } from '../../src/procedure/check/check.ts';
import { checkRecording } from '../../src/procedure/check/check-recording.ts';
import { seededGauss, seededUniform } from './seeded-random.ts';

export const HATCHBACK = readJob(
  readFileSync(new URL('../../shared/examples/hatchback.job.json', import.meta.url), 'utf8'),
);
export const RATE_HZ = 44_100;
const WAV_HEADER_BYTES = 44;

export function hatchbackRun(options: Partial<RunOptions> = {}): RunTrack {
  return { file: 'run.wav', ...runTrack(HATCHBACK, { ...usualRunOptions(HATCHBACK), ...options }, RATE_HZ) };
}

/** Left and right as they are played: rendered as the tone set renders them, 16 bits. */
export function played(run: RunTrack): [Float32Array, Float32Array] {
  const bytes = Buffer.concat([...runWav(run, { sampleRateHz: RATE_HZ, bits: 16, ditherSeed: 1 })]);
  const frames = (bytes.length - WAV_HEADER_BYTES) / 4;
  const side = (offset: number) =>
    Float32Array.from(
      { length: frames },
      (_, frame) => bytes.readInt16LE(WAV_HEADER_BYTES + 4 * frame + offset) / 32_768,
    );
  return [side(0), side(2)];
}

export function scaled(samples: Float32Array, db: number): Float32Array {
  return samples.map((sample) => sample * 10 ** (db / 20));
}

export function clippedAt(samples: Float32Array, peak: number): Float32Array {
  return samples.map((sample) => Math.max(-peak, Math.min(peak, sample)));
}

/** @param dbfs in the sine convention, over half the rate */
export function noisy(samples: Float32Array, dbfs: number, seed = 7): Float32Array {
  const gauss = seededGauss(seededUniform(seed));
  const rms = 10 ** (dbfs / 20) * Math.SQRT1_2;
  return samples.map((sample) => sample + rms * gauss());
}

/** Second-order Butterworth sections by the bilinear transform (R. Bristow-Johnson's formulas). */
export function filtered(
  samples: Float32Array,
  kind: 'high-pass' | 'low-pass',
  cutoffHz: number,
  sections = 2,
): Float32Array {
  const w = (2 * Math.PI * cutoffHz) / RATE_HZ;
  const alpha = Math.sin(w) * Math.SQRT1_2;
  const sign = kind === 'high-pass' ? -1 : 1;
  const b = (1 - sign * Math.cos(w)) / 2 / (1 + alpha);
  const [a1, a2] = [(-2 * Math.cos(w)) / (1 + alpha), (1 - alpha) / (1 + alpha)];
  let out: Float64Array = Float64Array.from(samples);
  for (let section = 0; section < sections; section += 1) {
    let [x1, x2, y1, y2] = [0, 0, 0, 0];
    out = out.map((x) => {
      const y = b * (x + 2 * sign * x1 + x2) - a1 * y1 - a2 * y2;
      [x2, x1, y2, y1] = [x1, x, y1, y];
      return y;
    });
  }
  return Float32Array.from(out);
}

/** As a door's amplifier passes it. */
export function door(samples: Float32Array): Float32Array {
  return filtered(samples, 'high-pass', 80);
}

export interface Checked {
  run: RunTrack;
  channels: readonly Float32Array[];
  job?: typeof HATCHBACK | null;
  at?: CheckWish['at'];
  voltsPerFs?: number | null;
}

export function checked({
  run,
  channels,
  job = HATCHBACK,
  at = [],
  voltsPerFs = null,
}: Checked): Promise<CheckReport> {
  const wish = { at, channelCount: channels.length, voltsPerFs };
  return checkRecording(checkTask(run, job, wish), {
    sampleRateHz: RATE_HZ,
    channelCount: channels.length,
    frames: channels[0]!.length,
    read: async (start, frames) => channels.map((samples) => samples.slice(start, start + frames)),
  });
}

/** Which channel has which fault. */
export function named({ faults }: CheckReport): string[] {
  return faults.map(({ channel, fault }) => `${channel}: ${fault}`).sort();
}

/** Ids of the parts that failed at a channel. */
export function failedAt({ parts }: CheckReport, channel: string): string[] {
  return parts.filter((part) => part.verdict === 'failed' && part.channel === channel).map(({ id }) => id);
}
