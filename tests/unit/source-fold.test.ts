/** The walk up the volume: which step next, where it ends, what it finds. Held against a radio of arithmetic. */
import { describe, expect, it } from 'vitest';
import type { SourcePurpose, SourceState, SourceTask } from '../../src/procedure/source/source.ts';
import { SOURCE_PROCEDURE } from '../../src/procedure/source/source-steps.ts';
import { readTake } from '../../src/procedure/take/read-take.ts';
import { sounding, takeOf, toneReading } from './source-signals.ts';

const TASK: SourceTask = {
  point: 'radio',
  side: 'left',
  volumeSteps: 40,
  tones: {
    middle: { frequencyHz: 997, levelDbfs: 0 },
    bass: { frequencyHz: 43, levelDbfs: 0 },
    treble: { frequencyHz: 7993, levelDbfs: -20 },
  },
  voltsPerFs: 10,
  voltsUncertaintyDb: 0.05,
};

interface Radio {
  /** Full-scale peak at the top step, were there no ceiling. */
  topPeak: number;
  ceiling: number;
  stepDb: number;
  /** Beyond the volume control, dB. */
  shapeDb: (tone: SourcePurpose['tone'], step: number) => number;
}

const PLAIN: Radio = { topPeak: 2, ceiling: 0.6, stepDb: 1.5, shapeDb: () => 0 };
/** 20 lg (0.6 / 2) = -10.46 dB: seven steps below the top is the last one under the ceiling. */
const PLAIN_CLEAN = 33;

function play(radio: Radio, purpose: SourcePurpose, task = TASK) {
  const { step, tone } = purpose;
  const { frequencyHz, levelDbfs } = task.tones[tone];
  const db = (step - task.volumeSteps) * radio.stepDb + levelDbfs + radio.shapeDb(tone, step);
  const peak = radio.topPeak * 10 ** (db / 20);
  const request = { kind: 'tone', channelIndex: 0, frequencyHz } as const;
  const seconds = 0.6;
  const reading = readTake(request, takeOf(sounding({ frequencyHz, peak, ceiling: radio.ceiling, seconds })));
  return { type: 'take', purpose, request, reading } as const;
}

/** The scripted hand: does what is asked for until nothing is. */
function walk(radio: Radio, begin: SourceState = SOURCE_PROCEDURE.start(TASK)) {
  let state = begin;
  const asked: SourcePurpose[] = [];
  while (state.next !== null) {
    if (asked.length > 200) throw new Error('The walk does not end.');
    asked.push(state.next);
    state = SOURCE_PROCEDURE.step(state, play(radio, state.next, state.task));
  }
  return { state, asked };
}

const faults = (state: SourceState) => state.findings.map(({ fault }) => fault);

describe('the walk up the volume', () => {
  it('finds the highest clean step and its volts, and names nothing on a healthy radio', () => {
    const { state } = walk(PLAIN);
    expect(state.ceiling.cleanStep).toBe(PLAIN_CLEAN);
    expect(state.ceiling.clippedStep).toBe(PLAIN_CLEAN + 1);
    expect(faults(state)).toEqual([]);
    expect(state.acceptance).toEqual({ can: true, why: null, needsSecondThought: false });
    const result = SOURCE_PROCEDURE.result(state);
    const volts = 10 * 2 * 10 ** ((-7 * 1.5) / 20);
    // The fit of 0.6 s at 90 dB over the noise: 0.001 dB, here with room for ten of them.
    expect(20 * Math.log10((result.ceilingVolts ?? 0) / volts)).toBeCloseTo(0, 2);
    // 0.05 dB of the calibration, as a share of the volts.
    expect((result.ceilingVoltsUncertainty ?? 0) / volts).toBeCloseTo(0.05 * (Math.LN10 / 20), 4);
    // The ceiling itself, from the clipped step: 0.6 of full scale; overdrive is good to some hundredths of a dB.
    expect(Math.abs(20 * Math.log10((result.kneeVolts ?? 0) / 6))).toBeLessThan(0.1);
  });

  it('strides up to the first clipped step and never past it', () => {
    const { asked } = walk(PLAIN);
    expect(Math.max(...asked.map(({ step }) => step))).toBe(36);
    const ups = asked.filter(({ tone }) => tone === 'middle').map(({ step }) => step);
    expect(ups.slice(0, 9)).toEqual([4, 8, 12, 16, 20, 24, 28, 32, 36]);
    expect(ups.slice(9).sort()).toEqual([33, 34]);
  });

  it('asks for bass and treble at clean steps only, and for one tone after the other where a hand changes tracks', () => {
    const state = SOURCE_PROCEDURE.step(SOURCE_PROCEDURE.start(TASK), {
      type: 'way',
      way: { every: 4, order: 'by-tone', without: [] },
    });
    const { asked } = walk(PLAIN, state);
    const changes = asked
      .filter(({ tone }, index) => tone !== asked[index - 1]?.tone)
      .map(({ tone }) => tone);
    expect(changes).toEqual(['middle', 'bass', 'treble']);
    expect(Math.max(...asked.filter(({ tone }) => tone !== 'middle').map(({ step }) => step))).toBe(
      PLAIN_CLEAN,
    );
  });

  it('says so where the top of the range is still clean', () => {
    const { state } = walk({ ...PLAIN, ceiling: 3, topPeak: 0.9 });
    const result = SOURCE_PROCEDURE.result(state);
    expect([result.highestCleanStep, result.cleanToTop, result.kneeVolts]).toEqual([40, true, null]);
    expect(faults(state)).toEqual([]);
  });

  it('refuses to record while steps between clean and clipped are open', () => {
    let state = SOURCE_PROCEDURE.start(TASK);
    for (const step of [32, 36]) state = SOURCE_PROCEDURE.step(state, play(PLAIN, { step, tone: 'middle' }));
    expect(state.acceptance.can).toBe(false);
    expect(() => SOURCE_PROCEDURE.result(state)).toThrow(/steps between clean and clipped are left/);
  });
});

