import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { polarityPulse } from '../../src/dsp/tones/polarity.ts';
import { renderTone } from '../../src/dsp/tones/render-tone.ts';
import { readJob } from '../../src/job/read-job.ts';
import { toneSet } from '../../src/job/tone-set.ts';
import { arrivalTrain } from '../../src/procedure/arrival/train.ts';

const HATCHBACK = readJob(
  readFileSync(new URL('../../shared/examples/hatchback.job.json', import.meta.url), 'utf8'),
);

const channel = (id: string, frequencyHz: number) => ({ id, frequencyHz });

describe('the train of pulses that arrivals are compared by', () => {
  it('holds one pulse for each band, and says which is whose', () => {
    const channels = [channel('left', 997), channel('right', 997), channel('mid', 1200), channel('bass', 43)];
    const { spec, pulses } = arrivalTrain(channels, 48_000);
    expect(spec).toMatchObject({ kind: 'polarity', frequencyHz: 997, furtherHz: [43], everySeconds: 1 });
    expect(pulses).toEqual([
      { channelId: 'left', frequencyHz: 997, place: 0.25 },
      { channelId: 'right', frequencyHz: 997, place: 0.25 },
      { channelId: 'mid', frequencyHz: 997, place: 0.25 },
      { channelId: 'bass', frequencyHz: 43, place: 0.75 },
    ]);
  });

  it('is the same at every usual rate, so that the track of the tone set serves any device', () => {
    const tweeters = [channel('tweeter', 6000), channel('bass', 43)];
    expect(arrivalTrain(tweeters, 96_000)).toEqual(arrivalTrain(tweeters, 44_100));
  });

  it('is rendered with each pulse where it says, alike in every interval', () => {
    const spec = {
      ...arrivalTrain([channel('door', 997), channel('bass', 43)], 48_000).spec,
      durationSeconds: 3,
    };
    const samples = renderTone(spec, 48_000);
    const peak = 10 ** (-12 / 20);
    for (const [frequencyHz, place] of [
      [997, 0.25],
      [43, 0.75],
    ] as const) {
      const pulse = polarityPulse(frequencyHz, 48_000);
      for (const interval of [0, 1, 2]) {
        const start = Math.round((interval + place) * 48_000);
        const found = samples.slice(start, start + pulse.length);
        expect(Math.max(...found.map((value, n) => Math.abs(value - peak * pulse[n]!)))).toBe(0);
      }
    }
  });

  it('is a track of the tone set that serves every channel on both sides, for three minutes', () => {
    const track = toneSet(HATCHBACK, { sampleRateHz: 44_100, bits: 16 }).tracks.find(
      (one) => one.id === 'arrival',
    );
    expect(track).toMatchObject({
      kind: 'polarity',
      channels: 'both',
      serves: HATCHBACK.channels.map(({ id }) => id),
      furtherHz: [43],
      durationSeconds: 180,
    });
  });

  it('refuses pulses too long to stand apart', () => {
    const crowded = {
      ...arrivalTrain([channel('bass', 43)], 48_000).spec,
      furtherHz: [20, 30],
      everySeconds: 0.2,
    };
    expect(() => renderTone(crowded, 48_000)).toThrow(/interval between polarity pulses/);
  });
});
