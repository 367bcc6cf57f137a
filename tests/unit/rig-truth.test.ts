import fc from 'fast-check';
import { expect, test } from 'vitest';
import { DEMO_CONTROLS, DEMO_RIG, DEMO_TONE } from '../../src/rig/demo-rig.ts';
import { PracticeRig } from '../../src/rig/practice-rig.ts';
import type { RigConfig, RigControls, RigSineTone } from '../../src/rig/rig.ts';
import { gainSetting } from '../../src/rig/settings.ts';
import { rigTruth } from '../../src/rig/truth.ts';

/** Gain of the demo's chain from the radio's full scale to the amplifier's input: step, then converter. */
const lineVolts = (step: number, levelDbfs: number) => 45 * 10 ** ((levelDbfs + (step - 40) * 1.5 - 14) / 20);

/**
 * The same chain, written again from the words of rig.ts and integrated over a
 * quarter period by the midpoint rule: peak of the fundamental at the terminals.
 */
function integrated(peak: number, softness: number, converterCeiling: number, gain: number, ceiling: number) {
  const radio = (volts: number) => {
    const size = volts / 12;
    if (size < 1 - softness) return volts;
    if (size > 1 + softness) return 12;
    return 12 * (size - (size - 1 + softness) ** 2 / (4 * softness));
  };
  const points = 200_000;
  let sum = 0;
  for (let k = 0; k < points; k += 1) {
    const sine = Math.sin((Math.PI / 2) * ((k + 0.5) / points));
    const line = Math.min(radio(peak * sine) * 10 ** (-14 / 20), converterCeiling);
    sum += Math.min(line * gain, ceiling) * sine;
  }
  return (2 * sum) / points;
}

test('the closed form agrees with the chain integrated numerically, whatever limits first', () => {
  const figures = fc.record({
    step: fc.integer({ min: 20, max: 40 }),
    softness: fc.constantFrom(0, 0.01, 0.2),
    converterCeiling: fc.double({ min: 1, max: 4, noNaN: true }),
    setting: fc.double({ min: 0, max: 1, noNaN: true }),
  });
  fc.assert(
    fc.property(figures, ({ step, softness, converterCeiling, setting }) => {
      const config: RigConfig = {
        ...DEMO_RIG,
        radio: { ...DEMO_RIG.radio, softness },
        converter: { ...DEMO_RIG.converter, ceilingPeakVolts: converterCeiling },
      };
      const controls: RigControls = { ...DEMO_CONTROLS, volumeStep: step, gains: { 'front-left': setting } };
      const peak = 45 * Math.SQRT2 * 10 ** ((-5 + (step - 40) * 1.5) / 20);
      const gain = 10 ** ((9 + 28 * setting) / 20);
      const expected = integrated(peak, softness, converterCeiling, gain, 18.4 * Math.SQRT2) / Math.SQRT2;
      const truth = rigTruth(config, { ...controls, filtersOff: true }, DEMO_TONE);
      // The midpoint rule over 200 000 points errs by 1e-10 of a smooth wave, 1e-9 across a corner.
      expect(Math.abs(truth.outputVolts / expected - 1)).toBeLessThan(1e-8);
    }),
    { numRuns: 60, seed: 1 },
  );
});

test('generator and closed form agree, for each channel and for the first stage that clips', () => {
  const cases: { controls: RigControls; tone: RigSineTone; first: string | null }[] = [
    { controls: turned('front-left', 17.3205, 30, -5, 1), tone: DEMO_TONE, first: null },
    { controls: turned('front-right', 20, 30, -5, 1), tone: DEMO_TONE, first: 'amplifier' },
    { controls: turned('rear-left', 15.4919, 35, -5, 1), tone: DEMO_TONE, first: 'radio' },
    {
      controls: turned('subwoofer', 28.2843, 30, -8, 2),
      tone: { ...DEMO_TONE, frequencyHz: 44, levelDbfs: -8 },
      first: null,
    },
    {
      // One input of two: 6.02 dB low (design, section 5).
      controls: turned('subwoofer', 28.2843, 30, -8, 2),
      tone: { ...DEMO_TONE, frequencyHz: 44, levelDbfs: -8, channels: 'left' },
      first: null,
    },
  ];
  for (const { controls, tone, first } of cases) {
    const truth = rigTruth(DEMO_RIG, controls, tone);
    expect(truth.firstToClip).toBe(first);
    const rig = new PracticeRig(DEMO_RIG, controls, tone);
    // The subwoofer's 25 Hz filter rings: half a second brings it down by e^-55.
    rig.fill([new Float32Array(24_000)], 24_000);
    const samples = new Float32Array(48_000);
    rig.fill([samples], 48_000);
    // Noise 80 dB down moves the amplitude of one second by 1e-4/sqrt(24000), far less than a clip's 1e-5.
    expect(Math.abs(fundamentalVolts(samples, tone.frequencyHz) / truth.outputVolts - 1)).toBeLessThan(2e-5);
  }
});

