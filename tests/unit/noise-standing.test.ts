/** Where a noise record stands: inside, outside, incomplete, stale. */
import { expect, it } from 'vitest';
import demo from '../../shared/examples/hatchback.job.json' with { type: 'json' };
import { recordStanding } from '../../src/job/progress/job-progress.ts';
import { parseJob } from '../../src/job/read-job.ts';
import type { RecordOf } from '../../src/job/records.ts';
import type { NoiseEvent } from '../../src/procedure/noise/noise.ts';
import { noiseStart, noiseStep } from '../../src/procedure/noise/noise-steps.ts';
import { noiseResult } from '../../src/procedure/noise/result.ts';
import { type Sound, TASK, takeEvent } from './noise-takes.ts';

const JOB = parseJob(demo);

function noiseOf(sounds: Sound[], task = TASK): RecordOf<'noise'> {
  const engines = ['off', 'idle', 'revved'] as const;
  const events = sounds.map((sound, index): NoiseEvent => takeEvent(engines[index]!, sound));
  return {
    kind: 'noise',
    id: 'one',
    at: '2026-03-14T10:00:00.000Z',
    conditions: {
      supplyVolts: null,
      engineRunning: null,
      loaded: true,
      volumeStep: 30,
      calibration: null,
      input: null,
      note: '',
    },
    result: noiseResult(events.reduce(noiseStep, noiseStart(task))),
  };
}

const standing = (record: RecordOf<'noise'>, job = JOB) =>
  recordStanding({ ...job, records: [record] }, record);

/** Peaks of 60 and 84 dB below the target. */
const LOUD: Sound = { whineHz: () => 1185, whinePeaks: [5e-4] };
const FAINT: Sound = { whineHz: () => 1185, whinePeaks: [3e-5], floorRms: 3e-6 };

it('is done where all of the noise is far enough below the target, a faint whine told or not', () => {
  expect(standing(noiseOf([{}, {}, {}]))).toEqual({ mark: 'done', why: null });
  const faint = noiseOf([{}, FAINT, {}]);
  expect(faint.result.findings).toHaveLength(1);
  expect(standing(faint).mark).toBe('done');
});

it('is out of tolerance where it is not, and where nothing but the ear judges a whine', () => {
  expect(standing(noiseOf([{}, LOUD, {}]))).toMatchObject({ mark: 'out-of-tolerance' });
  const byEar = {
    ...TASK,
    channelId: null,
    place: 'microphone',
    targetVolts: null,
    voltsPerFs: null,
  } as const;
  expect(standing(noiseOf([{}, {}, {}], byEar)).mark).toBe('done');
  expect(standing(noiseOf([{}, FAINT, {}], byEar)).mark).toBe('out-of-tolerance');
});

it('is not done while an engine state is missing, or nothing could be judged', () => {
  expect(standing(noiseOf([{}]))).toEqual({
    mark: 'not-done',
    why: 'Noise was not measured with the engine idling and revved.',
  });
  expect(standing(noiseOf([{}, {}, {}], { ...TASK, voltsPerFs: null })).mark).toBe('not-done');
});

it('is stale once target or limit are others', () => {
  const record = noiseOf([{}, {}, {}]);
  const stricter = { ...JOB, tolerances: { ...JOB.tolerances, noiseDb: 80 } };
  expect(standing(record, stricter).why).toMatch(/another amount of noise/);
  expect(standing(noiseOf([{}, {}, {}], { ...TASK, targetVolts: 20 })).why).toMatch(/not what it was/);
});
