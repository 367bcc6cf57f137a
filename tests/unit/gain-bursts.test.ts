/** A gain set at the reduced level, and the bursts at full level that confirm it, on the practice rig. */
import { describe, expect, it, vi } from 'vitest';
import { toneSet } from '../../src/job/tone-set.ts';
import { gainResult } from '../../src/procedure/gain/result.ts';
import { DEMO_RIG } from '../../src/rig/demo-rig.ts';
import type { RigConfig } from '../../src/rig/rig.ts';
import { HATCHBACK, Hand, type HandOptions } from './gain-hand.ts';

// A minute of the rig's sound takes its time on a busy machine.
vi.setConfig({ testTimeout: 180_000 });

/** What a burst may last, seconds, and the least pause after it as a multiple of that: written down here once more. */
const BURST_SECONDS = 1;
const PAUSE_PER_BURST = 10;

/** The demo rig with one channel's ceiling moved, dB. */
function ceilingMoved(id: string, byDb: number): RigConfig {
  const channels = DEMO_RIG.channels.map((one) =>
    one.id === id ? { ...one, ceilingPeakVolts: one.ceilingPeakVolts * 10 ** (byDb / 20) } : one,
  );
  return { ...DEMO_RIG, channels };
}

function setReduced(id: string, options: HandOptions = {}): Hand {
  const hand = new Hand(id, options);
  hand.tell({ type: 'tone-level', level: 'reduced' });
  hand.aim();
  return hand;
}

function burst(hand: Hand): Hand {
  hand.tell({ type: 'bursts', driver: 'app', seconds: hand.state.seconds });
  hand.restUntil((state) => state.bursts?.phase === 'done', 60);
  hand.rest(1.5);
  return hand;
}

describe('at the reduced level', () => {
  it.each([
    ['front-left', -25, 1.73205],
    ['subwoofer', -28, 2.82843],
  ])(
    '%s: the tone lies 20 dB under minus the overlap, and the aim is a tenth of the target',
    (id, dbfs, volts) => {
      const hand = setReduced(id);
      expect(hand.state.task.toneDbfs).toBe(dbfs);
      // V * 10^((g - t) / 20) with t = g + 20 (design, section 5).
      expect(hand.state.aim.aimVolts).toBeCloseTo(volts, 4);
      expect(hand.state.aim.zone).toBe('inside');
      expect(hand.state.instruction).toMatch(/confirm it with short bursts at full level\.$/);
      expect(hand.state.acceptance.needsSecondThought).toBe(true);
      expect(hand.state.acceptance.why).toMatch(/no burst has confirmed it/);
    },
  );

  it('goes back to the planned level and its aim', () => {
    const hand = setReduced('front-left');
    hand.tell({ type: 'tone-level', level: 'planned' });
    hand.rest(1);
    expect(hand.state.task.toneDbfs).toBe(-5);
    expect(hand.state.aim.aimVolts).toBeCloseTo(17.3205, 4);
    expect(hand.state.aim.zone).toBe('inside');
  });
});

describe('bursts from a track of the tone set', () => {
  it('are told apart from the reduced tone and from each other, and confirm as well', () => {
    const hand = setReduced('front-left');
    const track = toneSet(HATCHBACK, { sampleRateHz: 44_100, bits: 16 }).tracks.find(
      (one) => one.id === 'front-left-bursts',
    );
    if (track?.kind !== 'steps') throw new Error(track?.kind);
    hand.tell({ type: 'bursts', driver: 'track', seconds: hand.state.seconds });
    expect(hand.state.instruction).toMatch(/^Play the track with the bursts/);
    // The reduced tone plays on while the hand goes to the radio.
    hand.rest(1);
    expect(hand.state.bursts?.bursts).toEqual([]);
    hand.playTrack(track);
    hand.restUntil((state) => state.bursts?.phase === 'done', 60);
    expect(hand.state.bursts?.bursts.map((one) => [one.toneDbfs, one.verdict])).toEqual([
      [-11, 'clean'],
      [-5, 'clean'],
      [-4, 'clipped'],
    ]);
    expect(hand.state.burstConclusion).toMatchObject({ verdict: 'clipped', turnBackDb: 0 });
  });

  it('at another level than expected conclude nothing', () => {
    const hand = setReduced('front-left');
    hand.tell({ type: 'bursts', driver: 'track', seconds: hand.state.seconds });
    const levelsDbfs = [-9, -7];
    const steps = { kind: 'steps', frequencyHz: 997, stepSeconds: 1, pauseSeconds: 1, levelsDbfs } as const;
    hand.playTrack({ ...steps, levelsDbfs: [...levelsDbfs] });
    hand.rest(5);
    hand.tell({ type: 'bursts-stop', seconds: hand.state.seconds });
    expect(hand.state.burstConclusion).toMatchObject({
      verdict: 'undecided',
      why: expect.stringMatching(/burst at -11 dBFS rose by 2\.0 dB more than the tone was raised/),
    });
  });
});

