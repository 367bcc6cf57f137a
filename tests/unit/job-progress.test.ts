/** Where a job stands: what is done, what is stale and why, what is out of tolerance, what comes next. */
import { describe, expect, it } from 'vitest';
import demo from '../../shared/examples/hatchback.job.json' with { type: 'json' };
import type { Job, JobRecord } from '../../src/job/document.ts';
import type { Checkpoint } from '../../src/job/progress/checkpoint.ts';
import { jobProgress, nextCheckpoint } from '../../src/job/progress/job-progress.ts';
import { parseJob } from '../../src/job/read-job.ts';
import { stationMark } from '../../src/ui/path/station-mark.ts';
import { crossoverOf, gainOf, levelOf, sourceOf } from './station-records.ts';

const JOB: Job = parseJob(demo);
const withRecords = (...records: JobRecord[]): Job => ({ ...JOB, records });

function point(job: Job, kind: Checkpoint['kind'], subjectId: string | null = null): Checkpoint {
  const found = jobProgress(job).find((one) => one.kind === kind && one.subjectId === subjectId);
  if (found === undefined) throw new Error(`nothing asks for ${kind} of ${subjectId}`);
  return found;
}

describe('what a job asks for', () => {
  it('follows the chain: each channel its gain and filter, each amplifier its supply, in the order of the work', () => {
    const asked = jobProgress(JOB).map(({ kind, subjectId }) =>
      subjectId === null ? kind : `${kind} ${subjectId}`,
    );
    expect(asked).toEqual([
      'input',
      'source',
      'load',
      'sides',
      'turn-on',
      'gain front-left',
      'gain front-right',
      'gain rear-left',
      'gain rear-right',
      'gain subwoofer',
      'crossover front-left',
      'crossover front-right',
      'crossover rear-left',
      'crossover rear-right',
      'crossover subwoofer',
      'level',
      'polarity',
      'arrival',
      'noise',
      'supply four-channel',
      'supply mono',
    ]);
  });

  it('leaves out what a chain does not have: no load at line level, no turn-on with a remote wire, no filter', () => {
    const kinds = (job: Job) => jobProgress(job).map((one) => one.kind);
    const lineLevel = { ...JOB, source: { ...JOB.source, pickup: 'line-level' as const } };
    expect(kinds(lineLevel)).not.toContain('load');
    const woken = { ...JOB, converter: { ...JOB.converter!, turnOn: 'remote-wire' as const } };
    expect(kinds(woken)).not.toContain('turn-on');
    const open = JOB.channels.map((one) => ({ ...one, band: { highPassHz: null, lowPassHz: null } }));
    expect(kinds({ ...JOB, channels: open })).not.toContain('crossover');
  });
});

