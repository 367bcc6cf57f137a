import { describe, expect, test } from 'vitest';
import { FADE_SECONDS } from '../../src/dsp/tones/fade.ts';
import { identificationGroupSeconds } from '../../src/dsp/tones/identification.ts';
import { phaseCycles } from '../../src/dsp/tones/phase.ts';
import { polarityPulse } from '../../src/dsp/tones/polarity.ts';
import { checkToneSpec, renderTone, toneFrames, toneSeconds } from '../../src/dsp/tones/render-tone.ts';
import type { ToneSpec } from '../../src/dsp/tones/spec.ts';
import { stepStartFrames } from '../../src/dsp/tones/steps.ts';

const SINE: ToneSpec = { kind: 'sine', frequencyHz: 997, levelDbfs: -5, durationSeconds: 2 };
const PINK: ToneSpec = {
  kind: 'pink',
  lowHz: 500,
  highHz: 2_000,
  levelDbfs: -20,
  durationSeconds: 3,
  seed: 7,
};
const SWEEP: ToneSpec = { kind: 'sweep', startHz: 20, endHz: 20_000, levelDbfs: -12, durationSeconds: 5 };
const POLARITY: ToneSpec = {
  kind: 'polarity',
  frequencyHz: 100,
  peakDbfs: -6,
  everySeconds: 0.5,
  durationSeconds: 2,
};
const STEPS: ToneSpec = {
  kind: 'steps',
  frequencyHz: 997,
  levelsDbfs: [-30, -20, -10],
  stepSeconds: 1,
  pauseSeconds: 0.25,
};
const IDENTIFICATION: ToneSpec = {
  kind: 'identification',
  frequencyHz: 500,
  levelDbfs: -20,
  beeps: 3,
  durationSeconds: 4,
};
const EVERY: ToneSpec[] = [
  SINE,
  { kind: 'silence', durationSeconds: 1 },
  STEPS,
  PINK,
  SWEEP,
  POLARITY,
  IDENTIFICATION,
];

const levelDbfs = (samples: Float64Array) =>
  20 *
  Math.log10(Math.sqrt((2 * samples.reduce((sum, sample) => sum + sample * sample, 0)) / samples.length));
const highest = (samples: Float64Array) =>
  samples.reduce((peak, sample) => Math.max(peak, Math.abs(sample)), 0);

describe.each([8_000, 44_100, 48_000])('at %i Hz', (sampleRateHz) => {
  const fitting = EVERY.filter((spec) => spec.kind !== 'sweep' || sampleRateHz > 40_000);
  test.each(fitting)('$kind lasts as long as it says, starts and ends at exact zero', (spec) => {
    const samples = renderTone(spec, sampleRateHz);
    expect(samples.length).toBe(Math.round(toneSeconds(spec) * sampleRateHz));
    expect(toneFrames(spec, sampleRateHz)).toBe(samples.length);
    expect(() => checkToneSpec(spec, sampleRateHz)).not.toThrow();
    expect(samples[0]).toBeCloseTo(0, 15);
    expect(samples.at(-1)).toBeCloseTo(0, 15);
  });

  test('no tone begins or ends with a click: no sample jumps more than the tone itself moves', () => {
    for (const spec of [SINE, PINK]) {
      const samples = renderTone(spec, sampleRateHz);
      const ends = Math.round(0.002 * sampleRateHz);
      // A raised cosine has risen to sin^2(pi/2 * 2/15) = 0.043 after 2 of its 15 ms.
      expect(highest(samples.subarray(0, ends))).toBeLessThan(0.05 * highest(samples));
      expect(highest(samples.subarray(-ends))).toBeLessThan(0.05 * highest(samples));
    }
  });
});