describe('what it names', () => {
  it('a source that clips below three quarters of its range, with the step', () => {
    const { state } = walk({ ...PLAIN, ceiling: 0.2 });
    // 20 lg (0.2 / 2) = -20 dB: 13.3 steps below the top.
    expect(state.ceiling.cleanStep).toBe(26);
    expect(faults(state)).toEqual(['radio-clips-early']);
    expect(state.findings[0]?.sentence).toContain('step 26 of 40');
    expect(state.acceptance.needsSecondThought).toBe(true);
  });

  it('three quarters of the range itself is not early', () => {
    // -15 dB: step 30 is 0.4 % under the ceiling.
    const { state } = walk({ ...PLAIN, ceiling: 2 * 10 ** (-15 / 20) * 1.004 });
    expect(state.ceiling.cleanStep).toBe(30);
    expect(faults(state)).toEqual([]);
  });

  it('bass that goes from a step on: the step is found to the step, and what is missing at the ceiling', () => {
    const cutDb = (step: number) => Math.min(6, Math.max(0, 0.6 * (step - 18)));
    const { state } = walk({ ...PLAIN, shapeDb: (tone, step) => (tone === 'bass' ? -cutDb(step) : 0) });
    // 0.6 dB at 19, 1.2 dB at 20: the first beyond 1 dB.
    expect(state.bassCut?.fromStep).toBe(20);
    expect(state.bassCut?.wholeStep).toBe(19);
    expect(state.bassCut?.atCeilingDb).toBeCloseTo(6, 1);
    expect(faults(state)).toEqual(['radio-cuts-bass']);
  });

  it('treble that changes is recorded at each step, with what was played taken out', () => {
    const { state } = walk({ ...PLAIN, shapeDb: (tone, step) => (tone === 'treble' ? -0.1 * step : 0) });
    for (const { step, trebleDb, verdict } of SOURCE_PROCEDURE.result(state).steps) {
      if (verdict === 'clean') expect(trebleDb).toBeCloseTo(-0.1 * step, 1);
      else expect(trebleDb).toBeNull();
    }
  });

  it('0.9 dB of bass is let pass', () => {
    const { state } = walk({ ...PLAIN, shapeDb: (tone, step) => (tone === 'bass' && step > 20 ? -0.9 : 0) });
    expect(faults(state)).toEqual([]);
  });

  it('bass that is lifted and so clips first sets the ceiling', () => {
    const { state } = walk({ ...PLAIN, shapeDb: (tone) => (tone === 'bass' ? 6 : 0) });
    // Four steps of 1.5 dB below the middle tone's.
    expect(state.ceiling.cleanStep).toBe(PLAIN_CLEAN - 4);
    expect(state.ceiling.clippedTone).toBe('bass');
    const { steps } = SOURCE_PROCEDURE.result(state);
    const at = (step: number) => steps.find((one) => one.step === step);
    expect(at(PLAIN_CLEAN - 4)?.bassDb).toBeCloseTo(6, 1);
    // A clipped tone's level says nothing about response.
    expect(at(PLAIN_CLEAN - 3)).toMatchObject({ verdict: 'clean', bassVerdict: 'clipped', bassDb: null });
  });

  it('a limiter that holds the level back without clipping', () => {
    const held = (step: number) => -1.3 * Math.max(0, step - 24);
    const { state } = walk({ ...PLAIN, ceiling: 3, topPeak: 0.9, shapeDb: (_, step) => held(step) });
    expect(state.limitsFromStep).toBe(28);
    expect(faults(state)).toEqual(['radio-limits']);
  });
});

describe('recordings that say nothing', () => {
  it('a tone that was not heard leaves everything as it was and says what to look at', () => {
    const before = SOURCE_PROCEDURE.start(TASK);
    const reading = toneReading({ frequencyHz: 997, peak: 0 });
    const request = { kind: 'tone', channelIndex: 0, frequencyHz: 997 } as const;
    const purpose = { step: 4, tone: 'middle' } as const;
    const state = SOURCE_PROCEDURE.step(before, { type: 'take', purpose, request, reading });
    expect(state.steps).toEqual([]);
    expect(state.next).toEqual(purpose);
    expect(state.instruction).toMatch(/^No steady 997 Hz tone was heard at step 4/);
  });

  it('an overloaded input is told from a clipping source', () => {
    const reading = toneReading({ frequencyHz: 997, peak: 3 });
    const request = { kind: 'tone', channelIndex: 0, frequencyHz: 997 } as const;
    const purpose = { step: 32, tone: 'middle' } as const;
    const state = SOURCE_PROCEDURE.step(SOURCE_PROCEDURE.start(TASK), {
      type: 'take',
      purpose,
      request,
      reading,
    });
    expect(state.steps).toEqual([]);
    expect(state.instruction).toMatch(/^The input itself is overloaded/);
  });

  it('refuses a range that no volume has', () => {
    expect(() => SOURCE_PROCEDURE.start({ ...TASK, volumeSteps: 0 })).toThrow(/whole number from 2 up/);
  });
});