/** Linkwitz-Riley of fourth order: 1/(1 + r^4); Butterworth of second: 1/sqrt(1 + r^4). */
const DOOR_AT_997 = 1 / (1 + (80 / 997) ** 4);
const BASS_AT_44 = 1 / (1 + (44 / 80) ** 4) / Math.sqrt(1 + (25 / 44) ** 4);

/** Controls that would bring `volts` to the terminals were nothing limiting. */
function turned(probe: string, volts: number, step: number, levelDbfs: number, sides: number): RigControls {
  const channel = DEMO_RIG.channels.find((candidate) => candidate.id === probe)!;
  const line = sides * lineVolts(step, levelDbfs) * (probe === 'subwoofer' ? BASS_AT_44 : DOOR_AT_997);
  const gainDb = 20 * Math.log10(volts / line);
  return { ...DEMO_CONTROLS, volumeStep: step, probe, gains: { [probe]: gainSetting(channel, gainDb) } };
}

function fundamentalVolts(samples: Float32Array, hz: number): number {
  let cosine = 0;
  let sine = 0;
  for (let n = 0; n < samples.length; n += 1) {
    const angle = (2 * Math.PI * ((hz * n) % samples.length)) / samples.length;
    cosine += samples[n]! * Math.cos(angle);
    sine += samples[n]! * Math.sin(angle);
  }
  return (35 * 2 * Math.hypot(cosine, sine)) / samples.length;
}

test('a channel that the tone does not reach is silent but for noise', () => {
  const controls = turned('front-right', 17, 30, -5, 1);
  const tone: RigSineTone = { ...DEMO_TONE, channels: 'left' };
  const truth = rigTruth(DEMO_RIG, controls, tone);
  expect(truth).toMatchObject({
    fed: false,
    outputVolts: 0,
    overdriveDb: null,
    levelDbfs: null,
    clipped: false,
  });
  const samples = new Float32Array(48_000);
  new PracticeRig(DEMO_RIG, controls, tone).fill([samples], 48_000);
  const rms = Math.sqrt(samples.reduce((sum, sample) => sum + sample * sample, 0) / samples.length);
  expect(rms).toBeGreaterThan(0);
  // 83 dB under the tone by the stages' own noises: 1.3 mV at the terminals.
  expect(rms * 35 * Math.SQRT2).toBeLessThan(0.003);
});

test('a load and a weak supply pull the ceiling down, and leave a clean voltage alone', () => {
  const clean = turned('front-left', 15, 30, -5, 1);
  const ceiling = (controls: RigControls) =>
    rigTruth(DEMO_RIG, controls, DEMO_TONE).stages.find((stage) => stage.stage === 'amplifier')!
      .ceilingPeakVolts;
  expect(ceiling(clean) / Math.SQRT2).toBeCloseTo(18.4, 9);
  // 4 ohm behind 0.25 ohm: 4/4.25 of the unloaded ceiling.
  expect(ceiling({ ...clean, loaded: false }) / ceiling(clean)).toBeCloseTo(4.25 / 4, 9);
  expect(ceiling({ ...clean, supplyVolts: 12.6 }) / ceiling(clean)).toBeCloseTo(12.6 / 14.4, 9);
  for (const controls of [
    { ...clean, loaded: false },
    { ...clean, supplyVolts: 12.6 },
  ]) {
    expect(rigTruth(DEMO_RIG, controls, DEMO_TONE).outputVolts).toBeCloseTo(15, 9);
  }
});

test('the input says when it is the one that clips', () => {
  const config = { ...DEMO_RIG, input: { ...DEMO_RIG.input, voltsPerFs: 12 } };
  const truth = rigTruth(config, turned('front-left', 15, 30, -5, 1), DEMO_TONE);
  expect(truth.firstToClip).toBe('input');
  // What stands at the terminals is still clean.
  expect(truth.clipped).toBe(false);
});
