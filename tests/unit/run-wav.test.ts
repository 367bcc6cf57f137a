import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { openWav } from '../../src/audio/wav/open-wav.ts';
import { readFrames } from '../../src/audio/wav/read-frames.ts';
import { runWav } from '../../src/audio/wav/run-wav.ts';
import { MarkerFinder } from '../../src/dsp/time/marker-finder.ts';
import { renderTone } from '../../src/dsp/tones/render-tone.ts';
import type { RunSound } from '../../src/dsp/tones/run-sound.ts';
import { readJob } from '../../src/job/read-job.ts';
import { usualRunOptions } from '../../src/job/run-track/options.ts';
import { runTrack } from '../../src/job/run-track/run-track.ts';
import { byteSource } from './wav-bytes.ts';

const RATE_HZ = 22_050;
const FORM = { sampleRateHz: RATE_HZ, bits: 24, ditherSeed: 5 } as const;
const HATCHBACK = readJob(
  readFileSync(new URL('../../shared/examples/hatchback.job.json', import.meta.url), 'utf8'),
);

async function sidesOf(run: RunSound, form: Parameters<typeof runWav>[1]): Promise<Float32Array[]> {
  const info = await openWav(byteSource(new Uint8Array(Buffer.concat([...runWav(run, form)]))));
  const sides = Array.from({ length: info.channelCount }, () => new Float32Array(info.frames));
  await readFrames(info, 0, info.frames, sides);
  return sides;
}

describe('a run track as a WAV file', async () => {
  const run = runTrack(HATCHBACK, usualRunOptions(HATCHBACK), RATE_HZ);
  const [left, right] = (await sidesOf(run, FORM)) as [Float32Array, Float32Array];

  it('is as long as its manifest says, with both markers where it says', () => {
    expect(left.length).toBe(Math.round(run.durationSeconds * RATE_HZ));
    const finder = new MarkerFinder(RATE_HZ);
    finder.push(right, right.length);
    const found = finder.finish();
    expect(found.map(({ end }) => end)).toEqual(['start', 'end']);
    const { startSeconds, endSeconds, durationSeconds } = run.markers;
    for (const [index, seconds] of [startSeconds, endSeconds].entries()) {
      // A digital copy: what is left is the cut of the finder's band, 0.01 of a frame.
      expect(found[index]!.middleFrame / RATE_HZ).toBeCloseTo(seconds + durationSeconds / 2, 6);
    }
  });

  it('holds each part where it says, on its sides, and nothing on the other or between', () => {
    const silent = new Uint8Array(left.length).fill(1);
    const sounds = (startSeconds: number, durationSeconds: number) => {
      const from = Math.round(startSeconds * RATE_HZ);
      silent.fill(0, from, from + Math.round(durationSeconds * RATE_HZ) + 1);
      return from;
    };
    sounds(run.markers.startSeconds, run.markers.durationSeconds);
    sounds(run.markers.endSeconds, run.markers.durationSeconds);
    // 24 bits: two steps of dither and half a step of rounding.
    const near = 2.5 / 2 ** 23;
    for (const part of run.parts) {
      const from = sounds(part.startSeconds, part.durationSeconds);
      const asked =
        part.kind === 'silence'
          ? renderTone({ kind: 'sine', ...part.keepAlive!, durationSeconds: part.durationSeconds }, RATE_HZ)
          : renderTone(part, RATE_HZ);
      for (const [side, samples] of [
        ['left', left],
        ['right', right],
      ] as const) {
        const carries = part.channels === side || part.channels === 'both';
        const worst = asked.reduce(
          (most, value, at) => Math.max(most, Math.abs(samples[from + at]! - (carries ? value : 0))),
          0,
        );
        expect(worst, `${part.id} on the ${side}`).toBeLessThan(carries ? near : 1e-12);
      }
    }
    const between = silent.reduce((sum, isSilent, at) => {
      return sum + isSilent * (Math.abs(left[at]!) + Math.abs(right[at]!));
    }, 0);
    expect(between).toBe(0);
  });

  it('is the same, byte for byte, when made again', () => {
    const form = { ...FORM, bits: 16 } as const;
    expect(Buffer.concat([...runWav(run, form)]).equals(Buffer.concat([...runWav(run, form)]))).toBe(true);
  });

  it('is refused where one part begins before another has ended', () => {
    const parts = run.parts.map((part, index) => (index === 3 ? { ...part, startSeconds: 7 } : part));
    expect(() => [...runWav({ ...run, parts }, FORM)]).toThrow(/must not overlap/);
  });
});
