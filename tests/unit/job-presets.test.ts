/** Layouts to begin from: each is a job that can be planned as it stands. */
import { describe, expect, it } from 'vitest';
import { chainWarnings } from '../../src/job/chain-warnings.ts';
import { planJob } from '../../src/job/job-plan.ts';
import { JOB_PRESETS, newJob } from '../../src/job/new-job.ts';
import { outputsFree } from '../../src/job/outputs.ts';
import { readJob } from '../../src/job/read-job.ts';
import { writeJob } from '../../src/job/write-job.ts';

describe.each(JOB_PRESETS.map((one) => one.preset))('the layout %s', (preset) => {
  const job = newJob({ preset, id: 'new', at: '2026-03-14T09:00:00.000Z' });

  it('is a valid job with a target for every channel', () => {
    expect(readJob(writeJob(job))).toEqual(job);
    for (const { channelId, plan } of planJob(job)) expect(plan.targetVolts, channelId).not.toBeNull();
  });

  it('fits its amplifiers: no channel too many', () => {
    for (const { id } of job.amplifiers) expect(outputsFree(job, id), id).toBeGreaterThanOrEqual(0);
  });

  it('sets every tone inside its channel’s band', () => {
    for (const { id, band, tone } of job.channels) {
      expect(tone.frequencyHz, id).toBeGreaterThan(band.highPassHz ?? 0);
      expect(tone.frequencyHz, id).toBeLessThan(band.lowPassHz ?? 20_000);
    }
  });

  it('warns of nothing but what only the vehicle can tell', () => {
    expect(chainWarnings(job).map(({ kind }) => kind)).toEqual([
      'load-resistors-missing',
      'converter-input-unjudged',
    ]);
  });
});

it('bridges the subwoofer of the six-channel layout: 150 W into 4 ohm, sqrt(600) V', () => {
  const job = newJob({ preset: 'six-channels-bridged-subwoofer', id: 'new', at: '2026-03-14T09:00:00.000Z' });
  expect(planJob(job).at(-1)?.plan.targetVolts).toBeCloseTo(Math.sqrt(600), 12);
});

it('names no two layouts alike', () => {
  expect(new Set(JOB_PRESETS.map(({ title }) => title)).size).toBe(JOB_PRESETS.length);
});
