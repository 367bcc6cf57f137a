import { beforeAll, describe, expect, it } from 'vitest';
import { FULL_SWEEP } from '../../src/plan/tone/response-sweep.ts';
import type {
  CrossoverChannel,
  CrossoverState,
  CrossoverTask,
} from '../../src/procedure/crossover/crossover.ts';
import { CROSSOVER } from '../../src/procedure/crossover/crossover-steps.ts';
import { nextIsGuarded, nextRequest, nextSweep } from '../../src/procedure/crossover/next.ts';
import { readTake } from '../../src/procedure/take/read-take.ts';
import type { Take } from '../../src/procedure/take/take.ts';
import { type Chain, filter, type SWEEP, sweptSamples, takeOf } from './swept-chain.ts';

const NOISE = 1e-5;
const LR4 = { alignment: 'linkwitz-riley', order: 4 } as const;

function channel(id: string, part: Partial<CrossoverChannel>): CrossoverChannel {
  return {
    id,
    name: id === 'door' ? 'Front left door' : id === 'sub' ? 'Subwoofer' : 'Left tweeter',
    fedBy: 'left',
    band: { highPassHz: null, lowPassHz: null },
    slopes: { highPass: null, lowPass: null },
    ...part,
  };
}

const DOOR = channel('door', {
  band: { highPassHz: 80, lowPassHz: null },
  slopes: { highPass: LR4, lowPass: null },
});
const SUB = channel('sub', {
  fedBy: 'both',
  band: { highPassHz: 25, lowPassHz: 80 },
  slopes: { highPass: { alignment: 'butterworth', order: 2 }, lowPass: LR4 },
});
const TWEETER = channel('tweeter', {
  band: { highPassHz: 3500, lowPassHz: null },
  slopes: { highPass: LR4, lowPass: null },
});
const TASK: CrossoverTask = { channels: [DOOR, SUB, TWEETER], cornerPercent: 10, ahead: 'line-level' };

/** Sweeps through a chain, and folds what the fold asked for. */
function swept(state: CrossoverState, chain: Chain, doubts: Take['doubts'] = []): CrossoverState {
  const { purpose, request } = nextRequest(state, 0);
  const samples = sweptSamples({ noiseRms: NOISE, ...chain, sweep: request.sweep as typeof SWEEP });
  const reading = readTake(request, takeOf(samples, doubts));
  return CROSSOVER.step(state, { type: 'take', purpose, request, reading });
}

const faults = (state: CrossoverState) => state.findings.map(({ fault }) => fault);
const DOOR_FILTER = filter('high-pass', 'linkwitz-riley', 4, 80);
const SUB_FILTERS = [filter('high-pass', 'butterworth', 2, 25), filter('low-pass', 'linkwitz-riley', 4, 80)];

let referenced: CrossoverState;
let door: CrossoverState;
let both: CrossoverState;

beforeAll(() => {
  referenced = swept(CROSSOVER.start(TASK), { gain: 0.07 });
  door = swept(referenced, { filters: [DOOR_FILTER], gain: 0.5 });
  const onSub = CROSSOVER.step(door, { type: 'channel', channelId: 'sub' });
  both = swept(onSub, { filters: SUB_FILTERS, gain: 0.8, delaySeconds: 0.004 });
});

