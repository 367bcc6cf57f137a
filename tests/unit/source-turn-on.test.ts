/** What a pause that lasted too long says of the converter, and which try comes next. */
import { describe, expect, it } from 'vitest';
import { toneStretches } from '../../src/dsp/time/tone-stretches.ts';
import type { TurnOnPurpose, TurnOnState, TurnOnTask } from '../../src/procedure/turn-on/turn-on.ts';
import { TURN_ON_PROCEDURE } from '../../src/procedure/turn-on/turn-on-steps.ts';
import { RATE, sounding, stretchesOf } from './source-signals.ts';

const TASK: TurnOnTask = {
  step: 20,
  toneHz: 997,
  keepAliveHz: 31,
  toneDbfs: -20,
  silencesSeconds: [10, 30],
  keepAliveDbfs: [-80, -70, -60, -50, -40],
  firstKeepAliveDbfs: -60,
};

function heard(state: TurnOnState, purpose: TurnOnPurpose, tone: ReturnType<typeof stretchesOf> | null) {
  const frequencyHz = purpose.try === 'silence' ? 997 : 31;
  const request = { kind: 'stretches', channelIndex: 0, frequencyHz } as const;
  const facts = { seconds: 20, sampleRateHz: RATE, startFrame: 0, grade: 'valid', doubts: [] } as const;
  return TURN_ON_PROCEDURE.step(state, {
    type: 'take',
    purpose,
    request,
    reading: { kind: 'stretches', ...facts, doubts: [], tone },
  });
}

/** Tone of 4 s, silence, and the tone again so much late. */
const afterSilence = (seconds: number, lateSeconds: number) =>
  stretchesOf(seconds + 9, [
    [0.3, 4.3],
    [4.3 + seconds + lateSeconds, seconds + 8.3],
  ]);

const begin = () => TURN_ON_PROCEDURE.start(TASK);
const SILENCE_10 = { try: 'silence', seconds: 10 } as const;
const keepAlive = (levelDbfs: number) => ({ try: 'keep-alive', seconds: 10, levelDbfs }) as const;
const held = (state: TurnOnState, levelDbfs: number) =>
  heard(
    state,
    keepAlive(levelDbfs),
    stretchesOf(
      31,
      [
        [0.3, 10.3],
        [20.3, 30.3],
      ],
      [[10.3, 20.3, levelDbfs]],
    ),
  );
const notHeld = (state: TurnOnState, levelDbfs: number) =>
  heard(
    state,
    keepAlive(levelDbfs),
    stretchesOf(
      31,
      [
        [0.3, 10.3],
        [20.6, 30.3],
      ],
      [[10.3, 16.3, levelDbfs]],
    ),
  );

describe('a silence', () => {
  it('that costs nothing leads to a longer one, and after the last to the end', () => {
    let state = heard(begin(), SILENCE_10, afterSilence(10, 0.02));
    expect(state.next).toEqual({ try: 'silence', seconds: 30 });
    state = heard(state, { try: 'silence', seconds: 30 }, afterSilence(30, 0.03));
    expect([state.next, state.awakeForSeconds, state.findings]).toEqual([null, 30, []]);
  });

  it('that costs the start is named, and something quiet is tried in its place', () => {
    const state = heard(begin(), SILENCE_10, afterSilence(10, 0.3));
    expect(state.findings.map(({ fault }) => fault)).toEqual(['converter-sleeps']);
    expect(state.silences[0]?.lostSeconds).toBeCloseTo(0.3, 6);
    expect(state.next).toEqual(keepAlive(-60));
  });

  it('after which nothing comes back is a start lost whole', () => {
    const state = heard(begin(), SILENCE_10, stretchesOf(19, [[0.3, 4.3]]));
    expect(state.silences).toEqual([{ seconds: 10, lostSeconds: null, slept: true }]);
    expect(state.findings[0]?.sentence).toMatch(/does not wake/);
  });

  it('that was not caught whole says nothing', () => {
    for (const tone of [null, stretchesOf(8, [[0.3, 4.3]]), stretchesOf(19, [[0, 0.3]])]) {
      const state = heard(begin(), SILENCE_10, tone);
      expect([state.silences, state.findings]).toEqual([[], []]);
      expect(state.instruction).toMatch(/^The tone, the pause and the tone again were not all caught/);
    }
  });
});

describe('a quiet tone in place of silence', () => {
  const asleep = () => heard(begin(), SILENCE_10, afterSilence(10, 0.3));

  it('that holds leads to a quieter one, down to the first that does not', () => {
    let state = held(asleep(), -60);
    expect(state.next).toEqual(keepAlive(-70));
    state = notHeld(state, -70);
    expect([state.next, state.holdingDbfs]).toEqual([null, -60]);
    expect(state.findings[0]?.remedy).toMatch(/31 Hz tone at −60 dBFS at step 20 holds it awake/);
  });

  it('that does not hold leads to a louder one, and the time until it was gone is told', () => {
    let state = notHeld(asleep(), -60);
    expect(state.next).toEqual(keepAlive(-50));
    // Six seconds, in half seconds.
    expect(Math.abs((state.keepAlive[0]?.goneAfterSeconds ?? 0) - 6)).toBeLessThanOrEqual(0.5);
    state = held(state, -50);
    expect([state.next, state.holdingDbfs]).toEqual([null, -50]);
  });

  it('none of which holds ends at the loudest', () => {
    const state = [-60, -50, -40].reduce(notHeld, asleep());
    expect([state.next, state.holdingDbfs]).toEqual([null, null]);
  });
});

describe('stretches of a tone', () => {
  const joined = (...pieces: Float32Array[]) => Float32Array.from(pieces.flatMap((piece) => [...piece]));
  const tone = (frequencyHz: number, peak: number, seconds: number) =>
    sounding({ frequencyHz, peak, seconds });

  it.each([997, 31])('places the edges of %i Hz to a tenth of its window', (frequencyHz) => {
    const samples = joined(
      tone(frequencyHz, 0, 0.4),
      tone(frequencyHz, 0.1, 2),
      tone(frequencyHz, 0, 3),
      tone(frequencyHz, 0.1, 2),
    );
    const found = toneStretches(samples, RATE, frequencyHz);
    const edges =
      found?.stretches.flatMap(({ startSeconds, endSeconds }) => [startSeconds, endSeconds]) ?? [];
    expect(edges).toHaveLength(4);
    // The window is two cycles or 20 ms; a part of a cycle fits a little high or low.
    const allowed = Math.max(0.02, 2 / frequencyHz) / 4;
    for (const [index, edge] of [0.4, 2.4, 5.4].entries()) {
      expect(Math.abs((edges[index] ?? 9) - edge)).toBeLessThan(allowed);
    }
    expect(found?.loudDbfs).toBeCloseTo(-20, 1);
  });

  it('hears none in noise, in silence, and where another tone plays', () => {
    expect(toneStretches(tone(997, 0, 3), RATE, 997)).toBeNull();
    expect(toneStretches(new Float32Array(RATE * 3), RATE, 997)).toBeNull();
    expect(toneStretches(tone(440, 0.5, 3), RATE, 997)).toBeNull();
  });
});