describe('bursts at full level', () => {
  it.each([
    ['front-left', 18.4, 17.3205],
    ['subwoofer', 30.5, 28.2843],
  ])(
    '%s: clean at the target, the knee found a decibel above, nothing to turn back',
    (id, kneeVolts, target) => {
      const hand = burst(setReduced(id));
      expect(hand.state.bursts?.bursts.map((one) => one.verdict)).toEqual(['clean', 'clean', 'clipped']);
      const result = gainResult(hand.state);
      expect(result.inside).toBe(true);
      expect(result.bursts?.conclusion.verdict).toBe('clipped');
      if (result.bursts?.conclusion.verdict !== 'clipped') throw new Error('unreachable');
      const { conclusion } = result.bursts;
      // Knee by one reading of overdrive: 0.02 dB, and 0.03 dB by which the reduced tone's volts wander.
      expect(Math.abs(20 * Math.log10(conclusion.kneeVolts / kneeVolts))).toBeLessThan(0.06);
      expect(conclusion.turnBackDb).toBe(0);
      expect(conclusion.marginDb).toBeCloseTo(20 * Math.log10(kneeVolts / target), 1);
      expect(Math.abs(20 * Math.log10((result.knee?.volts ?? 0) / kneeVolts))).toBeLessThan(0.06);
      expect(hand.state.acceptance).toMatchObject({ can: true, needsSecondThought: false });
      expect(hand.state.findings).toEqual([]);
    },
  );

  it('all clean where the knee lies further above: at least so much room, and no knee is claimed', () => {
    const hand = burst(setReduced('front-left', { config: ceilingMoved('front-left', 3) }));
    expect(hand.state.bursts?.bursts.map((one) => one.verdict)).toEqual(['clean', 'clean', 'clean']);
    const { bursts, knee, marginDb } = gainResult(hand.state);
    expect(bursts?.conclusion).toMatchObject({ verdict: 'clean' });
    if (bursts?.conclusion.verdict !== 'clean') throw new Error('unreachable');
    // The third burst is 1 dB over the target; the setting was inside its brackets of half a decibel.
    expect(Math.abs(bursts.conclusion.marginDb - 1)).toBeLessThan(0.5);
    expect([knee, marginDb]).toEqual([null, null]);
  });

  it('clipped short of the target: says how much to turn back, and the aim moves under the knee', () => {
    const hand = burst(setReduced('front-left', { config: ceilingMoved('front-left', -3) }));
    expect(hand.state.bursts?.bursts.map((one) => one.verdict)).toEqual(['clean', 'clipped']);
    const { burstConclusion } = hand.state;
    if (burstConclusion?.verdict !== 'clipped') throw new Error(JSON.stringify(burstConclusion));
    // Target 17.32 V, knee 18.4 V less 3 dB: 2.47 dB over, half a decibel of room, give or take the brackets.
    expect(Math.abs(burstConclusion.turnBackDb - 2.97)).toBeLessThan(0.5);
    expect(hand.state.aim.limitedByKnee).toBe(true);
    expect(hand.state.aim.zone).toBe('over');
    expect(burstConclusion.turnBackDb).toBeCloseTo(hand.state.aim.errorDb ?? 0, 1);
    hand.turn(-burstConclusion.turnBackDb, 3);
    hand.rest(1.5);
    expect(hand.state.aim.zone).toBe('inside');
    const { bursts, knee } = gainResult(hand.state);
    expect(bursts?.conclusion).toEqual(burstConclusion);
    expect(Math.abs(20 * Math.log10((knee?.volts ?? 0) / 18.4) + 3)).toBeLessThan(0.06);
  });

  it('last a second at most, and the pause after each at least ten times as long', () => {
    const hand = burst(setReduced('subwoofer'));
    const rate = DEMO_RIG.sampleRateHz;
    const changes = hand.asked.slice(1);
    const lengths: number[] = [];
    for (const [index, { frame, toneDbfs }] of changes.entries()) {
      const next = changes[index + 1];
      if (next === undefined) continue;
      const seconds = (next.frame - frame) / rate;
      const isBurst = toneDbfs !== null && toneDbfs > -20;
      if (isBurst) {
        expect(seconds).toBeLessThanOrEqual(BURST_SECONDS);
        lengths.push(seconds);
      } else if (toneDbfs === null) {
        expect(seconds).toBeGreaterThanOrEqual(PAUSE_PER_BURST * (lengths.at(-1) ?? 1) - 1e-9);
      }
    }
    expect(lengths).toHaveLength(3);
  });

  it('rest before a second run, even in a new turn', () => {
    const hand = burst(setReduced('front-left'));
    const endedAt = (hand.asked.at(-1)?.frame ?? 0) / DEMO_RIG.sampleRateHz;
    hand.tell({ type: 'new-turn', seconds: hand.state.seconds });
    hand.rest(1);
    hand.tell({ type: 'bursts', driver: 'app', seconds: hand.state.seconds });
    expect(hand.state.bursts?.phase).toBe('resting');
    hand.restUntil((state) => state.bursts?.phase === 'sounding', 20);
    expect(hand.state.seconds - endedAt).toBeGreaterThan(PAUSE_PER_BURST * BURST_SECONDS - 0.3);
  });

  it('prove nothing once the gain is turned up', () => {
    const hand = burst(setReduced('front-left'));
    hand.turn(0.4, 2);
    hand.rest(1.5);
    expect(hand.state.burstConclusion).toBeNull();
    expect(hand.state.acceptance.why).toMatch(/turned up since the bursts/);
  });

  it('are refused away from the aim, and at the planned level', () => {
    const hand = new Hand('front-left');
    hand.rest(1);
    const begin = () => hand.tell({ type: 'bursts', driver: 'app', seconds: hand.state.seconds });
    expect(begin).toThrow(/set at the reduced level/);
    hand.tell({ type: 'tone-level', level: 'reduced' });
    hand.rest(1);
    expect(begin).toThrow(/inside the brackets/);
  });

  it('that nobody hears end by themselves, and conclude nothing', () => {
    const hand = setReduced('front-left');
    hand.tell({ type: 'bursts', driver: 'app', seconds: hand.state.seconds });
    hand.change({ volumeStep: 0 });
    hand.restUntil((state) => state.bursts?.phase === 'done', 10);
    expect(hand.state.bursts?.stopped).toBe('nothing-heard');
    expect(hand.state.burstConclusion).toMatchObject({ verdict: 'undecided' });
    const [on, off, after] = hand.asked.slice(-3);
    expect([on?.toneDbfs, off?.toneDbfs, after?.toneDbfs]).toEqual([-11, null, -25]);
    const seconds = ((off?.frame ?? 0) - (on?.frame ?? 0)) / DEMO_RIG.sampleRateHz;
    // To its limit, and no longer: nothing was heard that could have ended it earlier.
    expect(seconds).toBeGreaterThan(BURST_SECONDS - 0.2);
    expect(seconds).toBeLessThanOrEqual(BURST_SECONDS);
  });
});