describe('the way through the station', () => {
  it('asks for a reference first, takes one channel after the other with it, and records each', () => {
    const start = CROSSOVER.start(TASK);
    expect(start.next).toBe('reference');
    expect(start.instruction).toMatch(/left input plug, connect the input to that plug, and/);
    expect(start.acceptance.can).toBe(false);
    expect(() => CROSSOVER.result(start)).toThrow(/not been swept/);
    expect(referenced.next).toBe('channel');
    expect(referenced.instruction).toMatch(/terminals of the front left door/);
    expect(door.acceptance).toEqual({ can: true, why: null, needsSecondThought: false });
    const result = CROSSOVER.result(door);
    expect(result).toMatchObject({
      channelId: 'door',
      inside: true,
      inverted: false,
      reference: { way: 'input-plug', channelId: 'door' },
      highPass: { wantedHz: 80, inside: true, found: { alignment: 'linkwitz-riley', order: 4 } },
      lowPass: { wantedHz: null, found: null, inside: null },
      findings: [],
    });
    expect(Math.abs(result.highPass.errorPercent!)).toBeLessThan(0.2);
    expect(both.instruction).toMatch(/subwoofer are right/);
    expect(CROSSOVER.result(both)).toMatchObject({ channelId: 'sub', inside: true });
  });

  it('leaves the state it was given as it was', () => {
    const before = JSON.stringify(referenced);
    swept(referenced, { filters: [DOOR_FILTER] });
    CROSSOVER.step(referenced, { type: 'channel', channelId: 'sub' });
    expect(JSON.stringify(referenced)).toBe(before);
  });

  it('takes a new reference where the source was changed, none where none can be had', () => {
    expect(CROSSOVER.step(door, { type: 'new-reference' }).next).toBe('reference');
    const filtersOff = CROSSOVER.step(door, { type: 'reference-way', way: 'filters-off' });
    expect(filtersOff.instruction).toMatch(/speaker plug.*filters off/);
    const highLevel = CROSSOVER.start({ ...TASK, ahead: 'speaker-level' });
    expect(highLevel.instruction).toMatch(/that plug through the divider/);
    const none = CROSSOVER.step(referenced, { type: 'reference-way', way: 'none' });
    expect(none.next).toBe('channel');
    const swum = swept(none, { filters: [DOOR_FILTER] });
    expect(swum.acceptance).toMatchObject({ can: true, needsSecondThought: true });
    expect(swum.acceptance.why).toMatch(/Without a reference/);
    expect(CROSSOVER.result(swum).reference).toBeNull();
  });

  it('never sends bass to a small driver, and sweeps it softer', () => {
    const onTweeter = CROSSOVER.step(referenced, { type: 'channel', channelId: 'tweeter' });
    expect(nextSweep(onTweeter)).toMatchObject({ startHz: 875, levelDbfs: -30 });
    expect(nextIsGuarded(onTweeter)).toBe(true);
    expect(nextSweep(referenced)).toEqual(FULL_SWEEP);
    const after = swept(onTweeter, { filters: [filter('high-pass', 'linkwitz-riley', 4, 3500)] });
    expect(faults(after)).toEqual([]);
    expect(CROSSOVER.result(after).sweep.startHz).toBe(875);
  });

  it('uses no sweep that was not heard whole and sound, and says why', () => {
    const deaf = swept(referenced, { gain: 0 });
    expect(deaf.instruction).toMatch(/^No sweep was heard/);
    expect(deaf.measured.door).toBeUndefined();
    const torn = swept(door, { filters: [filter('high-pass', 'butterworth', 2, 200)] }, ['gap']);
    expect(torn.instruction).toMatch(/^Sweep again: Part of the sound was lost/);
    expect(torn.measured.door).toBe(door.measured.door);
    const suspect = swept(referenced, { filters: [DOOR_FILTER] }, ['rate-unknown']);
    expect(suspect.acceptance).toMatchObject({ can: true, needsSecondThought: true });
  });

  it('refuses a task and events that make no sense', () => {
    expect(() => CROSSOVER.start({ ...TASK, channels: [] })).toThrow(RangeError);
    expect(() => CROSSOVER.start({ ...TASK, cornerPercent: 0 })).toThrow(/above 0/);
    expect(() => CROSSOVER.step(door, { type: 'channel', channelId: 'rear' })).toThrow(/door, sub, tweeter/);
  });
});

