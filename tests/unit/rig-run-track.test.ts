/** The practice rig's radio plays a run track as its file has it, part by part. */
import { expect, test } from 'vitest';
import { SincInterpolator } from '../../src/dsp/time/sinc-interpolator.ts';
import { renderMarker } from '../../src/dsp/tones/marker.ts';
import { renderTone } from '../../src/dsp/tones/render-tone.ts';
import type { RunSound } from '../../src/dsp/tones/run-sound.ts';
import type { SineSpec } from '../../src/dsp/tones/spec.ts';
import { Decimator } from '../../src/rig/decimator.ts';
import { DEMO_CONTROLS, DEMO_RIG, DEMO_TONE } from '../../src/rig/demo-rig.ts';
import { faultyRig } from '../../src/rig/faults.ts';
import { MULTIMETER_POINTS, rigMultimeter } from '../../src/rig/multimeter.ts';
import { PracticeRig } from '../../src/rig/practice-rig.ts';
import type { RigTone } from '../../src/rig/rig.ts';
import { noiseless, QUIET_RIG, rmsOf, samplesOf } from './rig-listening.ts';

const RATE_HZ = 48_000;
/** Volts RMS of a full-scale sine at step 30 over the input's: samples of the track come out times this. */
const GAIN = (45 * 10 ** (-15 / 20)) / 35;
const DELAY_FRAMES = new Decimator(RATE_HZ).delayFrames;

const KEEP_ALIVE = { frequencyHz: 25, levelDbfs: -40 };
const RUN: RunSound = {
  durationSeconds: 7,
  markers: { startSeconds: 0.2, endSeconds: 6.4, levelDbfs: -12 },
  parts: [
    {
      kind: 'sine',
      channels: 'left',
      startSeconds: 0.7,
      frequencyHz: 997,
      levelDbfs: -20,
      durationSeconds: 0.6,
    },
    { kind: 'silence', channels: 'both', startSeconds: 1.6, durationSeconds: 0.8, keepAlive: KEEP_ALIVE },
    { kind: 'silence', channels: 'both', startSeconds: 2.5, durationSeconds: 0.5 },
    {
      kind: 'polarity',
      channels: 'right',
      startSeconds: 3.1,
      frequencyHz: 997,
      peakDbfs: -12,
      everySeconds: 0.4,
      durationSeconds: 1.2,
    },
    {
      kind: 'sweep',
      channels: 'both',
      startSeconds: 4.6,
      startHz: 20,
      endHz: 18_000,
      levelDbfs: -20,
      durationSeconds: 1.5,
    },
  ],
};

/** What the file holds on a side, put together by hand. */
function rendered(side: 'left' | 'right'): Float64Array {
  const samples = new Float64Array(RUN.durationSeconds * RATE_HZ);
  const put = (startSeconds: number, part: Float64Array) =>
    samples.set(part, Math.round(startSeconds * RATE_HZ));
  const { startSeconds, endSeconds, levelDbfs } = RUN.markers;
  put(startSeconds, renderMarker('start', RATE_HZ, levelDbfs));
  put(endSeconds, renderMarker('end', RATE_HZ, levelDbfs));
  for (const { keepAlive, ...part } of RUN.parts) {
    const { channels, startSeconds: from } = part;
    if (channels !== 'both' && channels !== side) continue;
    const { durationSeconds } = part as SineSpec;
    const spec = keepAlive === undefined ? part : ({ kind: 'sine', ...keepAlive, durationSeconds } as const);
    put(from, renderTone(spec, RATE_HZ));
  }
  return samples;
}

const playing = (run: RunSound): RigTone => ({ kind: 'run', run });

test.each(['left', 'right'] as const)(
  'on the %s: every part sample by sample, on its own side and from its own frame, and then nothing',
  (side) => {
    const file = rendered(side);
    const rig = new PracticeRig(QUIET_RIG, { ...DEMO_CONTROLS, probe: `radio-${side}` }, playing(RUN));
    const samples = samplesOf(rig, RUN.durationSeconds + 1);
    const between = new SincInterpolator();
    let error = 0;
    let power = 0;
    for (let n = 100; n < file.length; n += 1) {
      const expected = GAIN * between.valueAt(file, n - DELAY_FRAMES);
      error += (samples[n]! - expected) ** 2;
      power += expected ** 2;
    }
    // As for any track: both ways between the samples are right to -98 dB, the way down keeps 20 kHz within 1e-4.
    expect(10 * Math.log10(error / power)).toBeLessThan(-75);
    expect(Math.max(...samples.slice(file.length).map(Math.abs))).toBeLessThan(2 ** -22);
  },
);