test('a phase is right after an hour, to a part in a hundred thousand million', () => {
  // 19 999.1 as a double is a whole number of 2^-38 Hz; BigInt reduces its product with the frame exactly.
  const steps = BigInt(19_999.1 * 2 ** 38);
  const stepsPerTurn = 44_100n << 38n;
  for (const frame of [1, 44_099, 1_234_567, 158_760_001]) {
    const exact = Number((steps * BigInt(frame)) % stepsPerTurn) / Number(stepsPerTurn);
    expect(Math.abs(phaseCycles(19_999.1, frame, 44_100) - exact)).toBeLessThan(1e-11);
  }
});

test('a sine holds its level to 0.001 dB over whole cycles, at any level, full scale included', () => {
  for (const level of [0, -0.3, -5, -60]) {
    const samples = renderTone({ ...SINE, levelDbfs: level }, 48_000);
    // 997 whole cycles in 48 000 frames, clear of both fades.
    const steady = samples.subarray(12_000, 60_000);
    expect(Math.abs(levelDbfs(steady) - level)).toBeLessThan(0.001);
  }
});

test('steps stand at their levels and are silent between', () => {
  const samples = renderTone(STEPS, 48_000);
  const starts = stepStartFrames(STEPS as Extract<ToneSpec, { kind: 'steps' }>, 48_000);
  expect(starts).toEqual([0, 60_000, 120_000]);
  const fade = Math.ceil(FADE_SECONDS * 48_000);
  for (const [step, start] of starts.entries()) {
    const peak = highest(samples.subarray(start + fade, start + 48_000 - fade));
    // The highest sample of a 997 Hz sine at 48 kHz lies within cos(2 pi 997 / 96000) of its crest.
    expect(20 * Math.log10(peak)).toBeGreaterThan([-30, -20, -10][step]! - 0.02);
    expect(20 * Math.log10(peak)).toBeLessThan([-30, -20, -10][step]! + 1e-9);
  }
  expect(highest(samples.subarray(48_000, 60_000))).toBe(0);
});

test('pink noise repeats bit for bit by its seed, and differs by another', () => {
  const once = renderTone(PINK, 44_100);
  expect(renderTone(PINK, 44_100)).toEqual(once);
  expect(renderTone({ ...PINK, seed: 8 }, 44_100)).not.toEqual(once);
  expect(levelDbfs(once)).toBeCloseTo(-20, 9);
});

test('pink noise that would pass full scale names the level that fits, and that level does fit', () => {
  const loud = { ...PINK, levelDbfs: -3 };
  let sentence = '';
  try {
    renderTone(loud, 44_100);
  } catch (error) {
    sentence = String(error);
  }
  const fitting = Number(/at most (-[\d.]+) dBFS/.exec(sentence)?.[1]);
  expect(fitting).toBeLessThan(-3);
  expect(highest(renderTone({ ...PINK, levelDbfs: fitting }, 44_100))).toBeLessThanOrEqual(32_766 / 32_768);
  expect(() => renderTone({ ...PINK, levelDbfs: fitting + 0.1 }, 44_100)).toThrow(RangeError);
});

test("a sweep's frequency grows by the same factor in every second (Farina 2000)", () => {
  const samples = renderTone(SWEEP, 48_000);
  const growthSeconds = 5 / Math.log(1_000);
  for (const seconds of [1, 2, 3]) {
    // Zero crossings counted over 0.2 s against the integral of f1 e^(t/L): the count is whole, hence within 1.
    let crossings = 0;
    for (let frame = seconds * 48_000; frame < (seconds + 0.2) * 48_000; frame += 1) {
      if (samples[frame]! < 0 !== samples[frame + 1]! < 0) crossings += 1;
    }
    const turns =
      20 * growthSeconds * (Math.exp((seconds + 0.2) / growthSeconds) - Math.exp(seconds / growthSeconds));
    expect(Math.abs(crossings - 2 * turns)).toBeLessThanOrEqual(1);
  }
  expect(20 * Math.log10(highest(samples))).toBeCloseTo(-12, 3);
});

