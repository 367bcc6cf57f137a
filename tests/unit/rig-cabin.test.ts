import { expect, test } from 'vitest';
import { cabinLagMs, cabinPinkDbfs, cabinResponse, cabinTruth } from '../../src/rig/cabin-truth.ts';
import { DEMO_CONTROLS, DEMO_RIG, DEMO_TONE } from '../../src/rig/demo-rig.ts';
import { PracticeRig } from '../../src/rig/practice-rig.ts';
import type { RigConfig, RigControls, RigTone } from '../../src/rig/rig.ts';
import { decibels, heard, noiseless, QUIET_RIG, rmsOf, samplesOf, toneIn } from './rig-listening.ts';

const IDS = DEMO_RIG.channels.map((channel) => channel.id);
const alone = (id: string, more: Partial<RigControls> = {}): RigControls => ({
  ...DEMO_CONTROLS,
  probe: 'cabin',
  gains: { [id]: 0.3 },
  muted: IDS.filter((one) => one !== id),
  ...more,
});
const channelOf = (config: RigConfig, id: string) => config.channels.find((one) => one.id === id)!;
const SETTLE_FRAMES = 24_000;

/** Measured response over the closed form's: a factor of 1 and a delay of nothing if they agree. */
function against(config: RigConfig, controls: RigControls, id: string, hz: number) {
  const tone: RigTone = { kind: 'sine', frequencyHz: hz, levelDbfs: -20, channels: 'both' };
  const { peak, phase } = toneIn(
    heard(config, controls, tone, 0.1, SETTLE_FRAMES / 48_000),
    hz,
    SETTLE_FRAMES,
  );
  const truth = cabinResponse(config, controls, channelOf(config, id), hz);
  const lag = 2 * Math.PI * hz * (cabinLagMs(48_000) / 1000);
  const late = Math.atan2(truth.im, truth.re) - lag - phase;
  return {
    db: decibels(peak / 0.1 / Math.hypot(truth.re, truth.im)),
    ms: (1000 * Math.atan2(Math.sin(late), Math.cos(late))) / (2 * Math.PI * hz),
  };
}

test.each([
  { id: 'front-left', tones: [90, 500, 3000, 12_000], position: 0 },
  { id: 'rear-right', tones: [500, 8000], position: 2 },
  { id: 'subwoofer', tones: [30, 60, 120], position: 3 },
])('$id at position $position: level and arrival are the closed form’s', ({ id, tones, position }) => {
  for (const hz of tones) {
    const { db, ms } = against(QUIET_RIG, alone(id, { position }), id, hz);
    // The kernel that places the direct sound is right to -98 dB below 0.4 of the rate; a decimator for a
    // microphone ripples by 85 dB down: 0.001 dB. Codes of 24 bits 80 dB under full scale: 0.01 dB.
    expect(Math.abs(db)).toBeLessThan(0.02);
    expect(Math.abs(ms)).toBeLessThan(0.001);
  }
});

test('a delay of a channel and a reversed one arrive as such', () => {
  const channels = QUIET_RIG.channels.map((channel) =>
    channel.id === 'front-left' ? { ...channel, delayMs: 1.2345, polarity: -1 as const } : channel,
  );
  const config = { ...QUIET_RIG, channels };
  const { db, ms } = against(config, alone('front-left'), 'front-left', 400);
  expect(Math.abs(db)).toBeLessThan(0.02);
  expect(Math.abs(ms)).toBeLessThan(0.001);
  const before = cabinTruth(QUIET_RIG, alone('front-left'))[0]!;
  const after = cabinTruth(config, alone('front-left'))[0]!;
  expect(after.arrivalMs - before.arrivalMs).toBeCloseTo(1.2345, 9);
  expect(after.polarity).toBe(-1);
});

test('the ways through the cabin are its geometry', () => {
  const [frontLeft, frontRight] = cabinTruth(DEMO_RIG, alone('front-left'));
  // Door (-0.75, 0.75, -0.45), head (-0.35, 0.35, 0): sqrt(0.4^2 + 0.4^2 + 0.45^2); 343.2 m/s at 20 degrees (ISO 9613-1).
  expect(frontLeft!.metres).toBeCloseTo(Math.sqrt(0.16 + 0.16 + 0.2025), 12);
  expect(Math.abs(frontLeft!.arrivalMs - (1000 * frontLeft!.metres) / 343.2)).toBeLessThan(0.001);
  expect(frontRight!.metres).toBeCloseTo(Math.sqrt(1.21 + 0.16 + 0.2025), 12);
});

test('seats mirror each other: over all four, every door of a healthy vehicle is as loud as its partner', () => {
  const levels = IDS.slice(0, 4).map((id) => {
    const powers = [0, 1, 2, 3].map((position) => {
      const { re, im } = cabinResponse(DEMO_RIG, alone(id, { position }), channelOf(DEMO_RIG, id), 700);
      return re * re + im * im;
    });
    return 10 * Math.log10(powers.reduce((sum, power) => sum + power) / 4);
  });
  for (const level of levels) expect(level).toBeCloseTo(levels[0]!, 9);
  const near = cabinResponse(DEMO_RIG, alone('front-left'), channelOf(DEMO_RIG, 'front-left'), 700);
  const far = cabinResponse(DEMO_RIG, alone('front-right'), channelOf(DEMO_RIG, 'front-right'), 700);
  expect(near).not.toEqual(far);
});

