/** Then and now: a figure has changed where it moved by more than both readings leave open, and not before. */
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Job, JobRecord } from '../../src/job/document.ts';
import { readJob } from '../../src/job/read-job.ts';
import { record } from '../../src/job/records.ts';
import { type ComparedFigure, compareJobs } from '../../src/job/verify/compare.ts';
import { crossoverOf, gainOf, levelOf, sourceOf } from './station-records.ts';

const JOB = readJob(
  readFileSync(new URL('../../shared/examples/hatchback.job.json', import.meta.url), 'utf8'),
);

const withRecords = (...records: JobRecord[]): Job => ({ ...JOB, records });

function figure(key: string, then: JobRecord, now: JobRecord): ComparedFigure {
  const found = compareJobs(withRecords(then), withRecords(then, now)).find((one) => one.key === key);
  if (found === undefined) throw new Error(`no figure ${key}`);
  return found;
}

/** A record of a kind that has no maker of its own, under the gain's conditions. */
function other(kind: JobRecord['kind'], id: string, result: object): JobRecord {
  const { at, conditions } = gainOf(id);
  return record.parse({ kind, id, at, conditions, result });
}

const GAIN = 'gain/front-left/volts';
const gain = (id: string, volts: number, voltsUncertainty: number | null = 0.1) =>
  gainOf(id, { volts, voltsUncertainty });

describe('a number', () => {
  it('has changed beyond 2 √(u² + u²), hand-worked: 2 √(0.03² + 0.04²) = 0.1 V', () => {
    const then = gain('a', 17, 0.03);
    const just = figure(GAIN, then, gain('b', 17.0999, 0.04));
    expect(just.uncertainty).toBeCloseTo(0.1, 12);
    expect(just.difference).toBeCloseTo(0.0999, 9);
    expect(just.verdict).toBe('not-changed');
    expect(figure(GAIN, then, gain('b', 17.1001, 0.04)).verdict).toBe('changed');
    expect(figure(GAIN, then, gain('b', 16.8999, 0.04)).verdict).toBe('changed');
  });

  it('is called changed by chance in about 5 of 100 visits to one and the same vehicle', () => {
    // A plain generator, so that the count is the same in each run.
    let seed = 1;
    const uniform = () => {
      seed = (seed * 48_271) % 2_147_483_647;
      return seed / 2_147_483_647;
    };
    const normal = () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
    const visits = 2000;
    const changed = Array.from({ length: visits }, () =>
      figure(GAIN, gain('a', 17 + 0.1 * normal()), gain('b', 17 + 0.1 * normal())),
    ).filter(({ verdict }) => verdict === 'changed').length;
    // k = 2 leaves out 4.55 %; the count's own standard deviation is √(2000·0.0455·0.9545) = 9.3, taken four times.
    expect(Math.abs(changed - 0.0455 * visits)).toBeLessThan(4 * 9.3);
  });

  it('cannot be told without an uncertainty, or where it was not measured again', () => {
    expect(figure(GAIN, gain('a', 17), gain('b', 25, null))).toMatchObject({
      verdict: 'cannot-tell',
      why: 'How much the reading now leaves open is not known.',
    });
    const once = compareJobs(withRecords(gain('a', 17)), withRecords(gain('a', 17)));
    expect(once.map(({ verdict, why }) => [verdict, why])).toEqual([
      ['cannot-tell', 'It was not measured again.'],
      ['cannot-tell', 'It was not measured again.'],
    ]);
    const [fresh] = compareJobs(withRecords(), withRecords(gain('a', 17)));
    expect(fresh).toMatchObject({ verdict: 'cannot-tell', why: 'It was not measured then.', before: null });
  });
});

describe('other circumstances', () => {
  const under = (conditions: Partial<JobRecord['conditions']>) => {
    const now = gain('b', 25);
    return { ...now, conditions: { ...now.conditions, ...conditions } };
  };
  it.each([
    [{ volumeStep: 20 }, GAIN, 'The volume step was 30 then and is 20 now.'],
    [{ loaded: true }, GAIN, 'The load was unplugged then and is connected now.'],
    [{ volumeStep: null }, GAIN, 'Nobody noted the volume step now.'],
    [{ supplyVolts: 12.4 }, 'gain/front-left/knee', 'The supply was 14.2 V then and is 12.4 V now.'],
  ])('%o forbid a verdict', (conditions, key, why) => {
    expect(figure(key, gain('a', 17), under(conditions))).toMatchObject({ verdict: 'cannot-tell', why });
  });

  it('that matter to another figure only, or hardly differ, do not', () => {
    expect(figure(GAIN, gain('a', 17), under({ supplyVolts: 12.4 })).verdict).toBe('changed');
    expect(figure('gain/front-left/knee', gain('a', 17), under({ supplyVolts: 14.5 })).verdict).toBe(
      'not-changed',
    );
  });
});

