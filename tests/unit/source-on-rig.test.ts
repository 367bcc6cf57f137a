/** The Source station's four parts on the practice rig: what is there is named, what is not is not. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readJob } from '../../src/job/read-job.ts';
import { loadTask, sidesTask, sourceTask, turnOnTask } from '../../src/job/source-tasks.ts';
import type { Resistors } from '../../src/procedure/load/load.ts';
import { LOAD_PROCEDURE } from '../../src/procedure/load/load-steps.ts';
import { SIDES_PROCEDURE } from '../../src/procedure/sides/sides-steps.ts';
import { SOURCE_PROCEDURE } from '../../src/procedure/source/source-steps.ts';
import { turnOnRequest, turnOnSpec } from '../../src/procedure/turn-on/turn-on-signal.ts';
import { TURN_ON_PROCEDURE } from '../../src/procedure/turn-on/turn-on-steps.ts';
import { DEMO_RIG } from '../../src/rig/demo-rig.ts';
import type { RigFaultId } from '../../src/rig/faults.ts';
import { expectReplays, RigHand } from './source-rig-hand.ts';

const JOB = readJob(
  readFileSync(new URL('../../shared/examples/hatchback.job.json', import.meta.url), 'utf8'),
);
const SCALE = { voltsPerFs: DEMO_RIG.input.voltsPerFs, uncertaintyDb: 0.05 };

function walkUp(faults: RigFaultId[], point: 'radio' | 'converter' = 'radio') {
  const hand = new RigHand('source', SOURCE_PROCEDURE, sourceTask(JOB, point, 'left', SCALE), faults);
  hand.turn({ probe: `${point}-left` });
  while (hand.state.next !== null) {
    const { step, tone } = hand.state.next;
    const { frequencyHz, levelDbfs } = hand.state.task.tones[tone];
    hand.turn({ volumeStep: step });
    const request = { kind: 'tone', channelIndex: 0, frequencyHz } as const;
    const spec = { kind: 'sine', frequencyHz, levelDbfs, durationSeconds: 60 } as const;
    hand.take(hand.state.next, request, spec, 'left');
  }
  return hand;
}

function checkLoad(faults: RigFaultId[]) {
  const hand = new RigHand('load', LOAD_PROCEDURE, loadTask(JOB, 'left', SCALE), faults);
  hand.turn({ probe: 'radio-left', volumeStep: hand.state.task.step });
  for (const resistors of ['connected', 'off'] as Resistors[]) {
    hand.turn({ loadResistors: resistors === 'connected' });
    for (const tone of hand.state.missing[resistors]) {
      const { frequencyHz, levelDbfs } = hand.state.task.tones[tone];
      const request = { kind: 'tone', channelIndex: 0, frequencyHz } as const;
      const spec = { kind: 'sine', frequencyHz, levelDbfs, durationSeconds: 60 } as const;
      hand.take({ resistors, tone }, request, spec, 'left');
    }
  }
  return hand;
}

function checkSides(point: 'radio' | 'converter') {
  const hand = new RigHand('sides', SIDES_PROCEDURE, sidesTask(point, 'one-channel'));
  hand.turn({ volumeStep: 20 });
  while (hand.state.next !== null) {
    const { played, heardAt } = hand.state.next;
    const { frequencyHz, levelDbfs } = hand.state.task.tone;
    hand.turn({ probe: `${point}-${heardAt}` });
    const spec = { kind: 'sine', frequencyHz, levelDbfs, durationSeconds: 60 } as const;
    hand.take(hand.state.next, { kind: 'tone', channelIndex: 0, frequencyHz }, spec, played);
  }
  return hand;
}

/** One silence just longer than the six seconds after which the rig's converter sleeps: a test cannot wait for more. */
function checkTurnOn(faults: RigFaultId[]) {
  const task = { ...turnOnTask(JOB), silencesSeconds: [7] };
  const hand = new RigHand('turn-on', TURN_ON_PROCEDURE, task, faults);
  hand.turn({ probe: 'converter-left', volumeStep: hand.state.task.step });
  while (hand.state.next !== null) {
    const { next, task } = hand.state;
    hand.take(next, turnOnRequest(task, next, 0), turnOnSpec(task, next), 'left');
  }
  return hand;
}

const named = (hand: { state: { findings: { fault: string }[] } }) =>
  hand.state.findings.map(({ fault }) => fault);

