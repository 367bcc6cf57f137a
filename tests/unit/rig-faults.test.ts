/** Every fault is there in the samples when asked for, as large as it says, and the healthy rig has none of it. */
import { describe, expect, test } from 'vitest';
import { judgeInput } from '../../src/dsp/honesty/judge-input.ts';
import type { StepsSpec } from '../../src/dsp/tones/spec.ts';
import { controlsAsFound, DEMO_CONTROLS, DEMO_RIG, DEMO_TONE } from '../../src/rig/demo-rig.ts';
import { faultyRig, RIG_FAULTS, type RigFaultId } from '../../src/rig/faults.ts';
import { rippleHz } from '../../src/rig/noise-truth.ts';
import { PracticeRig } from '../../src/rig/practice-rig.ts';
import type { RigControls, RigSineTone, RigTone } from '../../src/rig/rig.ts';
import { rigTruth } from '../../src/rig/truth.ts';
import { decibels, heard, noiseless, QUIET_RIG, rmsOf, samplesOf, toneIn } from './rig-listening.ts';

const quiet = (...faults: RigFaultId[]) => noiseless(faults.reduce(faultyRig, DEMO_RIG));
const at = (probe: string, more: Partial<RigControls> = {}): RigControls => ({
  ...DEMO_CONTROLS,
  probe,
  ...more,
});
const sine = (frequencyHz: number, levelDbfs = -30): RigSineTone => ({
  ...DEMO_TONE,
  frequencyHz,
  levelDbfs,
});
const SILENCE: RigTone = { ...DEMO_TONE, kind: 'silence' };
/** Peak volts at the probed point for a sample's peak. */
const VOLTS = 35 * Math.SQRT2;

test('every fault can be had on the demo rig, alone and all at once, and makes a difference', () => {
  for (const { id } of RIG_FAULTS) expect(faultyRig(DEMO_RIG, id)).not.toEqual(DEMO_RIG);
  const all = RIG_FAULTS.map((fault) => fault.id).reduce(faultyRig, DEMO_RIG);
  const controls = { ...controlsAsFound(all), probe: 'cabin' };
  expect(rmsOf(samplesOf(new PracticeRig(all, controls, DEMO_TONE), 0.2))).toBeGreaterThan(0);
});

test('radio-clips-early: with full scale step 24 is the last clean one, in closed form and in the samples', () => {
  const config = quiet('radio-clips-early');
  const full = sine(997, 0);
  const clips = (volumeStep: number) => rigTruth(config, at('radio-left', { volumeStep }), full).firstToClip;
  expect([clips(24), clips(25)]).toEqual([null, 'radio']);
  const peakAt = (volumeStep: number) =>
    VOLTS * Math.max(...heard(config, at('radio-left', { volumeStep }), full, 0.1).map(Math.abs));
  // 45 V RMS, 16 steps of 1.5 dB down; a 997 Hz sine's highest sample is within 0.2 % of its crest.
  expect(peakAt(24) / (45 * Math.SQRT2 * 10 ** (-24 / 20))).toBeCloseTo(1, 2);
  const third = toneIn(heard(config, at('radio-left', { volumeStep: 26 }), full), 2991);
  const healthy = toneIn(heard(QUIET_RIG, at('radio-left', { volumeStep: 26 }), full), 2991);
  expect(third.peak).toBeGreaterThan(1000 * healthy.peak);
});

describe('radio-cuts-bass', () => {
  const levelAt = (config: typeof DEMO_RIG, volumeStep: number, hz: number) =>
    decibels(toneIn(heard(config, at('radio-left', { volumeStep }), sine(hz), 0.5), hz).peak);

  test('a shelf that deepens by a decibel with each step above 18, up to 15 dB', () => {
    const config = quiet('radio-cuts-bass');
    for (const [step, depthDb] of [
      [18, 0],
      [24, 6],
      [30, 12],
      [38, 15],
    ] as const) {
      const depth = 10 ** (-depthDb / 20);
      for (const hz of [40, 100, 400]) {
        // First order: |depth + j f/fc| / |1 + j f/fc| with fc = 100 Hz.
        const shelfDb = decibels(Math.hypot(depth, hz / 100) / Math.hypot(1, hz / 100));
        const heardDb = levelAt(config, step, hz) - levelAt(QUIET_RIG, step, hz);
        // Codes of 24 bits, 60 dB and more below full scale: 0.002 dB at worst.
        expect(Math.abs(heardDb - shelfDb)).toBeLessThan(0.003);
        const truth = rigTruth(config, at('radio-left', { volumeStep: step }), sine(hz));
        expect(Math.abs(truth.levelDbfs! - levelAt(config, step, hz))).toBeLessThan(0.003);
      }
    }
  });

  test('the healthy radio is flat at every step', () => {
    expect(Math.abs(levelAt(QUIET_RIG, 34, 40) - levelAt(QUIET_RIG, 34, 400))).toBeLessThan(0.003);
  });
});

