import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Doubt } from '../../src/dsp/reading.ts';
import { renderSine } from '../../src/dsp/tones/sine.ts';
import { levelResult } from '../../src/job/records/level.ts';
import type { LevelPurpose, LevelState, LevelTask } from '../../src/procedure/level/level.ts';
import { LEVEL } from '../../src/procedure/level/level-steps.ts';
import { trimsOf } from '../../src/procedure/level/trims.ts';
import type { PinkTakeReading } from '../../src/procedure/take/pink-take.ts';
import { readToneTake, type ToneTakeReading } from '../../src/procedure/take/tone-take.ts';
import { levelRequest } from '../../src/ui/stations/balance/level-signals.ts';

const DOOR_BAND = { lowHz: 500, highHz: 2000 };
const BASS_BAND = { lowHz: 31.25, highHz: 64 };

function channel(channelId: string, roomDb: number | null = null, band = DOOR_BAND) {
  const name = `${channelId.charAt(0).toUpperCase()}${channelId.slice(1).replace('-', ' ')}`;
  return { channelId, name, toneHz: 997, toneDbfs: -5, band, roomDb };
}

function task(part: Partial<LevelTask> = {}): LevelTask {
  return {
    way: 'wire',
    channels: [channel('front-left'), channel('front-right')],
    pairs: [{ leftId: 'front-left', rightId: 'front-right' }],
    places: [],
    weighting: 'C',
    toleranceDb: 0.5,
    voltsPerFs: 35,
    ...part,
  };
}

const BY_MICROPHONE = task({
  way: 'microphone',
  channels: [channel('front-left'), channel('front-right'), channel('subwoofer', null, BASS_BAND)],
  places: [
    { placeId: 'near-left', name: 'the left seat', side: 'left' },
    { placeId: 'near-right', name: 'the right seat', side: 'right' },
  ],
  voltsPerFs: null,
});

/** Read from samples, as in the app. */
function tone(levelDbfs: number, doubts: Doubt[] = [], clip = 1): ToneTakeReading {
  const spec = { kind: 'sine', frequencyHz: 997, levelDbfs, durationSeconds: 1 } as const;
  const samples = Float32Array.from(renderSine(spec, 48_000), (value) =>
    Math.max(-clip, Math.min(clip, value)),
  );
  const take = { sampleRateHz: 48_000, startFrame: 0, channels: [samples], doubts };
  return readToneTake({ kind: 'tone', channelIndex: 0, frequencyHz: 997 }, take);
}

function noise(levels: (number | null)[], part: Partial<PinkTakeReading> = {}): PinkTakeReading {
  return {
    kind: 'pink',
    seconds: 4,
    sampleRateHz: 48_000,
    startFrame: 0,
    grade: 'valid',
    doubts: [],
    levels: levels.map((levelDbfs) => ({ levelDbfs, uncertaintyDb: 0.06 })),
    ...part,
  };
}

function take(state: LevelState, purpose: LevelPurpose, reading: ToneTakeReading | PinkTakeReading) {
  const request = { ...levelRequest(state, purpose, 0), kind: reading.kind } as never;
  return LEVEL.step(state, { type: 'take', purpose, request, reading });
}

const at = (channelId: string, placeId: string | null = null): LevelPurpose => ({
  what: 'channel',
  channelId,
  placeId,
});

function byWire(leftDbfs: number, rightDbfs: number, of = task()): LevelState {
  return take(take(LEVEL.start(of), at('front-left'), tone(leftDbfs)), at('front-right'), tone(rightDbfs));
}

/** Ambient, then every channel at both places; `lowDb` is what the left door lacks. */
function byMicrophone(lowDb: number, ambientDbfs = -80, of = BY_MICROPHONE): LevelState {
  let state = take(LEVEL.start(of), { what: 'ambient' }, noise([ambientDbfs, ambientDbfs]));
  const levels: [string, number, number][] = [
    ['front-left', -30 - lowDb, -36 - lowDb],
    ['front-right', -36, -30],
    ['subwoofer', -40, -40],
  ];
  for (const [id, nearLeft, nearRight] of levels) {
    state = take(state, at(id, 'near-left'), noise([nearLeft]));
    state = take(state, at(id, 'near-right'), noise([nearRight]));
  }
  return state;
}