test('all channels together are their sum', () => {
  const tone: RigTone = { ...DEMO_TONE, frequencyHz: 85, levelDbfs: -30 };
  const gains = Object.fromEntries(IDS.map((id) => [id, 0.3]));
  const parts = IDS.map((id) => heard(QUIET_RIG, alone(id, { gains }), tone, 0.2));
  const whole = heard(QUIET_RIG, { ...DEMO_CONTROLS, probe: 'cabin', gains }, tone, 0.2);
  // Each of six recordings is rounded to 24 bits.
  for (let n = 0; n < whole.length; n += 1) {
    const sum = parts.reduce((total, part) => total + part[n]!, 0);
    if (Math.abs(sum - whole[n]!) > 6 * 2 ** -23) expect([n, whole[n]]).toEqual([n, sum]);
  }
  expect(rmsOf(whole)).toBeGreaterThan(1e-4);
});

test('pink noise has the level that the truth says', () => {
  const noise = { lowHz: 500, highHz: 2000, levelDbfs: -20 };
  const controls = alone('front-right', { position: 1 });
  const spec = { kind: 'pink', ...noise, durationSeconds: 8, seed: 2 } as const;
  const samples = heard(QUIET_RIG, controls, { kind: 'track', spec, channels: 'both', loop: true }, 8);
  const truth = cabinPinkDbfs(QUIET_RIG, controls, channelOf(QUIET_RIG, 'front-right'), noise);
  // 1500 Hz for 8 s: 4.34/sqrt(B T) = 0.04 dB, a little more for reflections; the fades at the seam take 0.02 dB.
  expect(Math.abs(decibels(rmsOf(samples) * Math.SQRT2) - truth)).toBeLessThan(0.15);
});

test('the microphone hears its own noise and the place around, and more with the engine on', () => {
  const quietPlace = (engine: RigControls['engine']) =>
    decibels(rmsOf(heard(DEMO_RIG, alone('none', { muted: IDS, engine }), DEMO_TONE, 4)) * Math.SQRT2) + 120;
  const sumDb = (a: number, b: number) => 10 * Math.log10(10 ** (a / 10) + 10 ** (b / 10));
  // 32 dB and 40 or 52 dB; below 250 Hz four seconds hold 1000 independent values: 0.2 dB, twice that allowed,
  // with the input's own -100 dBFS beside it.
  expect(Math.abs(quietPlace('off') - sumDb(sumDb(32, 40), 20))).toBeLessThan(0.4);
  expect(Math.abs(quietPlace('idle') - sumDb(32, 52))).toBeLessThan(0.4);
});

test('with the speakers unplugged nothing of the tone is heard', () => {
  const level = (loaded: boolean) =>
    rmsOf(heard(QUIET_RIG, alone('front-left', { loaded }), { ...DEMO_TONE, levelDbfs: -20 }, 0.1));
  expect(level(false)).toBe(0);
  expect(level(true)).toBeGreaterThan(1e-4);
});

test('unplugging, walking to another seat or bypassing the filters makes no click', () => {
  const start = alone('front-left');
  const tone: RigTone = { ...DEMO_TONE, levelDbfs: -20 };
  for (const next of [
    { ...start, position: 3 },
    { ...start, muted: IDS },
    { ...start, muted: IDS.filter((id) => id !== 'front-right') },
    { ...start, filtersOff: true },
    { ...start, probe: 'front-left' },
  ]) {
    const rig = new PracticeRig(QUIET_RIG, start, tone);
    samplesOf(rig, 0.2);
    rig.setControls(next);
    const samples = samplesOf(rig, 0.1);
    const twiceCosine = 2 * Math.cos((2 * Math.PI * 997) / 48_000);
    const peak = Math.max(...samples.map(Math.abs));
    let worst = 0;
    for (let n = 1; n < samples.length - 1; n += 1) {
      worst = Math.max(worst, Math.abs(samples[n + 1]! - twiceCosine * samples[n]! + samples[n - 1]!));
    }
    // As at the terminals: a step of 1 % of the peak would leave 0.01, a ramp of 20 ms 4e-4.
    expect(worst / peak).toBeLessThan(0.0015);
  }
});

test('same vehicle, same hands: the same samples, bit for bit', () => {
  const config = { ...DEMO_RIG, seed: 7 };
  const spec = {
    kind: 'pink',
    lowHz: 40,
    highHz: 9000,
    levelDbfs: -25,
    durationSeconds: 0.4,
    seed: 5,
  } as const;
  const run = (block: number) => {
    const rig = new PracticeRig(config, { ...DEMO_CONTROLS, probe: 'cabin' }, DEMO_TONE);
    const parts: number[] = [];
    const buffer = new Float32Array(block);
    const hear = (frames: number) => {
      for (let frame = 0; frame < frames; frame += block) {
        rig.fill([buffer], block);
        parts.push(...buffer);
      }
    };
    hear(4096);
    rig.setTone({ kind: 'track', spec, channels: 'left', loop: true });
    hear(4096);
    rig.setControls({
      ...DEMO_CONTROLS,
      probe: 'cabin',
      position: 2,
      engine: 'revved',
      muted: ['rear-left'],
    });
    hear(4096);
    rig.setControls({ ...DEMO_CONTROLS, probe: 'subwoofer', filtersOff: true });
    hear(4096);
    return Float32Array.from(parts);
  };
  expect(run(1024)).toEqual(run(64));
});

test('a microphone too near to a driver is refused', () => {
  const place = { rightM: -0.4, frontM: 0.35, upM: 0 };
  const channels = DEMO_RIG.channels.map((one) => ({ ...one, driver: { ...one.driver, place } }));
  expect(() => new PracticeRig(noiseless({ ...DEMO_RIG, channels }), DEMO_CONTROLS, DEMO_TONE)).toThrow(
    /cannot take/,
  );
});