test('radio-unloaded: found without its load, 5 dB low and lower still in the bass; with it as healthy', () => {
  const config = quiet('radio-unloaded');
  expect(controlsAsFound(config).loadResistors).toBe(false);
  const level = (hz: number, loadResistors: boolean, rig = config) =>
    decibels(toneIn(heard(rig, at('radio-right', { loadResistors }), sine(hz), 0.5), hz).peak);
  for (const hz of [50, 250, 8000]) {
    const shelfDb = decibels(Math.hypot(10 ** (-6 / 20), hz / 250) / Math.hypot(1, hz / 250));
    expect(Math.abs(level(hz, false) - level(hz, true) - (shelfDb - 5))).toBeLessThan(0.003);
    expect(Math.abs(level(hz, true) - level(hz, true, QUIET_RIG))).toBeLessThan(0.003);
    expect(level(hz, false, QUIET_RIG)).toBe(level(hz, true, QUIET_RIG));
  }
});

describe('converter-sleeps', () => {
  const config = quiet('converter-sleeps');
  const MS = 48;
  /** First and last millisecond, from the start of the samples, in which something is heard. */
  const sounding = (samples: Float32Array) => {
    const loud: number[] = [];
    for (let ms = 0; ms < samples.length / MS; ms += 1) {
      if (Math.max(...samples.slice(ms * MS, (ms + 1) * MS).map(Math.abs)) > 1e-5) loud.push(ms);
    }
    return { first: loud[0] ?? null, last: loud.at(-1) ?? null };
  };

  test('mutes after six seconds of silence, and wakes 0.3 s late', () => {
    // The converter's own noise is what tells awake from muted in silence.
    const hissing = { ...config, converter: { ...config.converter, noiseVolts: 0.01 } };
    const rig = new PracticeRig(hissing, at('converter-left'), sine(997, -20));
    samplesOf(rig, 1);
    rig.setTone(SILENCE);
    const pause = sounding(samplesOf(rig, 8));
    // The tone's last crest above 3 mV lies within its fade of 20 ms.
    expect(pause.last).toBeGreaterThan(5990);
    expect(pause.last).toBeLessThan(6040);
    rig.setTone(sine(997, -20));
    const { first } = sounding(samplesOf(rig, 1));
    expect(first).toBeGreaterThan(295);
    expect(first).toBeLessThan(325);
  });

  test('a tone below hearing holds it awake, and a healthy converter never sleeps', () => {
    const keepAlive = new PracticeRig(config, at('converter-left'), sine(19, -60));
    samplesOf(keepAlive, 9);
    keepAlive.setTone(sine(997, -20));
    expect(sounding(samplesOf(keepAlive, 0.2)).first).toBeLessThan(10);
    const healthy = new PracticeRig(QUIET_RIG, at('converter-left'), SILENCE);
    samplesOf(healthy, 9);
    healthy.setTone(sine(997, -20));
    expect(sounding(samplesOf(healthy, 0.2)).first).toBeLessThan(10);
  });
});

test('amplifier-past-knee: as found, the front left door clips at its setting tone, and no healthy one does', () => {
  const found = (config: typeof DEMO_RIG, probe: string) =>
    rigTruth(config, { ...controlsAsFound(config), probe }, DEMO_TONE);
  const past = found(faultyRig(DEMO_RIG, 'amplifier-past-knee'), 'front-left');
  expect(past.firstToClip).toBe('amplifier');
  expect(past.overdriveDb).toBeGreaterThan(2);
  expect(past.overdriveDb).toBeLessThan(3);
  expect(found(faultyRig(DEMO_RIG, 'amplifier-past-knee'), 'front-right').firstToClip).toBeNull();
  expect(found(DEMO_RIG, 'front-left').firstToClip).toBeNull();
});

