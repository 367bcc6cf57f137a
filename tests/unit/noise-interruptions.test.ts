import { describe, expect, test } from 'vitest';
import { findInterruptions } from '../../src/dsp/noise/interruptions.ts';
import { addComb, music, type NoiseColour, noise } from './noise-recordings.ts';

const RATE_HZ = 48_000;
const NOTHING = { clicks: [], dropouts: [], crowded: false };

function tone(frequencyHz: number, peak: number, seconds: number, noiseRms = 1e-4): Float64Array {
  return addComb(noise('white', noiseRms, seconds * RATE_HZ, 3), RATE_HZ, () => frequencyHz, [peak]);
}

const onSixteenBits = (samples: Float64Array) => samples.map((x) => Math.round(x * 32768) / 32768);

describe('a clean record has neither clicks nor dropouts', () => {
  test.each<NoiseColour>(['white', 'pink', 'brown'])('%s noise', (colour) => {
    for (let seed = 1; seed <= 10; seed += 1) {
      expect(findInterruptions(noise(colour, 0.05, 3 * RATE_HZ, seed), RATE_HZ)).toEqual(NOTHING);
    }
  });

  test.each([31, 40, 100, 997, 9000])('a tone of %s Hz, as it is and on 16 bits', (hz) => {
    expect(findInterruptions(tone(hz, 0.5, 3), RATE_HZ)).toEqual(NOTHING);
    expect(findInterruptions(onSixteenBits(tone(hz, 0.001, 3, 0)), RATE_HZ)).toEqual(NOTHING);
    expect(findInterruptions(onSixteenBits(tone(hz, 0.5, 3, 0)), RATE_HZ)).toEqual(NOTHING);
  });

  test('music, with pauses and attacks', () => {
    for (let seed = 1; seed <= 8; seed += 1) {
      expect(findInterruptions(music(RATE_HZ, 5, seed), RATE_HZ), `seed ${seed}`).toEqual(NOTHING);
    }
  });

  test('a tone whose clock drifts by 200 ppm within the record', () => {
    const drifting = addComb(
      noise('white', 1e-4, 5 * RATE_HZ, 3),
      RATE_HZ,
      (t) => 997 * (1 + 4e-5 * t),
      [0.5],
    );
    expect(findInterruptions(drifting, RATE_HZ)).toEqual(NOTHING);
  });

  test('a faint low tone on 16 bits, which rests on each of its few codes', () => {
    expect(findInterruptions(onSixteenBits(tone(31, 1.6e-4, 3, 0)), RATE_HZ)).toEqual(NOTHING);
  });

  test('noise that grows by 40 dB within 3 ms, wherever that falls', () => {
    for (let at = 48_000; at < 48_256; at += 37) {
      const growing = noise('white', 0.1, 2 * RATE_HZ, at).map((x, n) => {
        const part = Math.max(0, Math.min(1, (n - at) / (0.003 * RATE_HZ)));
        return x * 10 ** (-2 + 2 * part);
      });
      expect(findInterruptions(growing, RATE_HZ), `at ${at}`).toEqual(NOTHING);
    }
  });

  test('a sound that dies away and begins anew has no gap', () => {
    const dying = noise('white', 0.1, 2 * RATE_HZ, 6).map((x, n) => {
      const milliseconds = (n - RATE_HZ) / 48;
      return milliseconds > 0 && milliseconds < 30 ? x * 10 ** (-(1.5 * milliseconds) / 20) : x;
    });
    expect(findInterruptions(dying, RATE_HZ).dropouts).toEqual([]);
  });

  test('a hum whose crests are cut flat has no dropouts', () => {
    const flat = tone(50, 0.9, 2, 0).map((x) => Math.max(-0.5, Math.min(0.5, x)));
    expect(findInterruptions(flat, RATE_HZ).dropouts).toEqual([]);
  });
});