describe('each kind', () => {
  it('names a corner that moved, and a slope that did not', () => {
    const [then, now] = [crossoverOf('a', 80), crossoverOf('b', 81)];
    expect(figure('crossover/front-left/high-pass/corner', then, now).verdict).toBe('changed');
    expect(figure('crossover/front-left/high-pass/slope', then, now).verdict).toBe('not-changed');
  });

  it('names a radio that is clean less far', () => {
    const now = sourceOf('b', { highestCleanStep: 27 });
    expect(figure('source/step', sourceOf('a'), now)).toMatchObject({
      verdict: 'changed',
      before: { value: 'step 30' },
      after: { value: 'step 27' },
    });
    expect(figure('source/ceiling', sourceOf('a'), now).why).toBe(
      'The highest clean step was 30 then and is 27 now.',
    );
  });

  it('compares levels of a pair that were read in one way only', () => {
    const pair = { leftId: 'front-left', rightId: 'front-right', uncertaintyDb: 0.05, inside: true };
    const level = (id: string, differenceDb: number, way: 'wire' | 'microphone' = 'wire') =>
      levelOf(id, { way, pairs: [{ ...pair, differenceDb }] });
    const key = 'level/front-left/front-right';
    expect(figure(key, level('a', 0), level('b', 0.5)).verdict).toBe('changed');
    expect(figure(key, level('a', 0), level('b', 0.1)).verdict).toBe('not-changed');
    expect(figure(key, level('a', 0), level('b', 0.5, 'microphone')).verdict).toBe('cannot-tell');
  });

  it('names a channel that was turned over, and leaves open what a reading could not tell', () => {
    const polarity = (id: string, verdict: 'normal' | 'reversed' | 'cannot-tell') =>
      other('polarity', id, {
        turnedOver: false,
        channels: [
          { channelId: 'subwoofer', verdict, read: 'upright', confidence: 0.99, signalToNoiseDb: 40 },
        ],
        inside: verdict === 'normal',
        findings: [],
      });
    const key = 'polarity/subwoofer';
    expect(figure(key, polarity('a', 'normal'), polarity('b', 'reversed')).verdict).toBe('changed');
    expect(figure(key, polarity('a', 'normal'), polarity('b', 'normal')).verdict).toBe('not-changed');
    expect(figure(key, polarity('a', 'normal'), polarity('b', 'cannot-tell'))).toMatchObject({
      verdict: 'cannot-tell',
      why: 'The reading now could not tell.',
    });
  });

  it('compares arrivals against one and the same first channel only', () => {
    const arrival = (id: string, ms: readonly [number, number]) =>
      other('arrival', id, {
        ...{ airCelsius: 20, toleranceMs: 0.1, skewPpm: 0, skewUncertaintyPpm: 0.5 },
        channels: ['front-left', 'front-right'].map((channelId, index) => ({
          ...{ channelId, arrivalMs: ms[index], uncertaintyMs: 0.02 },
          ...{ delayMs: 0, delayCm: 0, delayInches: 0 },
        })),
        ...{ latestId: 'front-right', worstDifferenceMs: 1, inside: false, findings: [] },
      });
    const key = 'arrival/front-right';
    // 2 √(0.02² + 0.02²) = 0.0566 ms.
    expect(figure(key, arrival('a', [0, 1]), arrival('b', [0, 1.05])).verdict).toBe('not-changed');
    expect(figure(key, arrival('a', [0, 1]), arrival('b', [0, 1.06])).verdict).toBe('changed');
    expect(figure(key, arrival('a', [0, 1]), arrival('b', [0.2, 0])).why).toBe(
      'The first to arrive was front-left then and is front-right now.',
    );
  });

  it('finds a ground leg that has grown, in milliohms with what it leaves open', () => {
    const supply = (id: string, ohms: number) =>
      other('supply', id, {
        ...{ amplifierId: 'mono', meter: { percentOfReading: 0.5, digits: 2 } },
        readings: { 'ground-leg': null, amplifier: null, battery: null },
        current: { from: 'power', watts: 400 },
        ...{ riseAmperes: 30, riseAmperesUncertainty: 3, groundDropVolts: 30 * ohms, groundVolts: 0.1 },
        ground: {
          ...{ wire: null, ohms, ohmsUncertainty: 0.0005, wireLowOhms: null, wireHighOhms: null },
          ...{ restOhms: null, verdict: 'good' },
        },
        ...{ positive: null, batterySagVolts: null, inside: true, findings: [] },
      });
    const grown = figure('supply/mono/ground', supply('a', 0.002), supply('b', 0.005));
    expect(grown).toMatchObject({ verdict: 'changed', unit: 'mΩ' });
    expect(grown.difference).toBeCloseTo(3, 9);
    expect(grown.uncertainty).toBeCloseTo(2 * Math.SQRT2 * 0.5, 9);
    expect(figure('supply/mono/ground', supply('a', 0.002), supply('b', 0.003)).verdict).toBe('not-changed');
    expect(figure('supply/mono/ground-drop', supply('a', 0.002), supply('b', 0.005)).why).toBe(
      'How much the reading then left open is not known.',
    );
  });

  it('hears noise that came closer and a whine that is new, against one and the same target only', () => {
    const noise = (id: string, belowTargetDb: number, whines: boolean, targetVolts = 17.32) =>
      other('noise', id, {
        ...{ channelId: 'front-left', place: 'terminals', targetVolts, rises: [], worstEngine: 'off' },
        states: [
          {
            ...{ engine: 'off', rpm: null, seconds: 10, levelDbfs: -90, levelDbv: -60, floorDbfs: -91 },
            ...{ aWeightedDbfs: -93, aWeightedDbv: -63, octaves: [], clicks: 0, dropouts: 0 },
            ...{ grade: 'valid', doubts: [] },
          },
        ],
        ...{ belowTargetDb, belowTargetUncertaintyDb: 0.5, toleranceDb: 70, inside: true, hum: null },
        ripple: !whines
          ? null
          : {
              ...{ idleHz: 600, revvedHz: 1800, levelDbfs: -85, overFloorDb: 20, pitchRatio: 3 },
              ...{ rpmRatio: 3, course: 'follows', wayIn: 'not-told', lossUnpluggedDb: null },
            },
        ...{ steadyTones: [], findings: [] },
      });
    const [below, whine] = ['noise/front-left/below-target', 'noise/front-left/whine'];
    // 2 √(0.5² + 0.5²) = 1.41 dB.
    expect(figure(below, noise('a', 80, false), noise('b', 78.7, false)).verdict).toBe('not-changed');
    expect(figure(below, noise('a', 80, false), noise('b', 78.5, false)).verdict).toBe('changed');
    expect(figure(below, noise('a', 80, false), noise('b', 70, false, 15)).why).toBe(
      'The target was 17.32 V then and is 15 V now.',
    );
    expect(figure(whine, noise('a', 80, false), noise('b', 80, true)).verdict).toBe('changed');
    expect(figure(whine, noise('a', 80, true), noise('b', 80, true)).verdict).toBe('not-changed');
  });

  it('takes the newest of each', () => {
    const [now] = compareJobs(
      withRecords(gain('a', 17)),
      withRecords(gain('a', 17), gain('b', 20), gain('c', 17.01)),
    );
    expect(now).toMatchObject({ verdict: 'not-changed', after: { recordId: 'c' } });
  });
});

it('turned round, says the same with the sign turned', () => {
  fc.assert(
    fc.property(
      fc.double({ min: 1, max: 40, noNaN: true }),
      fc.double({ min: 1, max: 40, noNaN: true }),
      (a, b) => {
        const there = figure(GAIN, gain('a', a), gain('b', b));
        const back = figure(GAIN, gain('a', b), gain('b', a));
        expect(back.verdict).toBe(there.verdict);
        expect((back.difference ?? 0) + (there.difference ?? 0)).toBeCloseTo(0, 12);
      },
    ),
  );
});
