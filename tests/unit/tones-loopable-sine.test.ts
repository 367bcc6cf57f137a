import { expect, test } from 'vitest';
import { loopableSine } from '../../src/dsp/tones/loopable-sine.ts';

const WANTED = [
  { frequencyHz: 997, sampleRateHz: 44_100 },
  { frequencyHz: 39.7, sampleRateHz: 48_000 },
  { frequencyHz: 89.219_769_22, sampleRateHz: 44_100 },
  { frequencyHz: 11_003.377, sampleRateHz: 96_000 },
  { frequencyHz: 1.003, sampleRateHz: 8_000 },
];

test.each(WANTED)(
  '$frequencyHz Hz at $sampleRateHz Hz loops with no seam and says its true frequency',
  (wanted) => {
    const { samples, actualHz } = loopableSine({ ...wanted, levelDbfs: -6 });
    // The player's own limit of hearing apart, a counter or multimeter resolves 0.01 Hz.
    expect(Math.abs(actualHz - wanted.frequencyHz)).toBeLessThan(0.005);
    const cycles = (actualHz * samples.length) / wanted.sampleRateHz;
    expect(Math.abs(cycles - Math.round(cycles))).toBeLessThan(1e-9);

    // A sine obeys x[n+1] = 2 cos(w) x[n] - x[n-1]; across the seam as well. Float32 rounds at 2^-25.
    const twiceCosine = 2 * Math.cos((2 * Math.PI * actualHz) / wanted.sampleRateHz);
    const at = (frame: number) => samples[(frame + samples.length) % samples.length]!;
    for (const frame of [-2, -1, 0, 1, 500]) {
      expect(Math.abs(at(frame + 1) - twiceCosine * at(frame) + at(frame - 1))).toBeLessThan(2e-7);
    }
  },
);

test('the level is exact', () => {
  const { samples } = loopableSine({ frequencyHz: 997, sampleRateHz: 48_000, levelDbfs: -12.5 });
  let sum = 0;
  for (const sample of samples) sum += sample * sample;
  // AES17 3.12.1: a sine's RMS times the root of two is its level.
  expect(20 * Math.log10(Math.sqrt((2 * sum) / samples.length))).toBeCloseTo(-12.5, 6);
});

test('refuses what cannot be played, in one sentence', () => {
  const good = { frequencyHz: 997, sampleRateHz: 48_000, levelDbfs: -6 };
  expect(() => loopableSine({ ...good, frequencyHz: 0 })).toThrow(RangeError);
  expect(() => loopableSine({ ...good, frequencyHz: 22_500 })).toThrow(/at most 22080 Hz/);
  expect(() => loopableSine({ ...good, levelDbfs: 0.1 })).toThrow(/0 dBFS/);
  expect(() => loopableSine({ ...good, sampleRateHz: Number.NaN })).toThrow(RangeError);
});
