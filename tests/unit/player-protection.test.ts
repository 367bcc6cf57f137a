import { expect, test } from 'vitest';
import {
  BurstRest,
  checkLevelAllowed,
  checkSummedPeak,
  HIGHEST_LEVEL_DBFS,
  heatingDbfs,
  limitSeconds,
  loudestDbfs,
  summedPeak,
} from '../../src/audio/playback/protection.ts';
import { renderTone } from '../../src/dsp/tones/render-tone.ts';

test('a tone above the cap needs to be confirmed, one at the cap does not', () => {
  expect(() => checkLevelAllowed(-2.9, HIGHEST_LEVEL_DBFS, false)).toThrow(/must be -3 dBFS or lower/);
  expect(() => checkLevelAllowed(-2.9, HIGHEST_LEVEL_DBFS, true)).not.toThrow();
  expect(() => checkLevelAllowed(-3, HIGHEST_LEVEL_DBFS, false)).not.toThrow();
});

test('the loudest part counts, whatever the kind', () => {
  const steps = { kind: 'steps', frequencyHz: 997, stepSeconds: 1, pauseSeconds: 0.2 } as const;
  expect(loudestDbfs({ ...steps, levelsDbfs: [-30, -1, -20] })).toBe(-1);
  expect(
    loudestDbfs({ kind: 'polarity', frequencyHz: 80, peakDbfs: -6, everySeconds: 1, durationSeconds: 5 }),
  ).toBe(-6);
  expect(loudestDbfs({ kind: 'silence', durationSeconds: 1 })).toBe(Number.NEGATIVE_INFINITY);
  expect(loudestDbfs({ kind: 'sine', frequencyHz: 997, levelDbfs: -5, durationSeconds: 1 })).toBe(-5);
});

test('a coil’s heat goes by the power of a train of pulses, everything else by its level', () => {
  const train = {
    kind: 'polarity',
    frequencyHz: 997,
    furtherHz: [43],
    peakDbfs: -12,
    everySeconds: 1,
  } as const;
  const spec = { ...train, furtherHz: [...train.furtherHz], durationSeconds: 4 };
  const samples = renderTone(spec, 48_000);
  const meanSquare = samples.reduce((sum, value) => sum + value * value, 0) / samples.length;
  // Sampled at 48 kHz, the pulse of 997 Hz has 11 frames to its first swing.
  expect(heatingDbfs(spec)).toBeCloseTo(10 * Math.log10(2 * meanSquare), 2);
  expect(limitSeconds(heatingDbfs(spec), 30)).toBe(600);
  expect(heatingDbfs({ kind: 'sine', frequencyHz: 997, levelDbfs: -5, durationSeconds: 1 })).toBe(-5);
});

test('loud tones have the short limit', () => {
  expect(limitSeconds(-5, 30)).toBe(30);
  expect(limitSeconds(-20, 12)).toBe(12);
  expect(limitSeconds(-20.1, 30)).toBe(600);
});

test('voices that share an output channel are added, those that do not are not', () => {
  const left = { peak: 0.6, channels: 'left' } as const;
  const right = { peak: 0.7, channels: 'right' } as const;
  const both = { peak: 0.5, channels: 'both' } as const;
  expect(summedPeak([left, right])).toBe(0.7);
  expect(summedPeak([left, both])).toBeCloseTo(1.1, 12);
  expect(summedPeak([])).toBe(0);
  expect(() => checkSummedPeak([left, right])).not.toThrow();
  expect(() => checkSummedPeak([left, both])).toThrow(/1\.100 of full scale/);
  // A full-scale sine alone is allowed: its crest is 1.
  expect(() => checkSummedPeak([{ peak: 1, channels: 'both' }])).not.toThrow();
});

test('a burst is refused until ten times its length after the one before, however it ended', () => {
  const rest = new BurstRest();
  rest.begin(100);
  expect(() => rest.begin(100.5)).toThrow(/coil rests/);
  rest.end(100.6);
  expect(() => rest.begin(106.5)).toThrow(/may begin in 0\.1 s/);
  rest.begin(106.61);
  rest.end(107.61);
  expect(() => rest.begin(117.5)).toThrow(/coil rests/);
  expect(() => rest.begin(117.62)).not.toThrow();
});

test('a tone that was no burst begins no pause', () => {
  const rest = new BurstRest();
  rest.end(50);
  expect(() => rest.begin(50)).not.toThrow();
});
