/** The Balance station's folds on the practice rig, against what the rig knows of itself, and replayed from a WAV. */
import { beforeAll, describe, expect, it } from 'vitest';
import type { LevelTask } from '../../src/procedure/level/level.ts';
import { cabinTruth } from '../../src/rig/cabin-truth.ts';
import { BalanceHand } from './balance-rig-hand.ts';
import { expectReplays } from './source-rig-hand.ts';

/** Two minutes of a rig that runs faster than it sounds, but not by much on a machine with other work. */
const LONG_MS = 300_000;

describe('polarity and arrival in the healthy cabin', () => {
  const hand = new BalanceHand();
  beforeAll(() => hand.pulses(), LONG_MS);

  it('names nothing, and tells every driver', () => {
    const { state, procedure } = hand.polarity;
    const { channels, inside, findings } = procedure.result(state);
    expect(findings).toEqual([]);
    expect(inside).toBe(true);
    expect(channels.map((one) => one.verdict)).toEqual(Array.from({ length: 5 }, () => 'normal'));
    expect(state.acceptance.needsSecondThought).toBe(false);
  });

  it('has every arrival as the rig placed it: doors within 0.02 ms (issue 3), the subwoofer as it says', () => {
    const { state, procedure } = hand.arrival;
    const { channels, latestId, skewPpm, skewUncertaintyPpm } = procedure.result(state);
    const truth = new Map(cabinTruth(hand.config, hand.controls).map((one) => [one.id, one.arrivalMs]));
    const first = Math.min(...truth.values());
    for (const { channelId, arrivalMs, uncertaintyMs, delayMs } of channels) {
      const error = Math.abs(arrivalMs - (truth.get(channelId)! - first));
      const isBass = channelId === 'subwoofer';
      expect(error, channelId).toBeLessThan(isBass ? 2 * uncertaintyMs : 0.02);
      expect(uncertaintyMs, channelId).toBeLessThan(isBass ? 1 : 0.02);
      expect(delayMs).toBeGreaterThanOrEqual(0);
    }
    expect(latestId).toBe('subwoofer');
    // The rig's radio and its input share a clock.
    expect(Math.abs(skewPpm)).toBeLessThan(3 * skewUncertaintyPpm + 0.01);
  });

  it('replays into the same arrivals', () => expectReplays(hand.arrival), LONG_MS);
});

describe('a cabin with a reversed door', () => {
  const hand = new BalanceHand(['channel-reversed']);
  beforeAll(() => hand.pulses(), LONG_MS);

  it('names it and nothing else', () => {
    const { findings } = hand.polarity.state;
    expect(findings.map(({ fault, sentence }) => [fault, sentence])).toEqual([
      ['channel-reversed', 'Front right door is the wrong way round.'],
    ]);
  });

  it('replays into the same polarities', () => expectReplays(hand.polarity), LONG_MS);
});

/** The front pair at the front seats: the whole task takes ten times as long and shows nothing more. */
const frontOnly = (task: LevelTask): LevelTask => ({
  ...task,
  channels: task.channels.filter((one) => one.channelId.startsWith('front')),
  pairs: task.pairs.filter((pair) => pair.leftId === 'front-left'),
  places: task.places.slice(0, 2),
});

describe.each([
  // The two of a pair are one amplifier's, so by wire what differs is noise at -90 dB.
  ['wire', 0.001],
  // Noise of 1500 Hz over two seconds at two places: 4.34 / sqrt(3000) / sqrt(2) = 0.06 dB for each of the two.
  ['microphone', 0.25],
] as const)('levels by %s', (way, withinDb) => {
  it(
    'of a healthy pair are alike, and replay into the same record',
    async () => {
      const session = new BalanceHand().levels(way, way === 'microphone' ? frontOnly : undefined);
      expect(session.state.findings).toEqual([]);
      for (const pair of session.state.pairs) expect(Math.abs(pair.differenceDb)).toBeLessThan(withinDb);
      expect(session.state.acceptance).toMatchObject({ can: true, needsSecondThought: false });
      await expectReplays(session);
    },
    LONG_MS,
  );

  it(
    'name the left door that is 1.5 dB low, and no other',
    () => {
      const { state } = new BalanceHand(['left-low']).levels(
        way,
        way === 'microphone' ? frontOnly : undefined,
      );
      expect(state.findings.map((finding) => finding.fault)).toEqual(['left-low']);
      expect(state.findings[0]!.sentence).toBe('Front left door plays 1.5 dB lower than front right door.');
      expect(Math.abs(state.worst!.differenceDb + 1.5)).toBeLessThan(withinDb);
    },
    LONG_MS,
  );
});
