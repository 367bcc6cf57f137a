import { describe, expect, test } from 'vitest';
import { EquivalentLevel } from '../../src/dsp/level/equivalent-level.ts';
import { FAST_SECONDS, SLOW_SECONDS, TimeWeightedLevel } from '../../src/dsp/level/time-weighted-level.ts';
import { signal } from './dsp-signals.ts';

const RATE_HZ = 48_000;
const second = (amplitude: number) =>
  signal({ sampleRateHz: RATE_HZ, frames: RATE_HZ, lines: [{ frequencyHz: 4000, amplitude }] });

describe('time weighting', () => {
  test.each([
    { name: 'fast', seconds: FAST_SECONDS },
    { name: 'slow', seconds: SLOW_SECONDS },
  ])('$name: a constant arrives as 1 - exp(-t/tau) and leaves as exp(-t/tau)', ({ seconds }) => {
    const level = new TimeWeightedLevel(seconds, RATE_HZ);
    const frames = RATE_HZ / 4;
    level.push(new Float64Array(frames).fill(0.5), 0, frames);
    const arrived = 0.25 * (1 - Math.exp(-0.25 / seconds));
    // 12 000 additions in 64 bits.
    expect(level.meanSquare / arrived).toBeCloseTo(1, 11);
    expect(level.highest).toBe(level.meanSquare);
    level.push(new Float64Array(frames), 0, frames);
    expect(level.meanSquare / (arrived * Math.exp(-0.25 / seconds))).toBeCloseTo(1, 11);
    expect(level.highest / arrived).toBeCloseTo(1, 11);
  });

  test('a steady tone settles at its mean square, highest and lowest a ripple apart', () => {
    const level = new TimeWeightedLevel(FAST_SECONDS, RATE_HZ);
    for (let n = 0; n < 3; n += 1) level.push(second(0.4), 0, RATE_HZ);
    expect(level.lowest).toBeLessThan(0.001);
    level.resetHold();
    level.push(second(0.4), 0, RATE_HZ);
    expect(level.meanSquare).toBeCloseTo(0.08, 4);
    // The square swings at 8 kHz by its mean, 1 / (2 pi 8000 * 0.125) of it gets through either way.
    const ripple = 0.08 / (2 * Math.PI * 8000 * FAST_SECONDS);
    expect((level.highest - level.lowest) / 2).toBeGreaterThan(0.8 * ripple);
    expect((level.highest - level.lowest) / 2).toBeLessThan(1.2 * ripple);
  });

  test('ends in true silence, NaN is forgotten with reset', () => {
    const level = new TimeWeightedLevel(FAST_SECONDS, 8000);
    level.push(new Float64Array(8000).fill(0.5), 0, 8000);
    // exp(-t/tau) reaches 1e-300 after 86 s.
    for (let n = 0; n < 90; n += 1) level.push(new Float64Array(8000), 0, 8000);
    expect(level.meanSquare).toBe(0);
    level.push(Float64Array.of(Number.NaN), 0, 1);
    expect(level.meanSquare).toBeNaN();
    level.reset();
    expect([level.meanSquare, level.highest, level.lowest]).toEqual([0, 0, Number.POSITIVE_INFINITY]);
    expect(() => new TimeWeightedLevel(0, 8000)).toThrow('constant of 0');
  });
});

describe('equivalent level', () => {
  test('of everything, and of the last seconds', () => {
    const level = new EquivalentLevel(RATE_HZ, 2);
    expect(level.meanSquare).toBe(0);
    expect(level.recentMeanSquare).toBe(0);
    level.push(second(0.8), 0, RATE_HZ);
    expect(level.recentMeanSquare).toBeCloseTo(0.32, 12);
    for (let n = 0; n < 3; n += 1) level.push(second(0.2), 0, RATE_HZ);
    expect(level.meanSquare).toBeCloseTo((0.32 + 3 * 0.02) / 4, 12);
    expect(level.recentMeanSquare).toBeCloseTo(0.02, 12);
    expect(level.frames).toBe(4 * RATE_HZ);
  });

  test.each([1, 777, 48_000])('blocks of %i make no difference', (block) => {
    const noise = signal({ sampleRateHz: RATE_HZ, frames: 50_000, noiseRms: 0.1 });
    const whole = new EquivalentLevel(RATE_HZ, 0.3);
    whole.push(noise, 0, noise.length);
    const parts = new EquivalentLevel(RATE_HZ, 0.3);
    for (let from = 0; from < noise.length; from += block) {
      parts.push(noise, from, Math.min(noise.length, from + block));
    }
    // Only the order of the sums differs.
    expect(parts.meanSquare / whole.meanSquare).toBeCloseTo(1, 12);
    expect(parts.recentMeanSquare / whole.recentMeanSquare).toBeCloseTo(1, 12);
  });

  test('noise leaves nothing behind, and a loud hour does not hide a quiet one', () => {
    const level = new EquivalentLevel(1000, 1, 0.1);
    level.push(new Float64Array(1000).fill(1000), 0, 1000);
    const quiet = new Float64Array(100_000).fill(1e-6);
    for (let n = 0; n < 100; n += 1) level.push(quiet, 0, quiet.length);
    // 1e7 squares of 1e-12 beside 1e9: a plain sum in steps of 2^-23 = 1.2e-7 would drop each step's 1e-10.
    const extra = level.meanSquare * 10_001_000 - 1e9;
    expect(Math.abs(extra / 1e-5 - 1)).toBeLessThan(0.02);
    expect(level.recentMeanSquare / 1e-12).toBeCloseTo(1, 12);
    level.push(new Float64Array(2000), 0, 2000);
    expect(level.recentMeanSquare).toBe(0);
  });

  test('the unfinished step counts in the whole; reset forgets', () => {
    const level = new EquivalentLevel(1000, 1);
    level.push(new Float64Array(150).fill(0.5), 0, 150);
    expect(level.meanSquare).toBe(0.25);
    expect(level.frames).toBe(100);
    level.reset();
    expect(level.meanSquare).toBe(0);
    expect(() => new EquivalentLevel(1000, 0)).toThrow('nothing to average');
  });
});