test('between two parts there are exact zeros', () => {
  const rig = new PracticeRig(QUIET_RIG, { ...DEMO_CONTROLS, probe: 'radio-left' }, playing(RUN));
  const samples = samplesOf(rig, RUN.durationSeconds);
  // The kernels up and down ring for some hundred frames past a part's end.
  const quiet = (from: number, to: number) =>
    samples.subarray(Math.round(from * RATE_HZ) + 200, Math.round(to * RATE_HZ));
  for (const stretch of [quiet(0.456, 0.7), quiet(1.3, 1.6), quiet(2.4, 4.6), quiet(6.1, 6.4)]) {
    expect(Math.max(...stretch.map(Math.abs))).toBe(0);
  }
});

test('each part loads channels and supply while it sounds, as it would alone; by itself the track is at rest', () => {
  const poor = noiseless(faultyRig(DEMO_RIG, 'poor-ground'));
  // Far past the knee everywhere: what stands at the terminals is the ceiling, which follows the supply.
  const gains = Object.fromEntries(poor.channels.map(({ id }) => [id, 0.9]));
  const controls = { ...DEMO_CONTROLS, gains };
  const spec: SineSpec = { kind: 'sine', frequencyHz: 997, levelDbfs: -5, durationSeconds: 1 };
  const run: RunSound = {
    durationSeconds: 3.5,
    markers: { startSeconds: 0.1, endSeconds: 3.1, levelDbfs: -12 },
    parts: [
      { ...spec, channels: 'left', startSeconds: 0.5 },
      { ...spec, channels: 'both', startSeconds: 1.8 },
    ],
  };
  const middleOf = (tone: RigTone, startSeconds: number) => {
    const rig = new PracticeRig(poor, controls, tone);
    samplesOf(rig, startSeconds + 0.4);
    return rmsOf(samplesOf(rig, 0.4));
  };
  const alone = (channels: 'left' | 'both') => middleOf({ kind: 'track', spec, channels, loop: false }, 0);
  // Whole periods apart but for the start of the second, within a thousandth.
  expect(middleOf(playing(run), 0.5) / alone('left')).toBeCloseTo(1, 3);
  expect(middleOf(playing(run), 1.8) / alone('both')).toBeCloseTo(1, 3);
  expect(alone('both') / alone('left')).toBeLessThan(0.97);
  const silence: RigTone = { ...DEMO_TONE, kind: 'silence' };
  for (const point of MULTIMETER_POINTS) {
    expect(rigMultimeter(poor, controls, playing(run), point)).toBe(
      rigMultimeter(poor, controls, silence, point),
    );
  }
});

test('another tone takes its place at once, and played anew it begins at its beginning', () => {
  const rig = new PracticeRig(QUIET_RIG, { ...DEMO_CONTROLS, probe: 'radio-left' }, playing(RUN));
  samplesOf(rig, 0.9);
  rig.setTone({ ...DEMO_TONE, kind: 'silence' });
  samplesOf(rig, 0.1);
  expect(rmsOf(samplesOf(rig, 6))).toBe(0);
  rig.setTone(playing(RUN));
  const again = samplesOf(rig, 1.3);
  const first = samplesOf(
    new PracticeRig(QUIET_RIG, { ...DEMO_CONTROLS, probe: 'radio-left' }, playing(RUN)),
    1.3,
  );
  expect(again).toEqual(first);
});

test.each([
  [
    'parts that overlap',
    { ...RUN, markers: { ...RUN.markers, endSeconds: 5 } },
    /begins at 5 s, before the one ahead of it has ended/,
  ],
  ['a length that its parts pass', { ...RUN, durationSeconds: 6.5 }, /6\.5 s long, and its last part ends/],
  ['a track of an hour', { ...RUN, durationSeconds: 3600 }, /run track of 3600.*at most 600 seconds/],
  [
    'a part that cannot be rendered',
    { ...RUN, parts: [{ ...RUN.parts[0]!, frequencyHz: 30_000 }] } as RunSound,
    /30000 Hz cannot be rendered at 48000 Hz/,
  ],
  ['a marker too loud', { ...RUN, markers: { ...RUN.markers, levelDbfs: 3 } }, /level of 3 dBFS/],
])('%s: refused in one sentence before anything plays, and the rig plays on', (_, run, sentence) => {
  const rig = new PracticeRig(QUIET_RIG, { ...DEMO_CONTROLS, probe: 'radio-left' }, DEMO_TONE);
  expect(() => rig.setTone(playing(run))).toThrow(sentence);
  expect(rmsOf(samplesOf(rig, 0.2))).toBeGreaterThan(0.01);
});