describe('clicks', () => {
  test.each([
    { under: 'pink noise', samples: () => noise('pink', 0.01, 4 * RATE_HZ, 2), height: 0.1 },
    { under: 'music', samples: () => music(RATE_HZ, 4, 2), height: 0.1 },
    { under: 'a loud tone', samples: () => tone(997, 0.5, 4), height: 0.005 },
  ])('in $under: each counted once, at its time', ({ samples, height }) => {
    const clicked = samples();
    const at = [0.513, 1.2, 1.234, 2.611, 3.9];
    for (const [index, seconds] of at.entries()) {
      const frame = Math.round(seconds * RATE_HZ);
      const sign = index % 2 === 0 ? 1 : -1;
      clicked[frame] = clicked[frame]! + sign * height;
      clicked[frame + 1] = clicked[frame + 1]! + sign * height * 0.6;
    }
    const { clicks, dropouts, crowded } = findInterruptions(clicked, RATE_HZ);
    expect(clicks).toHaveLength(at.length);
    for (const [index, click] of clicks.entries()) {
      expect(Math.abs(click.seconds - at[index]!)).toBeLessThan(0.0001);
      expect(Math.abs(click.peakDbfs - 20 * Math.log10(height))).toBeLessThan(3);
    }
    expect(dropouts).toEqual([]);
    expect(crowded).toBe(false);
  });

  test('a hundred a second are a buzz', () => {
    const buzz = noise('pink', 0.001, 2 * RATE_HZ, 2);
    for (let n = 240; n < buzz.length; n += 480) buzz[n] = buzz[n]! + 0.2;
    expect(findInterruptions(buzz, RATE_HZ).crowded).toBe(true);
  });
});

describe('dropouts', () => {
  const at = (seconds: number) => Math.round(seconds * RATE_HZ);

  test.each([
    {
      kind: 'zeros' as const,
      hole: (samples: Float64Array) => samples.fill(0, at(1.5), at(1.5) + 1024),
      long: 1024,
    },
    {
      kind: 'held' as const,
      hole: (samples: Float64Array) => samples.fill(samples[at(1.5)]!, at(1.5), at(1.5) + 128),
      long: 128,
    },
    {
      kind: 'gap' as const,
      hole: (samples: Float64Array) => {
        for (let n = at(1.5); n < at(1.55); n += 1) samples[n] = samples[n]! / 1000;
        return samples;
      },
      long: 2400,
    },
  ])('$kind in noise, music and tone: one, at its time, and no click beside it', ({ kind, hole, long }) => {
    for (const samples of [noise('pink', 0.05, 3 * RATE_HZ, 4), tone(440, 0.3, 3), tone(60, 0.3, 3)]) {
      const { clicks, dropouts } = findInterruptions(hole(samples), RATE_HZ);
      expect(clicks).toEqual([]);
      expect(dropouts).toHaveLength(1);
      expect(dropouts[0]!.kind).toBe(kind);
      expect(Math.abs(dropouts[0]!.seconds - 1.5)).toBeLessThan(kind === 'gap' ? 0.006 : 0.0001);
      expect(Math.abs(dropouts[0]!.lengthSeconds - long / RATE_HZ)).toBeLessThan(
        kind === 'gap' ? 0.011 : 0.0001,
      );
    }
  });

  test('frames left out of a tone break its phase', () => {
    for (const lost of [1, 7, 300]) {
      const whole = tone(997, 0.3, 3);
      const broken = Float64Array.from([
        ...whole.subarray(0, at(1.237)),
        ...whole.subarray(at(1.237) + lost),
      ]);
      const { clicks, dropouts } = findInterruptions(broken, RATE_HZ);
      expect(clicks, `${lost} frames`).toEqual([]);
      expect(dropouts, `${lost} frames`).toHaveLength(1);
      expect(dropouts[0]!.kind).toBe('phase-break');
      const turned = (2 * Math.PI * 997 * lost) / RATE_HZ;
      const jump = turned - 2 * Math.PI * Math.round(turned / (2 * Math.PI));
      expect(Math.abs(dropouts[0]!.phaseRadians! - jump)).toBeLessThan(0.05);
      expect(Math.abs(dropouts[0]!.seconds - 1.237)).toBeLessThan(0.02);
    }
  });
});