describe('a checkpoint', () => {
  it('is done by its newest record, and out of tolerance with the reason of its first finding', () => {
    expect(point(JOB, 'source').mark).toBe('not-done');
    expect(point(withRecords(sourceOf('a')), 'source')).toMatchObject({ mark: 'done', why: null });
    const early = { fault: 'radio-clips-early', sentence: 'It clips early.', evidence: 'e', remedy: 'r' };
    const bad = point(withRecords(sourceOf('a'), sourceOf('b', { findings: [early] })), 'source');
    expect(bad).toMatchObject({ mark: 'out-of-tolerance', why: 'It clips early.' });
    expect(point(withRecords(levelOf('a', { inside: false })), 'level').mark).toBe('out-of-tolerance');
    expect(point(withRecords(gainOf('a', { inside: false, errorDb: -0.8 })), 'gain', 'front-left').why).toBe(
      'It reads −0.8 dB off its aim.',
    );
  });

  it('a filter is stale once its channel’s gain was moved after it, and not by the same gain read again', () => {
    const before = [gainOf('g1', { volts: 17.3 }), crossoverOf('c1', 80)];
    const filter = (...more: JobRecord[]) =>
      point(withRecords(...before, ...more), 'crossover', 'front-left');
    expect(filter().mark).toBe('done');
    // 0.05 dB: the same gain.
    expect(filter(gainOf('g2', { volts: 17.4 })).mark).toBe('done');
    const moved = filter(gainOf('g2', { volts: 16 }));
    expect(moved).toMatchObject({
      mark: 'stale',
      why: 'After this was measured, the gain of the front left door was moved by 0.7 dB.',
    });
    expect(filter(gainOf('g2', { volts: 16, channelId: 'rear-left' })).mark).toBe('done');
    expect(filter(gainOf('g2', { volts: 16 }), crossoverOf('c2', 80)).mark).toBe('done');
  });

  it('the same gain set again by a tone 20 dB lower is the same gain', () => {
    const records = [gainOf('g1', { volts: 17.3 }), crossoverOf('c1', 80)];
    const reduced = gainOf('g2', { volts: 1.73, toneDbfs: -25 });
    expect(point(withRecords(...records, reduced), 'crossover', 'front-left').mark).toBe('done');
  });

  it('levels are stale once a filter of theirs was changed, a gain once the highest clean step was', () => {
    const level = (...more: JobRecord[]) =>
      point(withRecords(crossoverOf('c1', 80), levelOf('l1'), ...more), 'level');
    // A sweep leaves a corner open by a hundredth and less.
    expect(level(crossoverOf('c2', 80.5)).mark).toBe('done');
    expect(level(crossoverOf('c2', 100)).why).toMatch(/a filter of the front left door was changed/);
    const gain = (step: number) =>
      point(
        withRecords(sourceOf('s1'), gainOf('g1'), sourceOf('s2', { highestCleanStep: step })),
        'gain',
        'front-left',
      );
    expect(gain(30).mark).toBe('done');
    expect(gain(27).why).toBe(
      'After this was measured, the highest clean step went from step 30 to step 27.',
    );
  });

  it('is stale once the plan asks for something else', () => {
    const job = withRecords(gainOf('g1'), crossoverOf('c1', 80));
    const [front, ...rest] = job.channels;
    const stronger = { ...front!, drivers: { ...front!.drivers, continuousWattsEach: 40 } };
    expect(point({ ...job, channels: [stronger, ...rest] }, 'gain', 'front-left').mark).toBe('stale');
    const higher = { ...front!, band: { highPassHz: 100, lowPassHz: null } };
    expect(point({ ...job, channels: [higher, ...rest] }, 'crossover', 'front-left').mark).toBe('stale');
    const steeper = { ...front!, slopes: { ...front!.slopes, highPass: null } };
    expect(point({ ...job, channels: [steeper, ...rest] }, 'crossover', 'front-left').mark).toBe('stale');
  });
});

it('what comes next is the first thing in the order of the work that is not done', () => {
  expect(nextCheckpoint(jobProgress(JOB))?.title).toBe('honesty of the input');
  const next = (...records: JobRecord[]) =>
    nextCheckpoint(jobProgress(withRecords(...records)).filter((one) => one.station === 'gain'))?.title;
  expect(next(gainOf('a'))).toBe('gain of the front right door');
  expect(next(gainOf('a', { inside: false }), gainOf('b', { channelId: 'front-right' }))).toBe(
    'gain of the front left door',
  );
  expect(nextCheckpoint([])).toBeNull();
});

it('a station is marked by its worst checkpoint, then by how many are done', () => {
  const marked = (...marks: Checkpoint['mark'][]) =>
    stationMark(marks.map((mark) => ({ ...point(JOB, 'source'), mark })));
  expect(marked('not-done', 'not-done')).toBe('not-done');
  expect(marked('done', 'not-done')).toBe('under-way');
  expect(marked('done', 'done')).toBe('done');
  expect(marked('done', 'stale')).toBe('stale');
  expect(marked('stale', 'out-of-tolerance', 'done')).toBe('out-of-tolerance');
});
