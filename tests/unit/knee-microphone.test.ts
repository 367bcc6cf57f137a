import { describe, expect, test } from 'vitest';
import { highOrderPercent } from '../../src/dsp/knee/high-order.ts';
import { microphoneKnee } from '../../src/dsp/knee/microphone-knee.ts';
import { microphoneVerdict } from '../../src/dsp/knee/microphone-verdict.ts';
import { hard, hear, impulseResponse } from './knee-ramp.ts';

/** A driver's own, re the ceiling's level: 5 % each of 2nd and 3rd there, the one ~ level, the other ~ level^2. */
const driver = (x: number) => x + 0.1 * (x * x - 0.5) + 0.2 * (x ** 3 - 0.75 * x);

describe('by microphone, 5 % driver distortion, a reverberant cabin, 50 dB of signal against noise', () => {
  test.each([
    { toneHz: 997, seed: 1 },
    { toneHz: 400, seed: 2 },
    { toneHz: 60, seed: 3 },
  ])('$toneHz Hz, hand $seed: knee within 0.5 dB, verdict by growth', ({ toneHz, seed }) => {
    const room = impulseResponse(seed);
    const heard = hear({
      curve: hard,
      after: driver,
      toneHz,
      seed,
      snrDb: 50,
      room,
      goalsDb: [-8, 0.8, -1.5, 1.2],
    });
    const dots = heard.flatMap(({ tone }) => {
      const percent = highOrderPercent(tone.harmonicsDbc);
      return percent === null ? [] : [{ levelDbfs: tone.levelDbfs, highOrderPercent: percent }];
    });
    // The driver keeps its fundamental; the room changes every level alike.
    const roomDb = 20 * Math.log10(magnitude(room, toneHz));
    const knee = microphoneKnee(dots, { highestOrder: Math.floor(20_000 / toneHz) });
    const errorDb = (knee?.levelDbfs ?? 99) - roomDb;
    // Issue 3's figure.
    expect(Math.abs(errorDb)).toBeLessThan(0.5);
    expect(Math.abs(errorDb)).toBeLessThan(3 * (knee?.uncertaintyDb ?? 0));
    const said = dots.map((dot, at) => microphoneVerdict(dots.slice(0, at), dot).verdict);
    heard.forEach(({ driveDb }, at) => {
      if (driveDb < -0.2) expect(said[at], `${driveDb} dB`).not.toBe('clipped');
      if (driveDb > 0.5) expect(said[at], `${driveDb} dB`).toBe('clipped');
    });
    expect(said.filter((one) => one === 'clean').length).toBeGreaterThan(said.length / 4);
  });

  test('a driver alone, up to the same level, has no knee', () => {
    const room = impulseResponse(4);
    const heard = hear({
      curve: (x) => x,
      after: driver,
      toneHz: 400,
      seed: 4,
      snrDb: 50,
      room,
      goalsDb: [-8, 0.8],
    });
    const dots = heard.map(({ tone }) => ({
      levelDbfs: tone.levelDbfs,
      highOrderPercent: highOrderPercent(tone.harmonicsDbc) ?? Number.NaN,
    }));
    expect(microphoneKnee(dots, { highestOrder: 50 })).toBeNull();
    const said = dots.map((dot, at) => microphoneVerdict(dots.slice(0, at), dot).verdict);
    expect(said).not.toContain('clipped');
  });
});

describe('the verdict by growth', () => {
  const history = Array.from({ length: 60 }, (_, at) => ({
    levelDbfs: -30 + 0.1 * at,
    highOrderPercent: 0.2 * (1 + 0.1 * Math.sin(7 * at)),
  }));
  test.each([
    [0.22, 'clean'],
    [0.45, 'undecided'],
    [1.5, 'clipped'],
  ] as const)('%d %% over a baseline of 0.2 %%: %s', (highOrder, verdict) => {
    expect(microphoneVerdict(history, { levelDbfs: -24, highOrderPercent: highOrder }).verdict).toBe(verdict);
  });

  test('without a baseline nothing is said', () => {
    expect(microphoneVerdict(history, { levelDbfs: -30, highOrderPercent: 9 })).toMatchObject({
      verdict: 'undecided',
      growth: null,
    });
    expect(microphoneKnee(history, { highestOrder: 4 })).toBeNull();
  });
});

function magnitude(response: Float32Array, frequencyHz: number): number {
  let [re, im] = [0, 0];
  response.forEach((value, at) => {
    re += value * Math.cos((2 * Math.PI * frequencyHz * at) / 48_000);
    im += value * Math.sin((2 * Math.PI * frequencyHz * at) / 48_000);
  });
  return Math.hypot(re, im);
}
