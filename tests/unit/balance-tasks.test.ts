import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { expectedBands } from '../../src/job/balance/expected-bands.ts';
import { pairsOf } from '../../src/job/balance/pairs.ts';
import { roomDb } from '../../src/job/balance/room.ts';
import { arrivalTask, levelTask, polarityTask, trainOf } from '../../src/job/balance/tasks.ts';
import type { Job } from '../../src/job/document.ts';
import { readJob } from '../../src/job/read-job.ts';
import { recordedChannelIds } from '../../src/job/recorded-channels.ts';
import { ARRIVAL } from '../../src/procedure/arrival/arrival-steps.ts';
import { LEVEL } from '../../src/procedure/level/level-steps.ts';
import { gainRecord } from './job-records.ts';

const HATCHBACK = readJob(
  readFileSync(new URL('../../shared/examples/hatchback.job.json', import.meta.url), 'utf8'),
);
const SCALE = { weighting: 'C', voltsPerFs: 35 } as const;

function changed(id: string, change: (channel: Job['channels'][number]) => void): Job {
  const job = structuredClone(HATCHBACK);
  change(job.channels.find((channel) => channel.id === id)!);
  return job;
}

/** The demo's gain record, set to so many volts, its knee at so many. */
function withGain(volts: number, kneeVolts: number | null): Job {
  const record = gainRecord('one');
  const { knee } = record.result;
  record.result.volts = volts;
  record.result.knee = kneeVolts === null || knee === null ? null : { ...knee, volts: kneeVolts };
  return { ...structuredClone(HATCHBACK), records: [record] };
}

describe('pairs of a job', () => {
  it('are left and right of one place, not front and rear', () => {
    expect(pairsOf(HATCHBACK)).toEqual([
      { leftId: 'front-left', rightId: 'front-right' },
      { leftId: 'rear-left', rightId: 'rear-right' },
    ]);
    const [frontLeft, frontRight, rearLeft, rearRight] = HATCHBACK.channels;
    const turned = { channels: [frontLeft!, rearLeft!, rearRight!, frontRight!] };
    expect(pairsOf(turned)).toContainEqual({ leftId: 'front-left', rightId: 'front-right' });
  });

  it('need equal bands, one amplifier and a side each', () => {
    expect(
      pairsOf(
        changed('front-right', (one) => {
          one.band.highPassHz = 100;
        }),
      ),
    ).toEqual([{ leftId: 'front-left', rightId: 'rear-right' }]);
    expect(
      pairsOf(
        changed('front-right', (one) => {
          one.fedBy = 'left';
        }),
      ),
    ).not.toContainEqual(expect.objectContaining({ rightId: 'front-right' }));
    expect(
      pairsOf(
        changed('front-right', (one) => {
          one.amplifierId = 'mono';
        }),
      ),
    ).toHaveLength(1);
  });
});

describe('room that a gain record leaves', () => {
  it('is none without a record', () => {
    expect(roomDb(HATCHBACK, 'front-left')).toBeNull();
  });

  it('reaches to the target, or to the knee where that is lower, less twice its uncertainty', () => {
    // 75 W into 4 ohm: 17.3205 V. The record's knee is uncertain by 0.03 dB.
    expect(roomDb(withGain(15, 18.4), 'front-left')).toBeCloseTo(20 * Math.log10(17.3205 / 15), 4);
    expect(roomDb(withGain(15, 16), 'front-left')).toBeCloseTo(20 * Math.log10(16 / 15) - 0.06, 4);
    expect(roomDb(withGain(15, null), 'front-left')).toBeCloseTo(20 * Math.log10(17.3205 / 15), 4);
  });

  it('is never negative: what is set too high already is not raised', () => {
    expect(roomDb(withGain(17.9, 17.5), 'front-left')).toBe(0);
  });

  it('counts at the level that reaches the target, whatever the setting tone', () => {
    const job = withGain(8.66, null);
    job.channels.find((one) => one.id === 'front-left')!.tone.levelDbfs = -11;
    // Six dB under the overlap: 8.68 V of the tone are the target.
    expect(roomDb(job, 'front-left')).toBeCloseTo(20 * Math.log10((17.3205 * 10 ** (-6 / 20)) / 8.66), 3);
  });
});

describe('bands that a driver may have', () => {
  it('are its filters as wanted, and the usual range of its own roll-off', () => {
    const subwoofer = HATCHBACK.channels.find((one) => one.id === 'subwoofer')!;
    expect(expectedBands(subwoofer)).toEqual(
      [30, 45].map((cutoffHz) => [
        { kind: 'high-pass', alignment: 'butterworth', order: 2, cutoffHz: 25 },
        { kind: 'low-pass', alignment: 'linkwitz-riley', order: 4, cutoffHz: 80 },
        { kind: 'high-pass', alignment: 'butterworth', order: 2, cutoffHz },
      ]),
    );
  });

  it('stand for themselves where there is no filter, and are usable whatever slope is wanted', () => {
    const open = {
      id: 'open',
      band: { highPassHz: null, lowPassHz: null },
      slopes: { highPass: null, lowPass: null },
    };
    expect(expectedBands(open).map((band) => band.length)).toEqual([1, 1]);
    const odd = { alignment: 'linkwitz-riley', order: 3 } as const;
    const [band] = expectedBands({
      id: 'tweeter',
      band: { highPassHz: 3500, lowPassHz: null },
      slopes: { highPass: odd, lowPass: null },
    });
    expect(band).toMatchObject([{ alignment: 'butterworth', order: 3 }, { cutoffHz: 875 }]);
  });
});

