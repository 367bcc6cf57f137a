import { describe, expect, it } from 'vitest';
import type { ArrivalState } from '../../src/procedure/arrival/arrival.ts';
import { ARRIVAL } from '../../src/procedure/arrival/arrival-steps.ts';
import type { PolarityState } from '../../src/procedure/polarity/polarity.ts';
import { POLARITY } from '../../src/procedure/polarity/polarity-steps.ts';
import type { PulseChannel } from '../../src/procedure/pulses/pulse-channel.ts';
import type { HeardPulses, PulseTakeReading } from '../../src/procedure/take/pulse-take.ts';

const RATE_HZ = 48_000;

const CHANNELS: PulseChannel[] = ['Front left', 'Front right', 'Rear left', 'Rear right', 'Subwoofer'].map(
  (name) => ({
    channelId: name.toLowerCase().replace(' ', '-'),
    name,
    frequencyHz: 997,
    place: 0.25,
    bands: [[{ kind: 'high-pass', alignment: 'linkwitz-riley', order: 4, cutoffHz: 80 }]],
  }),
);
const [FL, FR, RL, RR, SUB] = CHANNELS.map((channel) => channel.channelId) as [
  string,
  string,
  string,
  string,
  string,
];

const ARRIVAL_TASK = { channels: CHANNELS, everySeconds: 1, toleranceMs: 0.1 };

interface Heard extends Partial<HeardPulses> {
  atSeconds?: number;
  arrivalMs?: number;
  trueSkewPpm?: number;
  startFrame?: number;
}

/** As a take of five seconds from so many seconds on would read, whose train began with the stream. */
function reading(part: Heard = {}, facts: Partial<PulseTakeReading> = {}): PulseTakeReading {
  const { atSeconds = 10, arrivalMs = 3, trueSkewPpm = 0, startFrame, ...heard } = part;
  const interval = RATE_HZ * (1 + trueSkewPpm * 1e-6);
  return {
    kind: 'pulses',
    seconds: 5,
    sampleRateHz: RATE_HZ,
    startFrame: startFrame ?? atSeconds * RATE_HZ,
    grade: 'valid',
    doubts: [],
    signalToNoiseDb: 40,
    heard: {
      pulses: 5,
      arrivalFrame: (atSeconds + 2) * interval + (arrivalMs / 1000) * interval,
      arrivalUncertaintySeconds: 1e-5,
      timingUncertaintySeconds: 1e-6,
      skewPpm: trueSkewPpm,
      skewUncertaintyPpm: 1,
      polarity: 'upright',
      likelier: 'upright',
      confidence: 0.999,
      ...heard,
    },
    ...facts,
  };
}

const request = { kind: 'pulses' } as never;

function hear(state: ArrivalState, channelId: string, one: PulseTakeReading): ArrivalState {
  return ARRIVAL.step(state, { type: 'take', purpose: { channelId }, request, reading: one });
}

const ARRIVALS_MS = [3, 4.2, 4, 5, 6.5];

/** Every channel, ten seconds apart, and the first once more. */
function round(trueSkewPpm = 0, part: Heard = {}): ArrivalState {
  let state = ARRIVAL.start(ARRIVAL_TASK);
  CHANNELS.forEach(({ channelId }, index) => {
    const one = { atSeconds: 10 * index, arrivalMs: ARRIVALS_MS[index]!, trueSkewPpm, ...part };
    state = hear(state, channelId, reading(one));
  });
  return hear(state, FL, reading({ atSeconds: 50, arrivalMs: 3, trueSkewPpm, ...part }));
}