describe('a filter that is not what is wanted', () => {
  const doorWith = (chain: Chain) => swept(referenced, { gain: 0.5, ...chain });

  it('an octave too high: says so, and which way to turn', () => {
    const state = doorWith({ filters: [filter('high-pass', 'linkwitz-riley', 4, 160)] });
    expect(faults(state)).toEqual(['filter-octave-off']);
    expect(state.findings[0]?.sentence).toBe(
      'The high-pass sits 1.0 octave too high: 160 Hz where 80 Hz is wanted.',
    );
    expect(state.instruction).toMatch(/^Turn the corner of the high-pass down to 80 Hz/);
    expect(state.acceptance.needsSecondThought).toBe(true);
    const { inside, highPass } = CROSSOVER.result(state);
    expect(inside).toBe(false);
    expect(highPass.errorPercent).toBeCloseTo(100, 0);
  });

  it('12 % too low is off, 8 % is not', () => {
    const low = doorWith({ filters: [filter('high-pass', 'linkwitz-riley', 4, 70.4)] });
    expect(faults(low)).toEqual(['filter-corner-off']);
    expect(low.findings[0]?.sentence).toMatch(/sits 12 % too low: 70\.4 Hz/);
    expect(low.findings[0]?.remedy).toMatch(/up to 80 Hz/);
    expect(faults(doorWith({ filters: [filter('high-pass', 'linkwitz-riley', 4, 73.6)] }))).toEqual([]);
  });

  it.each([
    ['half the slope', filter('high-pass', 'linkwitz-riley', 2, 80), 'filter-order-low', /12 dB.*24 dB/],
    ['twice the slope', filter('high-pass', 'linkwitz-riley', 8, 80), 'filter-order-high', /48 dB.*24 dB/],
    ['another kind', filter('high-pass', 'butterworth', 4, 80), 'filter-alignment-other', /another kind/],
  ])('%s', (_, wrong, fault, sentence) => {
    const state = doorWith({ filters: [wrong] });
    expect(faults(state)).toEqual([fault]);
    expect(state.findings[0]?.sentence).toMatch(sentence);
  });

  it('none at all', () => {
    const state = doorWith({});
    expect(faults(state)).toEqual(['filter-missing']);
    expect(state.instruction).toMatch(/before anything loud/);
    expect(CROSSOVER.result(state).highPass).toMatchObject({ found: null, inside: false });
  });

  it('one with a bass boost in its way is none of these, said once', () => {
    const onSub = CROSSOVER.step(referenced, { type: 'channel', channelId: 'sub' });
    const f = (hertz: number) => hertz / 50;
    const state = swept(onSub, {
      filters: SUB_FILTERS,
      other: (hertz) => {
        const re = 1 - f(hertz) ** 2;
        const square = re * re + f(hertz) ** 2;
        return { re: 1 + (3 * f(hertz) ** 2) / square, im: (3 * f(hertz) * re) / square };
      },
    });
    expect(faults(state)).toEqual(['none-of-these']);
    expect(CROSSOVER.result(state)).toMatchObject({ verdict: 'none of these', inside: false });
  });

  it('is only reported where any will do', () => {
    const free = { ...TASK, channels: [{ ...DOOR, slopes: { highPass: null, lowPass: null } }] };
    const start = CROSSOVER.step(CROSSOVER.start(free), { type: 'reference-way', way: 'none' });
    expect(faults(swept(start, { filters: [filter('high-pass', 'butterworth', 2, 80)] }))).toEqual([]);
    const open = { ...TASK, channels: [channel('door', {})] };
    const openStart = CROSSOVER.step(CROSSOVER.start(open), { type: 'reference-way', way: 'none' });
    const state = swept(openStart, { filters: [filter('high-pass', 'butterworth', 2, 300)] });
    expect(faults(state)).toEqual([]);
    expect(CROSSOVER.result(state).highPass.found?.cutoffHz).toBeCloseTo(300, 0);
  });

  it('is not called missing where the sweep could not have shown it', () => {
    const deep = channel('sub', { band: { highPassHz: 12, lowPassHz: 80 } });
    const start = CROSSOVER.step(CROSSOVER.start({ ...TASK, channels: [deep] }), {
      type: 'reference-way',
      way: 'none',
    });
    const state = swept(start, { filters: [filter('low-pass', 'linkwitz-riley', 4, 80)] });
    expect(faults(state)).toEqual([]);
    expect(state.acceptance.why).toMatch(/Too little of the band/);
    expect(CROSSOVER.result(state).highPass.inside).toBeNull();
  });

  it('a stage that clips while the sweep plays is told', () => {
    const state = doorWith({
      filters: [DOOR_FILTER],
      through: (x) => Math.max(-0.03, Math.min(0.03, x)),
    });
    expect(faults(state)).toContain('sweep-distorted');
  });
});

describe('neighbours', () => {
  it('that are right sum without a hole, whatever their delay and gain', () => {
    expect(both.sums).toHaveLength(1);
    const [sum] = both.sums;
    expect(sum).toMatchObject({ lowerId: 'sub', upperId: 'door', meetHz: 80 });
    // LR4 with LR4 is flat; the subwoofer's own high-pass at 25 Hz turns its phase by 26 degrees there: 0.2 dB.
    expect(sum!.asWired.deepestDb).toBeGreaterThan(-0.5);
    expect(sum!.turned.deepestDb).toBeLessThan(-12);
    expect(faults(both)).toEqual([]);
  });

  it('of which one is upside down cancel: turning it over is the remedy', () => {
    const onSub = CROSSOVER.step(door, { type: 'channel', channelId: 'sub' });
    const state = swept(onSub, { filters: SUB_FILTERS, gain: -0.8, delaySeconds: 0.004 });
    expect(faults(state)).toEqual(['neighbours-cancel']);
    expect(state.instruction).toMatch(/^Swap plus and minus/);
    const result = CROSSOVER.result(state);
    expect(result.inverted).toBe(true);
    // The filters themselves are right.
    expect(result.inside).toBe(true);
  });

  it('that the plan itself puts apart leave a gap that no turning over fills', () => {
    const low = channel('sub', { band: { highPassHz: null, lowPassHz: 45 } });
    const start = CROSSOVER.step(CROSSOVER.start({ ...TASK, channels: [DOOR, low] }), {
      type: 'reference-way',
      way: 'none',
    });
    const onSub = CROSSOVER.step(swept(start, { filters: [DOOR_FILTER] }), {
      type: 'channel',
      channelId: 'sub',
    });
    const state = swept(onSub, { filters: [filter('low-pass', 'linkwitz-riley', 4, 45)] });
    expect(faults(state)).toEqual(['neighbours-gap']);
    expect(state.findings[0]?.remedy).toMatch(/closer together/);
  });

  it('of which one has a wrong filter are told by that fault alone', () => {
    const onSub = CROSSOVER.step(door, { type: 'channel', channelId: 'sub' });
    const wrong = { filters: [SUB_FILTERS[0]!, filter('low-pass', 'linkwitz-riley', 4, 40)] };
    const state = swept(onSub, wrong);
    expect(state.sums[0]!.asWired.deepestDb).toBeLessThan(-6);
    expect(faults(state)).toEqual(['filter-octave-off']);
    expect(faults(CROSSOVER.step(state, { type: 'channel', channelId: 'door' }))).toEqual([]);
  });
});
