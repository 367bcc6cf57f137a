/** A check by the run track as a record of the job: kept whole, in the report, and comparable a year later. */
import { beforeAll, describe, expect, it } from 'vitest';
import { checkResultOf } from '../../src/job/check-result.ts';
import type { Job } from '../../src/job/document.ts';
import { keptRecord } from '../../src/job/kept-record.ts';
import { jobProgress, recordStanding } from '../../src/job/progress/job-progress.ts';
import { readJob } from '../../src/job/read-job.ts';
import type { JobRecord, RecordOf } from '../../src/job/records.ts';
import { recordsCsv } from '../../src/job/report/csv/records-csv.ts';
import { jobReport } from '../../src/job/report/report.ts';
import { compareJobs } from '../../src/job/verify/compare.ts';
import { writeJob } from '../../src/job/write-job.ts';
import { gainRecord } from './job-records.ts';
import {
  checked,
  clippedAt,
  door,
  filtered,
  HATCHBACK,
  hatchbackRun,
  named,
  played,
  scaled,
} from './run-recordings.ts';
import { gainOf } from './station-records.ts';

const run = hatchbackRun();
const [left] = played(run);
/** The plan's target is for a tone at minus the overlap, 5 dB: full scale is so much more. */
const VOLTS_PER_FS = Math.sqrt(75 * 4) * 10 ** (5 / 20);
const SCALE_DB = 0.05;

async function checkOf(
  id: string,
  at: string,
  samples: Float32Array,
  volumeStep: number | null = 30,
): Promise<RecordOf<'check'>> {
  const ground = { at: ['front-left'], voltsPerFs: VOLTS_PER_FS };
  const report = await checked({ run, channels: [samples], ...ground });
  const origin = { ...ground, recording: `${id}.wav`, run, voltsUncertaintyDb: SCALE_DB };
  const { conditions } = gainRecord(id);
  const record = keptRecord({
    kind: 'check',
    id,
    at,
    conditions: { ...conditions, volumeStep },
    result: checkResultOf(report, origin),
  });
  return record as RecordOf<'check'>;
}

function withRecords(...records: JobRecord[]): Job {
  return { ...HATCHBACK, records };
}

const THEN = '2026-03-14T12:00:00.000Z';
const NOW = '2027-03-14T12:00:00.000Z';

let healthy: RecordOf<'check'>;
beforeAll(async () => {
  healthy = await checkOf('then', THEN, door(left));
});

function verdicts(then: Job, now: Job): Record<string, string> {
  return Object.fromEntries(compareJobs(then, now).map(({ key, verdict }) => [key, verdict]));
}

it('survives the job file, whole', () => {
  const job = withRecords(healthy);
  expect(readJob(writeJob(job)).records).toEqual([healthy]);
  const level = healthy.result.parts.find(({ id }) => id === 'front-left-level');
  const part = run.parts.find(({ id }) => id === 'front-left-level');
  expect(level).toMatchObject({ channel: 'front-left', verdict: 'passed' });
  expect(part).toMatchObject({ frequencyHz: level?.playedHz, levelDbfs: level?.playedDbfs });
});

it('stands inside its tolerance where it passed, and out of it where it names a fault', async () => {
  expect(recordStanding(withRecords(healthy), healthy)).toMatchObject({ mark: 'done' });
  const clipped = await checkOf('clipped', NOW, clippedAt(door(left), 10 ** (-6.9 / 20)));
  const { mark, why } = recordStanding(withRecords(clipped), clipped);
  expect(mark).toBe('out-of-tolerance');
  expect(why).toBe(clipped.result.faults[0]?.sentence);
});

it('counts among what the job asks for, and what the job asks for may change after it', () => {
  const inside = { ...withRecords(healthy), tolerances: HATCHBACK.tolerances };
  const point = jobProgress(inside).find(({ kind }) => kind === 'check');
  expect(point).toMatchObject({
    station: 'sign-off',
    title: 'check by the run track at the front left door',
    mark: 'done',
  });
  const stale = (job: Job) => recordStanding(job, healthy);
  const bent = (change: object) => ({
    ...inside,
    channels: inside.channels.map((one) => (one.id === 'front-left' ? { ...one, ...change } : one)),
  });
  const { band } = HATCHBACK.channels[0]!;
  expect(stale(bent({ band: { ...band, highPassHz: 100 } })).why).toMatch(/another filter/);
  expect(stale(bent({ toleranceDb: 2 })).why).toMatch(/another tolerance/);
  expect(stale(bent({ overlapDb: 8 })).why).toMatch(/target is not what it was/);
  expect(stale({ ...inside, tolerances: { ...inside.tolerances, noiseDb: 61 } }).mark).toBe('stale');
  expect(stale({ ...inside, channels: inside.channels.slice(1) }).mark).toBe('stale');
});

it('goes stale when the gain is moved after it', () => {
  const before = gainOf('before', { channelId: 'front-left', volts: 17.3 });
  const after = gainOf('after', { channelId: 'front-left', volts: 12 });
  expect(recordStanding(withRecords(before, healthy), healthy).mark).toBe('done');
  expect(recordStanding(withRecords(before, healthy, after), healthy).mark).toBe('stale');
});