describe('arrivals on one clock', () => {
  it('asks for every channel, then for the first once more', () => {
    let state = ARRIVAL.start(ARRIVAL_TASK);
    for (const { channelId } of CHANNELS) {
      expect(state.wanted).toBe(channelId);
      state = hear(state, channelId, reading({ atSeconds: 10 * state.takes.length }));
    }
    expect(state.wanted).toBe(FL);
    expect(state.instruction).toMatch(/^Once more front left/);
    expect(state.acceptance.can).toBe(false);
    state = hear(state, FL, reading({ atSeconds: 60 }));
    expect(state.wanted).toBeNull();
    expect(state.acceptance.can).toBe(true);
  });

  it.each([0, 45, -120])('compares them with a skew of %d ppm taken out', (skewPpm) => {
    // What the pulses of one take say of the skew is off by 3 ppm; the closing take knows better.
    const result = ARRIVAL.result(round(skewPpm, { skewPpm: skewPpm + 3, skewUncertaintyPpm: 3 }));
    result.channels.forEach((channel, index) => {
      // 50 s at what is left of the skew's error (3 ppm, the closing take outweighs it by 10^5), and a recorder's
      // milliseconds for a player's: 3.5 ms at 120 ppm.
      expect(channel.arrivalMs).toBeCloseTo(ARRIVALS_MS[index]! - 3, 2);
      expect(channel.delayMs).toBeCloseTo(6.5 - ARRIVALS_MS[index]!, 2);
    });
    expect(result.skewPpm).toBeCloseTo(skewPpm, 1);
    expect(result).toMatchObject({ latestId: SUB, inside: false, findings: [] });
    expect(result.worstDifferenceMs).toBeCloseTo(3.5, 2);
  });

  it('gives each delay in centimetres and inches of air at the typed temperature', () => {
    const warm = ARRIVAL.step(round(), { type: 'air', celsius: 40 });
    const first = ARRIVAL.result(warm).channels[0]!;
    // References: 354.729 m/s at 40 degrees.
    expect(first.delayCm).toBeCloseTo(3.5 * 35.4729, 3);
    expect(first.delayInches).toBeCloseTo((3.5 * 35.4729) / 2.54, 3);
    expect(() => ARRIVAL.step(warm, { type: 'air', celsius: 400 })).toThrow(/cannot be meant/);
  });

  it('is as uncertain as band, cabin, scatter and clock together', () => {
    const { channels } = ARRIVAL.result(round(0, { arrivalUncertaintySeconds: 4e-4 }));
    expect(channels[4]!.uncertaintyMs).toBeGreaterThan(0.4);
    expect(channels[4]!.uncertaintyMs).toBeLessThan(0.41);
    const short = ['a', 'b'].map(() => reading());
    const open = hear(hear(ARRIVAL.start(ARRIVAL_TASK), FL, short[0]!), FR, {
      ...short[1]!,
      ...reading({ atSeconds: 70, skewUncertaintyPpm: 20 }),
    });
    // 60 s at 20 / sqrt(2) ppm or less, half of it to each side of the middle.
    expect(open.arrivals[1]!.uncertaintyMs).toBeGreaterThan(0.02);
  });

  it('says so where everything arrives together', () => {
    let state = ARRIVAL.start({ ...ARRIVAL_TASK, channels: CHANNELS.slice(0, 2) });
    state = hear(state, FL, reading({ atSeconds: 0 }));
    state = hear(state, FR, reading({ atSeconds: 10, arrivalMs: 3.05 }));
    state = hear(state, FL, reading({ atSeconds: 20 }));
    expect(ARRIVAL.result(state).inside).toBe(true);
  });

  it.each([
    ['the input started anew', { startFrame: 100 }, /input was started anew/],
    ['the train started anew', { arrivalMs: 340 }, /train was started anew/],
  ] as const)('%s: what came before cannot be compared, and it says so', (_, part, words) => {
    const two = hear(
      hear(ARRIVAL.start(ARRIVAL_TASK), FL, reading({ atSeconds: 10 })),
      FR,
      reading({ atSeconds: 20 }),
    );
    const broken = hear(two, RL, reading({ atSeconds: 30, ...part }));
    expect(broken.instruction).toMatch(words);
    expect(broken.takes.map((one) => one.channelId)).toEqual([RL]);
    expect(broken.acceptance.can).toBe(false);
    expect(broken.wanted).toBe(FL);
  });

  it('the closing take finds a break that the others cannot show', () => {
    let state = ARRIVAL.start(ARRIVAL_TASK);
    for (const [index, { channelId }] of CHANNELS.entries()) {
      // From the third channel on everything is 2 ms late: plausible for a cabin, but no cabin does it.
      const arrivalMs = ARRIVALS_MS[index]! + (index >= 2 ? 2 : 0);
      state = hear(state, channelId, reading({ atSeconds: 10 * index, arrivalMs }));
    }
    expect(state.broken).toBeNull();
    state = hear(state, FL, reading({ atSeconds: 50, arrivalMs: 5 }));
    expect(state.broken).toMatch(/2\.00 ms elsewhere/);
    expect(state.acceptance.can).toBe(false);
  });

  it('a train that the player begins anew puts aside what was taken before it', () => {
    const start = ARRIVAL.start(ARRIVAL_TASK);
    expect(ARRIVAL.step(start, { type: 'train' })).toEqual(start);
    const anew = ARRIVAL.step(hear(start, FL, reading()), { type: 'train' });
    expect(anew.takes).toEqual([]);
    expect(anew.wanted).toBe(FL);
    expect(anew.instruction).toMatch(/^The train of pulses was started anew/);
  });

  it('recovers from a break once every channel was recorded again', () => {
    let state = hear(ARRIVAL.start(ARRIVAL_TASK), FL, reading({ atSeconds: 100 }));
    state = hear(state, FR, reading({ atSeconds: 10, startFrame: 0 }));
    [RL, RR, SUB, FL, FR].forEach((id, index) => {
      state = hear(state, id, reading({ atSeconds: 20 + 10 * index }));
    });
    expect(state.broken).toBeNull();
    expect(state.acceptance.can).toBe(true);
  });

  it('does not take what holds no pulses or lost sound', () => {
    const start = ARRIVAL.start(ARRIVAL_TASK);
    const silent = hear(start, FL, reading({}, { heard: null }));
    expect(silent.takes).toEqual([]);
    expect(silent.instruction).toMatch(/No regular pulses were heard from front left/);
    const gap = hear(start, FL, reading({}, { grade: 'invalid', doubts: ['gap'] }));
    expect(gap.takes).toEqual([]);
    expect(gap.instruction).toMatch(/lost on its way/);
  });
});