test('channel-reversed: the front right door alone is upside down, at its terminals and in the cabin', () => {
  const config = quiet('channel-reversed');
  const only = (id: string) => ({
    muted: DEMO_RIG.channels.map((one) => one.id).filter((one) => one !== id),
  });
  for (const { id, reversed } of [
    { id: 'front-right', reversed: true },
    { id: 'front-left', reversed: false },
  ]) {
    for (const controls of [at(id), at('cabin', only(id))]) {
      const right = heard(QUIET_RIG, controls, sine(400), 0.1);
      const wrong = heard(config, controls, sine(400), 0.1);
      expect(rmsOf(right)).toBeGreaterThan(1e-5);
      // A code below full scale has no positive twin: one step of 24 bits.
      const sign = reversed ? -1 : 1;
      expect(Math.max(...right.map((value, n) => Math.abs(value - sign * wrong[n]!)))).toBeLessThan(2 ** -22);
    }
  }
  expect(rigTruth(config, at('front-right'), sine(400)).polarity).toBe(-1);
});

test('left-low: the front left door is 1.5 dB lower than healthy, and no other channel', () => {
  const config = quiet('left-low');
  const lower = (probe: string) =>
    decibels(
      rmsOf(heard(config, at(probe), sine(400, -20), 0.1)) /
        rmsOf(heard(QUIET_RIG, at(probe), sine(400, -20), 0.1)),
    );
  expect(Math.abs(lower('front-left') + 1.5)).toBeLessThan(0.001);
  expect(lower('rear-left')).toBe(0);
});

test('filter-octave-off and filter-order-low: a door cut at 160 Hz, a subwoofer with 12 dB per octave', () => {
  const config = quiet('filter-octave-off', 'filter-order-low');
  const loss = (probe: string, hz: number) => {
    const more = { gains: { [probe]: 0.5 } };
    const on = toneIn(heard(config, at(probe, more), sine(hz), 0.5), hz).peak;
    return decibels(
      on / toneIn(heard(config, at(probe, { ...more, filtersOff: true }), sine(hz), 0.5), hz).peak,
    );
  };
  // Linkwitz-Riley of fourth order: 1/(1 + r^4), of second: 1/(1 + r^2); the 25 Hz filter beside it 1/sqrt(1 + r^4).
  for (const hz of [80, 160, 320]) {
    expect(Math.abs(loss('front-left', hz) - decibels(1 / (1 + (160 / hz) ** 4)))).toBeLessThan(0.01);
    const rumble = 1 / Math.sqrt(1 + (25 / hz) ** 4);
    expect(Math.abs(loss('subwoofer', hz) - decibels(rumble / (1 + (hz / 80) ** 2)))).toBeLessThan(0.01);
  }
  expect(Math.abs(loss('front-right', 160) - decibels(1 / (1 + (80 / 160) ** 4)))).toBeLessThan(0.01);
});