describe('a year later', () => {
  it('nothing has changed in the same vehicle', async () => {
    const again = await checkOf('again', NOW, scaled(door(left), 0.01));
    const found = verdicts(withRecords(healthy), withRecords(healthy, again));
    expect(found).toMatchObject({
      'gain/front-left/volts': 'not-changed',
      'crossover/front-left/high-pass/corner': 'not-changed',
      'crossover/front-left/high-pass/slope': 'not-changed',
      'polarity/front-left/terminals': 'not-changed',
    });
    expect(Object.values(found)).not.toContain('changed');
  });

  it('a gain that went down by 1 dB, a filter that moved, and leads that were swapped are told as changed', async () => {
    const other = scaled(filtered(left, 'high-pass', 100), -1).map((sample) => -sample);
    const now = await checkOf('now', NOW, other);
    expect(verdicts(withRecords(healthy), withRecords(healthy, now))).toMatchObject({
      'gain/front-left/volts': 'changed',
      'crossover/front-left/high-pass/corner': 'changed',
      'crossover/front-left/high-pass/slope': 'not-changed',
      'polarity/front-left/terminals': 'changed',
    });
    const gain = compareJobs(withRecords(healthy), withRecords(healthy, now)).find(
      ({ key }) => key === 'gain/front-left/volts',
    );
    // 1 dB of √300 V is 1.883 V.
    expect(gain?.difference).toBeCloseTo(Math.sqrt(300) * (10 ** (-1 / 20) - 1), 1);
  });

  it('what a dishonest input made of levels is held against nothing', () => {
    const faults = [
      {
        fault: 'input-not-honest',
        channel: 'front-left',
        sentence: 's',
        evidence: 'e',
        remedy: 'r',
        parts: [],
      },
    ];
    const bent = { ...healthy, id: 'bent', at: NOW, result: { ...healthy.result, faults } };
    const keys = Object.keys(verdicts(withRecords(), withRecords(bent)));
    expect(keys).toEqual(['polarity/front-left/terminals']);
  });

  it('noise below another target is not compared', () => {
    const parts = healthy.result.parts.map((part) =>
      part.limits.targetVolts === undefined
        ? part
        : { ...part, limits: { ...part.limits, targetVolts: 2 * (part.limits.targetVolts as number) } },
    );
    const aimed = { ...healthy, id: 'aimed', at: NOW, result: { ...healthy.result, parts } };
    const noise = compareJobs(withRecords(healthy), withRecords(healthy, aimed)).find(
      ({ key }) => key === 'noise/front-left/below-target',
    );
    expect(noise).toMatchObject({ verdict: 'cannot-tell' });
    expect(noise?.why).toMatch(/The target was 17\.32 V then/);
  });

  it('at another volume step nothing of its levels can be told', async () => {
    const louder = await checkOf('louder', NOW, door(left), 32);
    const gain = compareJobs(withRecords(healthy), withRecords(healthy, louder)).find(
      ({ key }) => key === 'gain/front-left/volts',
    );
    expect(gain).toMatchObject({
      verdict: 'cannot-tell',
      why: 'The volume step was 30 then and is 32 now.',
    });
  });

  it('a check may be held against the gain that a station recorded, with the same tone', () => {
    const tone = healthy.result.parts.find(({ id }) => id === 'front-left-level');
    const same = { channelId: 'front-left', toneHz: tone!.playedHz!, toneDbfs: tone!.playedDbfs! };
    const { volumeStep, loaded } = healthy.conditions;
    const bare = gainOf('station', { ...same, volts: 17.32, voltsUncertainty: 0.1 });
    const station = { ...bare, conditions: { ...bare.conditions, volumeStep, loaded } };
    expect(verdicts(withRecords(station), withRecords(station, healthy))).toMatchObject({
      'gain/front-left/volts': 'not-changed',
    });
    const high = gainOf('high', { ...same, volts: 19, voltsUncertainty: 0.1 });
    const moved = { ...high, conditions: station.conditions };
    expect(verdicts(withRecords(moved), withRecords(moved, healthy))).toMatchObject({
      'gain/front-left/volts': 'changed',
    });
  });

  it('what the station measured anew stays comparable beside a check that is not', async () => {
    const early = gainOf('early', { channelId: 'front-left', volts: 17.3 });
    const late = { ...gainOf('late', { channelId: 'front-left', volts: 17.3 }), at: NOW };
    const louder = await checkOf('louder', '2027-03-15T12:00:00.000Z', door(left), 32);
    expect(verdicts(withRecords(early), withRecords(early, late, louder))).toMatchObject({
      'gain/front-left/volts': 'not-changed',
    });
  });
});

it('is a section of the report, with what failed and what was allowed', async () => {
  const clipped = await checkOf('clipped', NOW, clippedAt(door(left), 10 ** (-6.9 / 20)));
  const section = jobReport(withRecords(healthy, clipped)).sections.find(({ id }) => id === 'check');
  const text = JSON.stringify(section);
  expect(text).toContain('clipped.wav');
  expect(text).not.toContain('then.wav');
  expect(named({ faults: clipped.result.faults } as never)).toEqual(['front-left: clipped']);
  const found = jobReport(withRecords(healthy, clipped)).sections.find(({ id }) => id === 'findings');
  expect(JSON.stringify(found)).toContain(clipped.result.faults[0]!.sentence);
  // Four digits of a voltage, and of silence what is judged of it.
  expect(text).toContain('"17.32 V, ±0.5 dB"');
  expect(text).toMatch(/"silence","Front left door","\d\d\.\d dB below target"/);
});

it('has its figures in the table of all records, each with its channel', () => {
  const rows = recordsCsv(withRecords(healthy)).split('\r\n');
  const level = rows.filter((row) => /,front-left,result\.parts\[\d+\]\.reading\.levelVolts,/.test(row));
  expect(level.length).toBeGreaterThan(0);
});
