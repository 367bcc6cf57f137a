/** Sides and load: what is wired wrongly is told from what is played, and nothing is named where all is right. */
import { describe, expect, it } from 'vitest';
import type { LoadTask, Resistors } from '../../src/procedure/load/load.ts';
import { LOAD_PROCEDURE } from '../../src/procedure/load/load-steps.ts';
import type { Side, SidesState, SidesTask } from '../../src/procedure/sides/sides.ts';
import { SIDES_PROCEDURE } from '../../src/procedure/sides/sides-steps.ts';
import { readTake } from '../../src/procedure/take/read-take.ts';
import { sounding, takeOf, toneReading } from './source-signals.ts';

const TONE = { frequencyHz: 997, levelDbfs: 0 };
const ONE: SidesTask = { point: 'radio', input: 'one-channel', tone: TONE };
const TWO: SidesTask = { ...ONE, input: 'two-channel' };

/** Peak at a side while one is played. */
type Wiring = (played: Side, at: Side) => number;

const RIGHT: Wiring = (played, at) => (played === at ? 0.3 : 0);
const FAULTS: [string, Wiring][] = [
  ['sides-swapped', (played, at) => (played === at ? 0 : 0.3)],
  ['sides-mono', () => 0.2],
  // -10 dB across: far more than crosstalk, far less than a sum.
  ['sides-leak', (played, at) => (played === at ? 0.3 : 0.3 * 10 ** (-10 / 20))],
  ['side-dead', (played, at) => (played === at && at === 'left' ? 0.3 : 0)],
  ['sides-unlike', (played, at) => (played === at ? (at === 'left' ? 0.3 : 0.2) : 0)],
];

function listen(task: SidesTask, wiring: Wiring): SidesState {
  let state = SIDES_PROCEDURE.start(task);
  for (let take = 0; state.next !== null && take < 9; take += 1) {
    const purpose = state.next;
    const { played, heardAt } = purpose;
    const sound = (at: Side) => sounding({ frequencyHz: 997, peak: wiring(played, at), seed: take + 1 });
    if (heardAt === 'both') {
      const request = { kind: 'each-channel', frequencyHz: 997 } as const;
      const reading = readTake(request, takeOf(sound('left'), sound('right')));
      state = SIDES_PROCEDURE.step(state, { type: 'take', purpose, request, reading });
    } else {
      const request = { kind: 'tone', channelIndex: 0, frequencyHz: 997 } as const;
      const reading = readTake(request, takeOf(sound(heardAt)));
      state = SIDES_PROCEDURE.step(state, { type: 'take', purpose, request, reading });
    }
  }
  return state;
}

const faults = (state: { findings: { fault: string }[] }) => state.findings.map(({ fault }) => fault);

describe.each([
  ['with a lead that is moved', ONE],
  ['with both sides at once', TWO],
])('sides, %s', (_, task) => {
  it('names nothing where left is left', () => {
    const state = listen(task, RIGHT);
    expect([state.verdict, faults(state)]).toEqual(['right', []]);
    expect(state.balanceDb).toBeCloseTo(0, 2);
    expect(SIDES_PROCEDURE.result(state).verdict).toBe('right');
  });

  it.each(FAULTS)('names %s', (fault, wiring) => {
    const state = listen(task, wiring);
    expect(faults(state)).toEqual([fault]);
    expect(state.acceptance.needsSecondThought).toBe(true);
  });
});

describe('sides that say nothing', () => {
  it('nothing heard anywhere is not a dead side: nothing was played', () => {
    const state = listen(ONE, () => 0);
    expect([state.verdict, faults(state)]).toEqual([null, []]);
    expect(state.instruction).toMatch(/^No steady 997 Hz tone was heard on either side/);
    expect(() => SIDES_PROCEDURE.result(state)).toThrow(/played and heard first/);
  });

  it('the lead moves once: both tones at the left, then both at the right', () => {
    let state = SIDES_PROCEDURE.start(ONE);
    const places: string[] = [];
    while (state.next !== null) {
      const purpose = state.next;
      places.push(`${purpose.played} at ${purpose.heardAt}`);
      const request = { kind: 'tone', channelIndex: 0, frequencyHz: 997 } as const;
      state = SIDES_PROCEDURE.step(state, {
        type: 'take',
        purpose,
        request,
        reading: toneReading({ frequencyHz: 997, peak: 0.1 }),
      });
    }
    expect(places).toEqual(['left at left', 'right at left', 'left at right', 'right at right']);
  });

  it('refuses both sides from an input of one channel', () => {
    const state = SIDES_PROCEDURE.start(TWO);
    const request = { kind: 'each-channel', frequencyHz: 997 } as const;
    const reading = readTake(request, takeOf(sounding({ frequencyHz: 997, peak: 0.1 })));
    const purpose = { played: 'left', heardAt: 'both' } as const;
    expect(() => SIDES_PROCEDURE.step(state, { type: 'take', purpose, request, reading })).toThrow(
      /need an input of two channels/,
    );
  });
});

const LOAD: LoadTask = {
  side: 'left',
  step: 20,
  tones: {
    middle: TONE,
    bass: { frequencyHz: 43, levelDbfs: 0 },
    treble: { frequencyHz: 7993, levelDbfs: -20 },
  },
  voltsPerFs: 10,
};

function loadWith(changeDb: (tone: 'middle' | 'bass' | 'treble') => number | null) {
  let state = LOAD_PROCEDURE.start(LOAD);
  for (const resistors of ['connected', 'off'] as Resistors[]) {
    for (const tone of state.missing[resistors]) {
      const { frequencyHz } = LOAD.tones[tone];
      const db = resistors === 'connected' ? 0 : changeDb(tone);
      const reading = toneReading({ frequencyHz, peak: db === null ? 0 : 0.2 * 10 ** (db / 20) });
      const request = { kind: 'tone', channelIndex: 0, frequencyHz } as const;
      state = LOAD_PROCEDURE.step(state, { type: 'take', purpose: { resistors, tone }, request, reading });
    }
  }
  return state;
}

describe('load', () => {
  it('0.9 dB is let pass, 1.1 dB is named', () => {
    expect(faults(loadWith(() => -0.9))).toEqual([]);
    expect(faults(loadWith(() => -1.1))).toEqual(['radio-unloaded']);
  });

  it('a response that bends is named though the middle stays', () => {
    const state = loadWith((tone) => (tone === 'bass' ? -3 : 0));
    expect(faults(state)).toEqual(['radio-unloaded']);
    expect(state.change?.bassDb).toBeCloseTo(-3, 1);
  });

  it('a radio that mutes without its load is named, not taken for a tone that nobody played', () => {
    const state = loadWith(() => null);
    expect(state.change?.levelDb).toBeNull();
    expect(state.findings[0]?.sentence).toMatch(/silent/);
    expect(LOAD_PROCEDURE.result(state).off.middle).toEqual({
      levelDbfs: null,
      volts: null,
      thdPercent: null,
    });
  });

  it('a tone that is not heard with the load connected is asked for again', () => {
    const request = { kind: 'tone', channelIndex: 0, frequencyHz: 997 } as const;
    const purpose = { resistors: 'connected', tone: 'middle' } as const;
    const reading = toneReading({ frequencyHz: 997, peak: 0 });
    const state = LOAD_PROCEDURE.step(LOAD_PROCEDURE.start(LOAD), {
      type: 'take',
      purpose,
      request,
      reading,
    });
    expect(state.missing.connected).toContain('middle');
    expect(state.instruction).toMatch(/^No steady 997 Hz tone was heard with the load resistors/);
  });
});
