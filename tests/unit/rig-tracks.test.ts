import { expect, test } from 'vitest';
import { SincInterpolator } from '../../src/dsp/time/sinc-interpolator.ts';
import { renderTone } from '../../src/dsp/tones/render-tone.ts';
import type { ToneSpec } from '../../src/dsp/tones/spec.ts';
import { Decimator } from '../../src/rig/decimator.ts';
import { DEMO_CONTROLS, DEMO_RIG, DEMO_TONE } from '../../src/rig/demo-rig.ts';
import { PracticeRig } from '../../src/rig/practice-rig.ts';
import type { RigTone } from '../../src/rig/rig.ts';
import { decibels, QUIET_RIG, rmsOf, samplesOf, toneIn } from './rig-listening.ts';

const RADIO = { ...DEMO_CONTROLS, probe: 'radio-left' };
/** Volts RMS of a full-scale sine at step 30 over the input's: samples of the track come out times this. */
const GAIN = (45 * 10 ** (-15 / 20)) / 35;

const track = (spec: ToneSpec, loop: boolean): RigTone => ({ kind: 'track', spec, channels: 'both', loop });

const SPECS: ToneSpec[] = [
  { kind: 'sweep', startHz: 20, endHz: 18_000, levelDbfs: -20, durationSeconds: 2 },
  { kind: 'pink', lowHz: 20, highHz: 18_000, levelDbfs: -30, durationSeconds: 2, seed: 3 },
  { kind: 'polarity', frequencyHz: 997, peakDbfs: -12, everySeconds: 0.5, durationSeconds: 2 },
  { kind: 'steps', frequencyHz: 997, levelsDbfs: [-40, -30, -20], stepSeconds: 0.5, pauseSeconds: 0.2 },
];

test.each(SPECS)(
  'a track of kind $kind is played sample by sample, once, and then there is silence',
  (spec) => {
    const rendered = renderTone(spec, 48_000);
    const rig = new PracticeRig(QUIET_RIG, RADIO, track(spec, false));
    const samples = samplesOf(rig, rendered.length / 48_000 + 0.5);
    const delay = new Decimator(48_000).delayFrames;
    const between = new SincInterpolator();
    let error = 0;
    let power = 0;
    for (let n = 100; n < rendered.length; n += 1) {
      const expected = GAIN * between.valueAt(rendered, n - delay);
      error += (samples[n]! - expected) ** 2;
      power += expected ** 2;
    }
    // Both ways between the samples are right to -98 dB; the way down keeps 20 kHz within 1e-4.
    expect(10 * Math.log10(error / power)).toBeLessThan(-75);
    const after = samples.slice(rendered.length + 200);
    expect(Math.max(...after.map(Math.abs))).toBeLessThan(2 ** -22);
  },
);

test('a sine of a track is not coloured by the way up and down in rate, to 20 kHz', () => {
  for (const hz of [50, 1000, 10_000, 19_000, 20_000]) {
    const spec: ToneSpec = { kind: 'sine', frequencyHz: hz, levelDbfs: -20, durationSeconds: 1.5 };
    const rig = new PracticeRig(QUIET_RIG, RADIO, track(spec, false));
    samplesOf(rig, 0.2);
    const samples = samplesOf(rig, 1);
    const { peak } = toneIn(samples, hz);
    expect(Math.abs(decibels(peak / GAIN) + 20)).toBeLessThan(0.01);
    // Images of the way up would fold back beside the tone.
    const rest = rmsOf(samples) ** 2 - peak ** 2 / 2;
    expect(10 * Math.log10(Math.abs(rest) / (peak ** 2 / 2))).toBeLessThan(-85);
  }
});

test('a loop repeats to the frame, bit for bit', () => {
  const spec: ToneSpec = {
    kind: 'pink',
    lowHz: 20,
    highHz: 16_000,
    levelDbfs: -30,
    durationSeconds: 0.7,
    seed: 1,
  };
  const frames = renderTone(spec, 48_000).length;
  const rig = new PracticeRig(QUIET_RIG, RADIO, track(spec, true));
  samplesOf(rig, 0.1);
  const samples = samplesOf(rig, 3);
  for (let n = 0; n + frames < samples.length; n += 1) {
    if (samples[n] !== samples[n + frames]) expect([n, samples[n + frames]]).toEqual([n, samples[n]]);
  }
  expect(rmsOf(samples)).toBeGreaterThan(0.001);
});