describe('noise at the amplifiers’ inputs', () => {
  const line = (config: typeof DEMO_RIG, hz: number, more: Partial<RigControls> = {}) =>
    VOLTS * toneIn(heard(config, at('front-left', { filtersOff: true, ...more }), SILENCE, 0.2), hz).peak;
  /** Peak volts at the terminals of 2 mV RMS at the input, the control fully down at 9 dB. */
  const FULL = 0.002 * Math.SQRT2 * 10 ** (9 / 20);

  test('engine-whine: a comb that follows the engine and stops with it', () => {
    const config = quiet('engine-whine');
    // 790/min: 790/60 turns, 36 half waves of six pole pairs for each of the alternator's, 2.5 of those a turn.
    expect(rippleHz(config, at('front-left', { engine: 'idle' }))).toBeCloseTo((790 / 60) * 90, 9);
    for (const [engine, hz] of [
      ['idle', 1185],
      ['revved', 3015],
    ] as const) {
      // Straight between frames: sinc^2 of 3 kHz at 48 kHz is -0.11 dB, of its second harmonic -0.46 dB.
      expect(Math.abs(decibels(line(config, hz, { engine }) / FULL))).toBeLessThan(0.15);
      expect(Math.abs(decibels(line(config, 2 * hz, { engine }) / FULL) + 6)).toBeLessThan(0.5);
      expect(line(config, hz, { engine: 'off' })).toBeLessThan(1e-6);
      expect(line(QUIET_RIG, hz, { engine })).toBeLessThan(1e-6);
    }
    expect(line(config, 1185, { engine: 'revved' })).toBeLessThan(1e-4);
  });

  test('mains-hum: a comb on 50 Hz, the same with the engine on', () => {
    const config = quiet('mains-hum');
    for (const engine of ['off', 'revved'] as const) {
      expect(Math.abs(decibels(line(config, 50, { engine }) / FULL))).toBeLessThan(0.01);
      expect(Math.abs(decibels(line(config, 100, { engine }) / FULL) + 2)).toBeLessThan(0.01);
      expect(Math.abs(decibels(line(config, 150, { engine }) / FULL) + 5)).toBeLessThan(0.01);
    }
    expect(line(QUIET_RIG, 100)).toBeLessThan(1e-6);
  });

  test('both stand far above the demo rig’s own floor, and an unplugged input is quiet', () => {
    const floor = rmsOf(heard(DEMO_RIG, at('front-left', { engine: 'idle' }), SILENCE));
    for (const fault of ['engine-whine', 'mains-hum'] as const) {
      const config = faultyRig(DEMO_RIG, fault);
      const loud = rmsOf(heard(config, at('front-left', { engine: 'idle' }), SILENCE));
      expect(decibels(loud / floor)).toBeGreaterThan(10);
      const pulled = rmsOf(
        heard(config, at('front-left', { engine: 'idle', muted: ['front-left'] }), SILENCE),
      );
      expect(decibels(pulled / floor)).toBeLessThan(1);
    }
  });
});

describe('input-gains-itself', () => {
  const step = (config: typeof DEMO_RIG) => {
    const level = (levelDbfs: number) =>
      decibels(rmsOf(heard(config, at('radio-left'), sine(997, levelDbfs), 0.5, 4)));
    return level(-20) - level(-30);
  };

  test('a step of 10 dB reads as 5; on the healthy input as 10', () => {
    // Half of every distance is taken away; the level it follows ripples by 1 part in 1000 at twice the tone.
    expect(Math.abs(step(quiet('input-gains-itself')) - 5)).toBeLessThan(0.02);
    expect(Math.abs(step(QUIET_RIG) - 10)).toBeLessThan(0.001);
  });

  test('it leaves the wave as it is', () => {
    const samples = heard(quiet('input-gains-itself'), at('radio-left'), sine(997, -20), 1, 4);
    expect(toneIn(samples, 2991).peak / toneIn(samples, 997).peak).toBeLessThan(0.001);
  });
});

test.each([
  { what: 'a healthy input is judged raw by the stepped tone', config: DEMO_RIG, fault: null },
  {
    what: 'input-gains-itself is judged automatic gain by the stepped tone',
    config: faultyRig(DEMO_RIG, 'input-gains-itself'),
    fault: 'automatic-gain',
  },
])('$what', ({ config, fault }) => {
  const steps: StepsSpec = {
    kind: 'steps',
    frequencyHz: 997,
    levelsDbfs: [-40, -30, -20],
    stepSeconds: 1.5,
    pauseSeconds: 0.5,
  };
  const rig = new PracticeRig(config, at('front-left'), SILENCE);
  const before = samplesOf(rig, 1);
  rig.setTone({ kind: 'track', spec: steps, channels: 'both', loop: false });
  const samples = Float32Array.from([...before, ...samplesOf(rig, 7)]);
  const { verdict, findings } = judgeInput({ channels: [samples], sampleRateHz: 48_000, steps });
  expect(verdict).toBe(fault === null ? 'raw' : 'processed');
  expect(findings.map((finding) => finding.fault).includes('automatic-gain')).toBe(fault !== null);
});