describe('levels by wire', () => {
  it('asks for one channel after the other, then for nothing', () => {
    const start = LEVEL.start(task());
    expect(start.wanted).toEqual(at('front-left'));
    expect(start.instruction).toMatch(/terminals of front left/);
    const one = take(start, at('front-left'), tone(-10));
    expect(one.wanted).toEqual(at('front-right'));
    expect(one.acceptance.can).toBe(false);
    expect(byWire(-10, -10).wanted).toBeNull();
  });

  it('even sides: nothing named, inside, in volts by the calibration', () => {
    const state = byWire(-10, -10.2);
    expect(state.findings).toEqual([]);
    expect(state.acceptance).toEqual({ can: true, why: null, needsSecondThought: false });
    const result = LEVEL.result(state);
    expect(result.inside).toBe(true);
    expect(result.worstDifferenceDb).toBeCloseTo(0.2, 3);
    expect(result.channels[0]!.volts).toBeCloseTo(35 * 10 ** (-10 / 20), 3);
  });

  it('left 1.5 dB low: named, with volts, and only the right one is turned down', () => {
    const state = byWire(-11.5, -10);
    expect(state.findings).toHaveLength(1);
    expect(state.findings[0]).toMatchObject({
      fault: 'left-low',
      sentence: 'Front left plays 1.5 dB lower than front right.',
    });
    expect(state.findings[0]!.evidence).toMatch(
      /9\.313 V against 11\.068 V: left against right −1\.50 ± 0\.06 dB/,
    );
    expect(state.findings[0]!.remedy).toMatch(/^Turn front right down by 1\.5 dB: no ceiling is recorded/);
    expect(state.acceptance.needsSecondThought).toBe(true);
    expect(LEVEL.result(state)).toMatchObject({ inside: false, way: 'wire', weighting: null });
  });

  it('right low is named as such', () => {
    expect(byWire(-10, -11.5).findings.map((finding) => finding.fault)).toEqual(['right-low']);
  });

  it('raises the lower one as far as its recorded ceiling allows, and turns down the rest', () => {
    const channels = [channel('front-left', 0.6), channel('front-right', 3)];
    const state = byWire(-11.5, -10, task({ channels }));
    expect(state.levels.map((level) => level.trimDb)).toEqual([0.6, expect.closeTo(-0.9, 3)]);
    expect(state.findings[0]!.remedy).toMatch(
      /^Turn front left up by 0\.6 dB and turn front right down by 0\.9 dB: the lower one has only 0\.6 dB left/,
    );
  });

  it('the newest reading counts, and the older one is kept', () => {
    const again = take(byWire(-11.5, -10), at('front-left'), tone(-10));
    expect(again.findings).toEqual([]);
    expect(again.readings).toHaveLength(3);
  });

  it('does not take a clipped tone, a missing one, an overload or a gap', () => {
    const start = LEVEL.start(task());
    const refused = (reading: ToneTakeReading) => {
      const state = take(start, at('front-left'), reading);
      expect(state.readings).toEqual([]);
      expect(state.wanted).toEqual(at('front-left'));
      return state.instruction;
    };
    expect(refused(tone(-6, [], 0.35))).toMatch(/clipped/);
    expect(refused({ ...tone(-6), channel: { ...tone(-6).channel, tone: null } })).toMatch(/was not heard/);
    expect(refused(tone(-6, ['input-overload']))).toMatch(/input itself was overloaded/);
    expect(refused(tone(-6, ['gap']))).toMatch(/was lost/);
  });

  it('takes volts typed from a multimeter, and compares them with each other only', () => {
    const typed = (state: LevelState, channelId: string, volts: number) =>
      LEVEL.step(state, { type: 'volts', channelId, volts });
    const one = typed(LEVEL.start(task({ voltsPerFs: null })), 'front-left', 8.41);
    const two = typed(one, 'front-right', 10);
    expect(two.pairs[0]!.differenceDb).toBeCloseTo(20 * Math.log10(0.841), 9);
    expect(two.findings[0]!.fault).toBe('left-low');
    const mixed = take(one, at('front-right'), tone(-10));
    expect(mixed.pairs).toEqual([]);
    expect(mixed.acceptance.why).toMatch(/in the same way/);
    expect(() => typed(one, 'front-right', -3)).toThrow(/positive number of volts/);
  });

  it('asks for a channel over again', () => {
    const state = LEVEL.step(byWire(-10, -10), { type: 'choose', channelId: 'front-left', placeId: null });
    expect(state.wanted).toEqual(at('front-left'));
    expect(() => LEVEL.step(state, { type: 'choose', channelId: 'roof', placeId: null })).toThrow(/roof/);
  });

  it('leaves the state it was given as it was', () => {
    const start = LEVEL.start(task());
    const before = JSON.stringify(start);
    take(start, at('front-left'), tone(-10));
    expect(JSON.stringify(start)).toBe(before);
  });

  it('refuses a task without a pair', () => {
    expect(() => LEVEL.start(task({ channels: [], pairs: [] }))).toThrow(/no left and right to compare/);
  });
});