describe('bands after the crossover was measured', () => {
  const subwoofer = HATCHBACK.channels.find((one) => one.id === 'subwoofer')!;
  const found = (alignment: 'butterworth' | null, order: number | null, cutoffHz: number) => ({
    alignment,
    order,
    cutoffHz,
    cutoffUncertaintyHz: 1,
    slopeDbPerOctave: null,
  });
  const side = { wantedHz: null, wanted: null, found: null, errorPercent: null, inside: null };
  const record = (lowPass: ReturnType<typeof found>, channelId = 'subwoofer'): Job['records'][number] => ({
    kind: 'crossover',
    id: 'c',
    at: '2026-03-14T10:00:00.000Z',
    conditions: gainRecord('one').conditions,
    result: {
      channelId,
      inside: false,
      tolerancePercent: 10,
      reference: null,
      sweep: { startHz: 20, endHz: 20_000, levelDbfs: -20, durationSeconds: 5 },
      highPass: side,
      lowPass: { ...side, found: lowPass },
      verdict: 'filters',
      residualDb: 0.1,
      inverted: null,
      sums: [],
      curve: { frequenciesHz: [], magnitudesDb: [], phasesDeg: [], uncertaintiesDb: [] },
      grade: 'valid',
      doubts: [],
      findings: [],
    },
  });
  const lowPassOf = (records: Job['records']) =>
    expectedBands(subwoofer, records)[0]!.find((one) => one.kind === 'low-pass');

  it('are what was found there, not what was wanted', () => {
    const measured = record(found('butterworth', 2, 95));
    expect(lowPassOf([measured])).toMatchObject({ alignment: 'butterworth', order: 2, cutoffHz: 95 });
    expect(lowPassOf([record(found('butterworth', 2, 120)), measured])).toMatchObject({ cutoffHz: 95 });
  });

  it('keep the wanted shape where only the corner was found, and heed no other channel', () => {
    expect(lowPassOf([record(found(null, null, 95))])).toMatchObject({
      alignment: 'linkwitz-riley',
      order: 4,
      cutoffHz: 95,
    });
    expect(lowPassOf([record(found('butterworth', 2, 95), 'front-left')])).toMatchObject({ cutoffHz: 80 });
  });
});

describe('the tasks of the demo job', () => {
  it('by wire: the doors, both of a pair with one tone; by microphone: everything, at four places', () => {
    const wire = levelTask(
      changed('front-right', (one) => {
        one.tone.levelDbfs = -8;
      }),
      'wire',
      SCALE,
    );
    expect(wire.channels.map((one) => [one.channelId, one.toneDbfs])).toEqual([
      ['front-left', -5],
      ['front-right', -5],
      ['rear-left', -5],
      ['rear-right', -5],
    ]);
    expect(wire.places).toEqual([]);
    const air = levelTask(HATCHBACK, 'microphone', SCALE);
    expect(air.channels.map((one) => one.channelId)).toContain('subwoofer');
    expect(air.places.map((place) => place.side)).toEqual(['left', 'right', 'left', 'right']);
    for (const task of [wire, air]) expect(LEVEL.start(task).acceptance.can).toBe(false);
  });

  it('let the subwoofer answer its own pulse of the one train', () => {
    const { channels, everySeconds } = polarityTask(HATCHBACK);
    expect(channels.map((one) => [one.frequencyHz, one.place])).toEqual([
      [997, 0.25],
      [997, 0.25],
      [997, 0.25],
      [997, 0.25],
      [43, 0.75],
    ]);
    expect(everySeconds).toBe(trainOf(HATCHBACK).spec.everySeconds);
    expect(ARRIVAL.start(arrivalTask(HATCHBACK)).wanted).toBe('front-left');
  });
});

it('a channel that a balance record speaks of cannot leave the job', () => {
  const { conditions } = gainRecord('one');
  const channels = ['front-left', 'rear-left'].map((channelId) => ({
    channelId,
    verdict: 'normal' as const,
    read: 'upright' as const,
    confidence: 1,
    signalToNoiseDb: 30,
  }));
  const result = { turnedOver: false, channels, inside: true, findings: [] };
  const records: Job['records'] = [
    { kind: 'polarity', id: 'p', at: '2026-03-14T10:00:00.000Z', conditions, result },
  ];
  expect([...recordedChannelIds({ records })]).toEqual(['front-left', 'rear-left']);
});