test('a polarity pulse swings up first, three times as high as back, and carries no direct current', () => {
  const pulse = polarityPulse(100, 48_000);
  const peakAt = pulse.indexOf(1);
  const valley = Math.min(...pulse);
  expect(peakAt).toBeGreaterThan(0);
  expect(peakAt).toBeLessThan(pulse.indexOf(valley));
  expect(valley).toBeCloseTo(-1 / 3, 4);
  expect(Math.abs(pulse.reduce((sum, sample) => sum + sample, 0))).toBeLessThan(1e-6);
});

test("a polarity pulse's spectrum peaks at the frequency it is named by", () => {
  const pulse = polarityPulse(100, 48_000);
  const power = (frequencyHz: number) => {
    let real = 0;
    let imaginary = 0;
    for (const [frame, sample] of pulse.entries()) {
      real += sample * Math.cos((2 * Math.PI * frequencyHz * frame) / 48_000);
      imaginary += sample * Math.sin((2 * Math.PI * frequencyHz * frame) / 48_000);
    }
    return real * real + imaginary * imaginary;
  };
  expect(power(100)).toBeGreaterThan(power(99));
  expect(power(100)).toBeGreaterThan(power(101));
});

test('a polarity train holds its pulses in the middle of each interval', () => {
  const samples = renderTone(POLARITY, 48_000);
  const peak = 10 ** (-6 / 20);
  const peaks = [...samples.keys()].filter((frame) => samples[frame] === peak);
  expect(peaks.length).toBe(4);
  expect(new Set(peaks.slice(1).map((frame, index) => frame - peaks[index]!))).toEqual(new Set([24_000]));
  expect(highest(samples.subarray(0, 11_999))).toBe(0);
});

test('an identification counts out its beeps in whole groups', () => {
  const samples = renderTone({ ...IDENTIFICATION, durationSeconds: 5 }, 48_000);
  const loud = [...samples.keys()].filter((frame) => Math.abs(samples[frame]!) > 0.05);
  const beeps = loud.filter((frame, index) => index === 0 || frame - loud[index - 1]! > 4_800);
  expect(beeps.length).toBe(2 * 3);
  expect((beeps[3]! - beeps[0]!) / 48_000).toBeCloseTo(identificationGroupSeconds(3), 3);
});

test.each<[string, ToneSpec, RegExp]>([
  ['negative duration', { ...SINE, durationSeconds: -1 } as ToneSpec, /A sine of -1 s/],
  ['no duration', { kind: 'silence', durationSeconds: Number.NaN }, /A silence of NaN s/],
  [
    'frequency too high',
    { ...SINE, frequencyHz: 21_000 } as ToneSpec,
    /21000 Hz cannot be rendered at 44100 Hz/,
  ],
  ['negative frequency', { ...SINE, frequencyHz: -1 } as ToneSpec, /-1 Hz/],
  ['above full scale', { ...SINE, levelDbfs: 0.01 } as ToneSpec, /0.01 dBFS/],
  ['band the wrong way round', { ...PINK, lowHz: 3_000 } as ToneSpec, /3000 to 2000 Hz is empty/],
  ['sweep the wrong way round', { ...SWEEP, endHz: 10 } as ToneSpec, /20 to 10 Hz is empty/],
  ['no steps', { ...STEPS, levelsDbfs: [] } as ToneSpec, /at least one level/],
  ['half a beep', { ...IDENTIFICATION, beeps: 0.5 } as ToneSpec, /0.5 beeps/],
  [
    'no room for a group',
    { ...IDENTIFICATION, durationSeconds: 1 } as ToneSpec,
    /identification of 3 beeps of 1 s/,
  ],
  ['pulse too sharp', { ...POLARITY, frequencyHz: 2_000 } as ToneSpec, /at most 1378/],
  ['pulses too close', { ...POLARITY, everySeconds: 0.01 } as ToneSpec, /interval between polarity pulses/],
])('refuses %s in one sentence', (_, spec, sentence) => {
  const refused = () => renderTone(spec, 44_100);
  expect(refused).toThrow(RangeError);
  expect(refused).toThrow(sentence);
  expect(() => checkToneSpec(spec, 44_100)).toThrow(sentence);
});