describe('levels by microphone', () => {
  it('hears the cabin itself first, then each channel at each place', () => {
    const start = LEVEL.start(BY_MICROPHONE);
    expect(start.wanted).toEqual({ what: 'ambient' });
    const heard = take(start, { what: 'ambient' }, noise([-80, -80]));
    expect(heard.wanted).toEqual(at('front-left', 'near-left'));
    expect(heard.instruction).toMatch(/only front left play, .* head height at the left seat/);
    expect(byMicrophone(0).wanted).toBeNull();
  });

  it('carries the microphone’s file into every reading and by name into the record, or refuses', () => {
    const curve = [
      { frequencyHz: 20, readsHighDb: -1 },
      { frequencyHz: 20_000, readsHighDb: 2 },
    ];
    const of = { ...BY_MICROPHONE, microphone: { file: 'seat.txt', curve } };
    const start = LEVEL.start(of);
    expect(levelRequest(start, { what: 'ambient' }, 0)).toMatchObject({ microphone: curve });
    expect(levelRequest(start, at('front-left', 'near-left'), 0)).toMatchObject({ microphone: curve });
    const result = LEVEL.result(byMicrophone(0, -80, of));
    expect(levelResult.parse(JSON.parse(JSON.stringify(result))).microphoneFile).toBe('seat.txt');

    const without = levelRequest(LEVEL.start(BY_MICROPHONE), { what: 'ambient' }, 0);
    expect(without).not.toHaveProperty('microphone');
    const event = {
      type: 'take',
      purpose: { what: 'ambient' },
      request: without,
      reading: noise([-80, -80]),
    };
    expect(() => LEVEL.step(start, event as never)).toThrow(/with seat\.txt; the noise was read otherwise/);
    expect(LEVEL.result(byMicrophone(0))).not.toHaveProperty('microphoneFile');
  });

  it('averages energy over the places, so that the nearer seat does not decide', () => {
    const state = byMicrophone(0);
    const mean = 10 * Math.log10((10 ** -3 + 10 ** -3.6) / 2);
    expect(state.levels[0]!.levelDbfs).toBeCloseTo(mean, 3);
    expect(state.levels[0]!.spreadDb).toBeCloseTo(6, 3);
    expect(state.pairs[0]!.differenceDb).toBeCloseTo(0, 9);
    expect(state.findings).toEqual([]);
    expect(state.acceptance.needsSecondThought).toBe(false);
    expect(LEVEL.result(state)).toMatchObject({ inside: true, weighting: 'C', worstDifferenceDb: 0 });
  });

  it('left 1.5 dB low: named, with its places and weighting', () => {
    const state = byMicrophone(1.5);
    expect(state.findings[0]).toMatchObject({ fault: 'left-low' });
    expect(state.findings[0]!.evidence).toMatch(/averaged over 2 places, weighting C: .* −1\.50 ± 0\.1/);
  });

  it('is not sure of a difference that noise alone could make', () => {
    const state = LEVEL.start(BY_MICROPHONE);
    const wide = (level: number) => ({
      ...noise([level]),
      levels: [{ levelDbfs: level, uncertaintyDb: 0.6 }],
    });
    let one = take(state, { what: 'ambient' }, noise([-80, -80]));
    one = take(one, at('front-left', 'near-left'), wide(-31.5));
    one = take(one, at('front-right', 'near-left'), wide(-30));
    expect(one.pairs[0]).toMatchObject({ inside: false });
    expect(one.findings).toEqual([]);
  });

  it('takes the cabin’s own noise out, and refuses what hardly stands out of it', () => {
    const quiet = byMicrophone(0, -37 - 6);
    // 6 dB and 7 dB over the cabin: 1.256 and 0.967 dB too much (references, level addition, backward).
    expect(quiet.levels[0]!.places[1]!.levelDbfs).toBeCloseTo(-36 - 0.967, 2);
    const loud = take(LEVEL.start(BY_MICROPHONE), { what: 'ambient' }, noise([-35, -80]));
    const refused = take(loud, at('front-left', 'near-left'), noise([-30]));
    expect(refused.readings).toEqual([]);
    expect(refused.instruction).toMatch(/only 5\.0 dB over the cabin/);
  });

  it('asks for a second thought where one side has more places', () => {
    let state = take(LEVEL.start(BY_MICROPHONE), { what: 'ambient' }, noise([-80, -80]));
    for (const id of ['front-left', 'front-right']) state = take(state, at(id, 'near-left'), noise([-30]));
    expect(state.acceptance.can).toBe(true);
    expect(state.acceptance.why).toMatch(/not as many on the left/);
  });

  it('does not compare channels at different places', () => {
    let state = take(LEVEL.start(BY_MICROPHONE), { what: 'ambient' }, noise([-80, -80]));
    state = take(state, at('front-left', 'near-left'), noise([-30]));
    state = take(state, at('front-right', 'near-right'), noise([-30]));
    expect(state.pairs).toEqual([]);
    expect(state.acceptance.can).toBe(false);
  });
});

describe('trims', () => {
  it('make the pair alike, never raise past the room that is recorded, and never raise both', () => {
    const room = fc.option(fc.double({ min: -2, max: 6, noNaN: true }));
    fc.assert(
      fc.property(fc.double({ min: -12, max: 12, noNaN: true }), room, room, (differenceDb, left, right) => {
        const pair = { leftId: 'l', rightId: 'r', differenceDb, uncertaintyDb: 0, inside: false };
        const trims = trimsOf(
          [pair],
          [
            { channelId: 'l', roomDb: left },
            { channelId: 'r', roomDb: right },
          ],
        );
        const [l, r] = [trims.get('l')!, trims.get('r')!];
        expect(differenceDb + l - r).toBeCloseTo(0, 9);
        expect(l).toBeLessThanOrEqual(Math.max(0, left ?? 0));
        expect(r).toBeLessThanOrEqual(Math.max(0, right ?? 0));
        expect(Math.min(l, r)).toBeLessThanOrEqual(0);
      }),
      { seed: 11 },
    );
  });
});