describe('volume steps', () => {
  it('healthy: step 30 is the highest clean one, with its volts, and nothing is named', async () => {
    const hand = walkUp([]);
    expect(hand.state.ceiling.cleanStep).toBe(30);
    expect(named(hand)).toEqual([]);
    const { ceilingVolts, kneeVolts } = SOURCE_PROCEDURE.result(hand.state);
    // 45 V of a full-scale tone, ten steps of 1.5 dB down.
    expect(Math.abs(20 * Math.log10((ceilingVolts ?? 0) / (45 * 10 ** (-15 / 20))))).toBeLessThan(0.01);
    // 12 V peak; the bend of one per cent to either side lies within 0.1 dB.
    expect(Math.abs(20 * Math.log10((kneeVolts ?? 0) / (12 / Math.SQRT2)))).toBeLessThan(0.1);
    await expectReplays(hand);
  });

  it('at the converter’s output: the same step, 14 dB lower', () => {
    const hand = walkUp([], 'converter');
    expect(hand.state.ceiling.cleanStep).toBe(30);
    const volts = 45 * 10 ** ((-15 - 14) / 20);
    expect(Math.abs(20 * Math.log10((hand.state.ceiling.volts ?? 0) / volts))).toBeLessThan(0.01);
    expect(named(hand)).toEqual([]);
  });

  it('radio-clips-early: step 24, named', () => {
    const hand = walkUp(['radio-clips-early']);
    expect(hand.state.ceiling.cleanStep).toBe(24);
    expect(named(hand)).toEqual(['radio-clips-early']);
  });

  it('radio-cuts-bass: named, with the step from which more than 1 dB is missing', () => {
    const hand = walkUp(['radio-cuts-bass']);
    expect(named(hand)).toEqual(['radio-cuts-bass']);
    // A first-order shelf at 100 Hz, 1 dB deeper with each step past 18: at 43 Hz 0.84 dB at 19, 1.67 dB at 20.
    expect(hand.state.bassCut?.fromStep).toBe(20);
    expect(hand.state.ceiling.cleanStep).toBe(30);
  });
});

describe('load resistors', () => {
  it('healthy: alike with and without them', () => {
    const hand = checkLoad([]);
    expect(named(hand)).toEqual([]);
    expect(LOAD_PROCEDURE.result(hand.state).sensesLoad).toBe(false);
    expect(Math.abs(hand.state.change?.levelDb ?? 9)).toBeLessThan(0.01);
  });

  it('radio-unloaded: named, with 5 dB of level and more of the bass', async () => {
    const hand = checkLoad(['radio-unloaded']);
    expect(named(hand)).toEqual(['radio-unloaded']);
    const { levelDb, bassDb } = hand.state.change!;
    // 5 dB over the whole band; the shelf of 6 dB at 250 Hz still takes 0.2 dB at 997 Hz and nearly all at 43 Hz.
    expect(levelDb).toBeGreaterThan(-5.4);
    expect(levelDb).toBeLessThan(-5);
    expect(bassDb).toBeLessThan(-5);
    await expectReplays(hand);
  });
});

describe('sides', () => {
  it.each(['radio', 'converter'] as const)(
    'healthy at the %s: left is left and right is right',
    async (point) => {
      const hand = checkSides(point);
      expect(hand.state.verdict).toBe('right');
      expect(named(hand)).toEqual([]);
      expect(Math.abs(hand.state.balanceDb ?? 9)).toBeLessThan(0.01);
      await expectReplays(hand);
    },
  );
});

describe('turn-on', () => {
  it('healthy: nothing is lost', () => {
    const hand = checkTurnOn([]);
    expect(named(hand)).toEqual([]);
    expect(hand.state.awakeForSeconds).toBe(7);
    // Half of either fade, 10 ms each, and the few milliseconds to which an edge is placed.
    expect(hand.state.silences[0]?.lostSeconds).toBeLessThan(0.02);
  });

  it('converter-sleeps: named, with what is lost, when it sleeps, and the lowest level that holds it', async () => {
    const hand = checkTurnOn(['converter-sleeps']);
    expect(named(hand)).toEqual(['converter-sleeps']);
    expect(hand.state.sleepsWithinSeconds).toBe(7);
    // It wakes 0.3 s after the signal; fades and edges as above.
    expect(Math.abs((hand.state.silences[0]?.lostSeconds ?? 9) - 0.3)).toBeLessThan(0.02);
    // It senses 3 mV peak. At step 20 full scale is 1.42 V: -60 dBFS is 2.0 mV peak, which the radio's noise
    // lifts past the threshold again and again, -70 dBFS is 0.6 mV.
    expect(hand.state.keepAlive.map(({ levelDbfs, held }) => [levelDbfs, held])).toEqual([
      [-70, false],
      [-60, true],
    ]);
    expect(hand.state.holdingDbfs).toBe(-60);
    // Six seconds after the last signal, seen in half seconds.
    expect(Math.abs((hand.state.keepAlive[0]?.goneAfterSeconds ?? 0) - 6)).toBeLessThan(0.75);
    await expectReplays(hand);
    // A minute of simulated sound, read three times.
  }, 120_000);
});
