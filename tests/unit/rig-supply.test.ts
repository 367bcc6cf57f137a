import { expect, test } from 'vitest';
import { DEMO_CONTROLS, DEMO_RIG, DEMO_TONE } from '../../src/rig/demo-rig.ts';
import { faultyRig } from '../../src/rig/faults.ts';
import { gainSetting } from '../../src/rig/gain-control.ts';
import { MULTIMETER_POINTS, type MultimeterPoint, rigMultimeter } from '../../src/rig/multimeter.ts';
import type { RigConfig, RigControls, RigTone } from '../../src/rig/rig.ts';
import { rigTruth } from '../../src/rig/truth.ts';
import { decibels, heard, QUIET_RIG, toneIn } from './rig-listening.ts';

const SILENCE: RigTone = { ...DEMO_TONE, kind: 'silence' };
const POOR = faultyRig(DEMO_RIG, 'poor-ground');

/** All doors set to 17 V of the setting tone: 4 x 17^2 / 4 / 0.55 = 525 W drawn. */
const SET: RigControls = {
  ...DEMO_CONTROLS,
  gains: Object.fromEntries(
    DEMO_RIG.channels.slice(0, 4).map((channel) => {
      const down = { ...DEMO_CONTROLS, probe: channel.id };
      const { unlimitedVolts } = rigTruth(DEMO_RIG, down, DEMO_TONE);
      return [channel.id, gainSetting(channel, channel.lowestGainDb + decibels(17 / unlimitedVolts))];
    }),
  ),
};
const DRAWN_WATTS = (4 * 17 ** 2) / 4 / 0.55;

const meter = (config: RigConfig, controls: RigControls, tone: RigTone) =>
  Object.fromEntries(
    MULTIMETER_POINTS.map((point) => [point, rigMultimeter(config, controls, tone, point)]),
  ) as Record<MultimeterPoint, number>;

test('at rest: the battery’s voltage off and charging, and hardly a drop', () => {
  expect(meter(DEMO_RIG, { ...SET, engine: 'off' }, SILENCE)).toMatchObject({
    battery: 12.6,
    'ground-leg': 0.002,
  });
  expect(meter(DEMO_RIG, { ...SET, engine: 'revved' }, SILENCE).battery).toBe(14.2);
  expect(meter(DEMO_RIG, SET, SILENCE).battery).toBe(14.4);
});

test('under the doors’ tone: the current is power over efficiency and voltage, each leg drops its share', () => {
  const volts = meter(DEMO_RIG, SET, DEMO_TONE);
  // I (14.4 - 0.0065 I) = 525 W, and 1.8 A of idle current; the summed subwoofer adds what 997 Hz leaves of it: nothing.
  const amperes = DRAWN_WATTS / (14.4 - 0.0065 * 38) + 1.8;
  expect(Math.abs(volts['ground-leg'] - 0.001 * amperes)).toBeLessThan(0.001);
  expect(Math.abs(volts['plus-leg'] - 0.0055 * amperes)).toBeLessThan(0.001);
  expect(Math.abs(volts['amplifier-supply'] - (14.4 - 0.0065 * amperes))).toBeLessThan(0.006);
  expect(Math.abs(volts['amplifier-plus'] - (14.4 - 0.0055 * amperes))).toBeLessThan(0.006);
});

test('poor-ground: the drop under tone is fifty times what the wire explains, and the drop over current is 50 mOhm', () => {
  const healthy = meter(DEMO_RIG, SET, DEMO_TONE);
  const poor = meter(POOR, SET, DEMO_TONE);
  const ratio = poor['ground-leg'] / poor['plus-leg'];
  expect(ratio).toBeCloseTo(50 / 5.5, 1);
  expect(poor['ground-leg']).toBeGreaterThan(1.5);
  expect(healthy['ground-leg']).toBeLessThan(0.05);
  expect(poor['plus-leg'] / healthy['plus-leg']).toBeGreaterThan(0.8);
});

test('poor-ground: the ceilings follow, and the tone that was clean clips', () => {
  const probed = { ...SET, probe: 'front-left' };
  expect(rigTruth(DEMO_RIG, probed, DEMO_TONE).firstToClip).toBeNull();
  const truth = rigTruth(POOR, probed, DEMO_TONE);
  expect(truth.firstToClip).toBe('amplifier');
  // What is lost is the 49 + 6.5 - 6.5 mOhm beside what the channels' own resistance holds.
  const amperes = rigMultimeter(POOR, probed, DEMO_TONE, 'ground-leg') / 0.05;
  const ceiling = truth.stages.find((stage) => stage.stage === 'amplifier')!.ceilingPeakVolts / Math.SQRT2;
  expect(Math.abs(ceiling - 18.4 * (1 - (0.049 * amperes) / 14.4))).toBeLessThan(0.02);
  const quiet = faultyRig(QUIET_RIG, 'poor-ground');
  const { peak } = toneIn(heard(quiet, { ...probed, filtersOff: true }, DEMO_TONE), 997);
  const wanted = rigTruth(quiet, { ...probed, filtersOff: true }, DEMO_TONE);
  expect(Math.abs(decibels((peak * 35) / wanted.outputVolts))).toBeLessThan(0.001);
  expect(wanted.clipped).toBe(true);
});

test('unplugged speakers draw nothing, and a weak battery pulls the ceilings down', () => {
  expect(meter(POOR, { ...SET, loaded: false }, DEMO_TONE)['ground-leg']).toBe(0.09);
  const ceiling = (engine: 'off' | 'idle') =>
    rigTruth(DEMO_RIG, { ...SET, engine }, DEMO_TONE).stages.find((stage) => stage.stage === 'amplifier')!
      .ceilingPeakVolts;
  expect(ceiling('off') / ceiling('idle')).toBeCloseTo(12.6 / 14.2, 9);
});

test('a track loads the supply as a sine of its level would', () => {
  const spec = { kind: 'sine', frequencyHz: 997, levelDbfs: -5, durationSeconds: 5 } as const;
  expect(meter(POOR, SET, { kind: 'track', spec, channels: 'both', loop: false })).toEqual(
    meter(POOR, SET, DEMO_TONE),
  );
});
