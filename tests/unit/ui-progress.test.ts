/** How far a channel has come, from its records and the plan of today. */
import { expect, it } from 'vitest';
import demo from '../../shared/examples/hatchback.job.json' with { type: 'json' };
import type { Job } from '../../src/job/document.ts';
import { parseJob } from '../../src/job/read-job.ts';
import type { RecordOf } from '../../src/job/records.ts';
import { channelProgress, recordsOf } from '../../src/ui/session/channel-progress.ts';

const JOB: Job = parseJob(demo);
const TARGET = Math.sqrt(75 * 4);

function gain(id: string, part: Partial<RecordOf<'gain'>['result']> = {}): RecordOf<'gain'> {
  return {
    kind: 'gain',
    id,
    at: '2026-03-14T10:00:00.000Z',
    conditions: {
      supplyVolts: null,
      engineRunning: null,
      loaded: null,
      volumeStep: null,
      calibration: null,
      input: null,
      note: '',
    },
    result: {
      channelId: 'front-left',
      way: 'wire',
      volts: 17.3,
      voltsUncertainty: 0.1,
      aimVolts: TARGET,
      limitedByKnee: false,
      targetVolts: TARGET,
      errorDb: 0,
      toleranceDb: 0.5,
      inside: true,
      toneHz: 997,
      toneDbfs: -5,
      overlapDb: 5,
      bursts: null,
      clippingStage: null,
      thdPercent: null,
      clippingVerdict: null,
      grade: null,
      doubts: [],
      knee: null,
      marginDb: null,
      trace: [],
      ...part,
    },
  };
}

const withRecords = (...records: RecordOf<'gain'>[]): Job => ({ ...JOB, records });
const front = (job: Job) => channelProgress(job, 'front-left');

it('goes from not done to done, and to out of tolerance by the newest record', () => {
  expect(front(JOB)).toMatchObject({ mark: 'not-done', figure: 'target 17.3 V' });
  expect(front(withRecords(gain('a')))).toMatchObject({ mark: 'done', figure: '17.3 of 17.3 V' });
  expect(front(withRecords(gain('a'), gain('b', { inside: false }))).mark).toBe('out-of-tolerance');
  expect(front(withRecords(gain('a', { inside: false }), gain('b'))).mark).toBe('done');
});

it('of a gain set with the reduced tone says what that tone was to read', () => {
  const reduced = gain('a', { volts: 1.731, toneDbfs: -25 });
  expect(front(withRecords(reduced))).toMatchObject({ mark: 'done', figure: '1.73 of 1.73 V' });
});

it('is stale once the plan asks for another voltage', () => {
  expect(front(withRecords(gain('a', { targetVolts: 14.14 }))).mark).toBe('stale');
});

it('counts each channel by its own records', () => {
  const job = withRecords(gain('a'), gain('b', { channelId: 'subwoofer' }));
  expect(recordsOf(job, 'subwoofer').map((record) => record.id)).toEqual(['b']);
});