test('looped pulses stand at whole seconds from the start of the tone', () => {
  const spec: ToneSpec = {
    kind: 'polarity',
    frequencyHz: 997,
    peakDbfs: -12,
    everySeconds: 1,
    durationSeconds: 2,
  };
  const rig = new PracticeRig(QUIET_RIG, RADIO, DEMO_TONE);
  samplesOf(rig, 0.123);
  rig.setTone(track(spec, true));
  const samples = samplesOf(rig, 6);
  // What the tone before left behind fades within 20 ms.
  const highest = Array.from({ length: 6 }, (_, second) => {
    const part = samples.slice(second * 48_000 + 4800, (second + 1) * 48_000);
    return 4800 + part.indexOf(Math.max(...part));
  });
  expect(new Set(highest).size).toBe(1);
  const rendered = renderTone(spec, 48_000);
  const peakFrame = rendered.indexOf(Math.max(...rendered));
  expect(Math.abs(highest[0]! - peakFrame - new Decimator(48_000).delayFrames)).toBeLessThan(1);
});

test('a looped sine runs through without a seam', () => {
  const spec: ToneSpec = { kind: 'sine', frequencyHz: 997, levelDbfs: -20, durationSeconds: 0.3 };
  const rig = new PracticeRig(QUIET_RIG, RADIO, track(spec, true));
  samplesOf(rig, 0.1);
  const samples = samplesOf(rig, 1);
  const { peak } = toneIn(samples, 997);
  expect(Math.abs(decibels(peak / GAIN) + 20)).toBeLessThan(0.001);
  expect(10 * Math.log10(Math.abs(rmsOf(samples) ** 2 / (peak ** 2 / 2) - 1))).toBeLessThan(-100);
});

test('tone to track and back makes no click', () => {
  const rig = new PracticeRig(QUIET_RIG, RADIO, { ...DEMO_TONE, levelDbfs: -20 });
  samplesOf(rig, 0.2);
  const sine: ToneSpec = { kind: 'sine', frequencyHz: 1009, levelDbfs: -20, durationSeconds: 5 };
  for (const tone of [
    track(sine, false),
    { ...DEMO_TONE, levelDbfs: -20 },
    track(sine, false),
    track(sine, true),
  ]) {
    rig.setTone(tone);
    const samples = samplesOf(rig, 0.1);
    const peak = Math.max(...samples.map(Math.abs));
    const twiceCosine = 2 * Math.cos((2 * Math.PI * 1003) / 48_000);
    let worst = 0;
    for (let n = 1; n < samples.length - 1; n += 1) {
      worst = Math.max(worst, Math.abs(samples[n + 1]! - twiceCosine * samples[n]! + samples[n - 1]!));
    }
    // As for the controls: both slopes of 20 ms leave 4e-4; a track's own fade lasts 15 ms, and 6 Hz beside
    // the middle frequency leave 2e-4. A step of 1 % would leave 0.01.
    expect(worst / peak).toBeLessThan(0.002);
  }
});

test('only the sides that a track is for carry it', () => {
  const spec: ToneSpec = { kind: 'sine', frequencyHz: 997, levelDbfs: -20, durationSeconds: 2 };
  const left: RigTone = { kind: 'track', spec, channels: 'left', loop: false };
  const level = (probe: string) => {
    const rig = new PracticeRig(QUIET_RIG, { ...DEMO_CONTROLS, probe }, left);
    samplesOf(rig, 0.2);
    return rmsOf(samplesOf(rig, 0.5));
  };
  expect(level('radio-right')).toBe(0);
  expect(level('converter-left')).toBeGreaterThan(0.001);
});

test('a track that cannot be rendered is refused, and the rig plays on', () => {
  const rig = new PracticeRig(DEMO_RIG, RADIO, DEMO_TONE);
  const wrong: ToneSpec = { kind: 'sine', frequencyHz: 30_000, levelDbfs: -20, durationSeconds: 1 };
  expect(() => rig.setTone(track(wrong, false))).toThrow(/30000 Hz cannot be rendered at 48000 Hz/);
  expect(() => rig.setTone(track({ kind: 'silence', durationSeconds: 4000 }, false))).toThrow(/at most 600/);
  expect(rmsOf(samplesOf(rig, 0.2))).toBeGreaterThan(0.01);
});