function polarities(read: readonly HeardPulses['polarity'][]): PolarityState {
  return CHANNELS.reduce(
    (state, { channelId }, index) =>
      POLARITY.step(state, {
        type: 'take',
        purpose: { channelId },
        request,
        reading: reading({ polarity: read[index]!, confidence: read[index] === 'undecided' ? 0.7 : 0.9995 }),
      }),
    POLARITY.start({ channels: CHANNELS, everySeconds: 1 }),
  );
}

const UP = 'upright';
const DOWN = 'inverted';

describe('polarity of every driver', () => {
  it('all upright: nothing named', () => {
    const state = polarities([UP, UP, UP, UP, UP]);
    expect(state.findings).toEqual([]);
    expect(POLARITY.result(state)).toMatchObject({ inside: true, turnedOver: false });
    expect(state.acceptance).toEqual({ can: true, why: null, needsSecondThought: false });
  });

  it('one upside down is named, with what to swap', () => {
    const state = polarities([UP, DOWN, UP, UP, UP]);
    expect(state.findings).toHaveLength(1);
    expect(state.findings[0]).toMatchObject({
      fault: 'channel-reversed',
      sentence: 'Front right is the wrong way round.',
      remedy: expect.stringMatching(/^Swap the two leads of front right/),
    });
    expect(state.findings[0]!.evidence).toMatch(/99\.9 % confidence, while 4 others do the opposite/);
    expect(POLARITY.result(state).inside).toBe(false);
  });

  it('where the input turns everything over, the odd one out is still the reversed one', () => {
    const state = polarities([DOWN, UP, DOWN, DOWN, DOWN]);
    expect(state.findings.map((finding) => finding.fault)).toEqual(['channel-reversed', 'all-turned-over']);
    expect(state.findings[0]!.sentence).toMatch(/^Front right/);
    expect(POLARITY.result(state).turnedOver).toBe(true);
  });

  it('what cannot be told is not called normal', () => {
    const state = polarities([UP, UP, UP, UP, 'undecided']);
    expect(state.channels[4]!.verdict).toBe('cannot-tell');
    expect(state.instruction).toMatch(/^Subwoofer could not be told: hold the microphone close/);
    expect(state.acceptance.needsSecondThought).toBe(true);
    expect(POLARITY.result(state).inside).toBeNull();
  });

  it('accepts nothing before every channel was heard', () => {
    const start = POLARITY.start({ channels: CHANNELS, everySeconds: 1 });
    expect(start.wanted).toBe(FL);
    expect(() => POLARITY.result(start)).toThrow(/5 channels are not heard yet/);
  });
});
