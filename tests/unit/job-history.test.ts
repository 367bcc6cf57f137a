/** Undo and redo of a job's editing, against a slow list of whole jobs. */
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Job } from '../../src/job/document.ts';
import {
  edited,
  type JobHistory,
  NO_HISTORY,
  redone,
  redoOffer,
  sealed,
  undone,
  undoOffer,
} from '../../src/job/history/history.ts';
import { jobChange } from '../../src/job/history/job-change.ts';
import { readJob } from '../../src/job/read-job.ts';
import { gainRecord } from './job-records.ts';

const JOB = readJob(
  readFileSync(new URL('../../shared/examples/hatchback.job.json', import.meta.url), 'utf8'),
);

interface Open {
  job: Job;
  history: JobHistory;
}

const BEGUN: Open = { job: JOB, history: NO_HISTORY };

function edit({ job, history }: Open, change: (job: Job) => Job): Open {
  const next = change(job);
  return { job: next, history: edited(history, job, next) };
}

function step(at: Open, way: typeof undone): Open {
  return way(at.history, at.job) ?? at;
}

const supply = (supplyVolts: number | null) => (job: Job) => ({ ...job, supplyVolts });
const watts = (count: number) => (job: Job) => ({
  ...job,
  amplifiers: job.amplifiers.map((one, index) =>
    index === 1
      ? { ...one, perChannel: { ...one.perChannel, ratings: [{ loadOhms: 4, watts: count }] } }
      : one,
  ),
});
const withChannel = (id: string) => (job: Job) => ({
  ...job,
  channels: [...job.channels, { ...job.channels[0]!, id, name: `Channel ${id}` }],
});
const accept = (at: Open, id: string, channelId = 'front-left'): Open => {
  const record = gainRecord(id);
  if (record.kind !== 'gain') throw new Error('Not a gain record.');
  const spoken = { ...record, result: { ...record.result, channelId } };
  return { ...at, job: { ...at.job, records: [...at.job.records, spoken] } };
};

/** The job without what undo has no business with. */
const body = ({ records: _, updatedAt: __, ...rest }: Job) => rest;

type Edit = { kind: 'edit'; of: 'supply' | 'title' | 'add'; value: number };
type Command = Edit | { kind: 'undo' | 'redo' | 'record' };
const command: fc.Arbitrary<Command> = fc.oneof(
  fc.record({
    kind: fc.constant('edit' as const),
    of: fc.constantFrom('supply' as const, 'title' as const, 'add' as const),
    value: fc.integer({ min: 1, max: 30 }),
  }),
  fc.record({ kind: fc.constantFrom('undo' as const, 'redo' as const, 'record' as const) }),
);

function apply(job: Job, { of, value }: Edit): Job {
  if (of === 'supply') return { ...job, supplyVolts: value };
  if (of === 'title') return { ...job, title: `Job ${value}` };
  return job.channels.some(({ id }) => id === `c${value}`) ? job : withChannel(`c${value}`)(job);
}

describe('undo and redo', () => {
  it('walk the same states as a list of whole jobs, and never lose a record', () => {
    fc.assert(
      fc.property(fc.array(command, { maxLength: 40 }), (commands) => {
        // The oracle: every state kept whole, a pointer into them. Each step is sealed, so none is merged.
        let states = [body(JOB)];
        let at = 0;
        let open = BEGUN;
        let records = 0;
        for (const one of commands) {
          if (one.kind === 'edit') {
            const next = apply(open.job, one);
            open = edit({ ...open, history: sealed(open.history) }, () => next);
            if (JSON.stringify(body(next)) !== JSON.stringify(states[at])) {
              states = [...states.slice(0, at + 1), body(next)];
              at += 1;
            }
          } else if (one.kind === 'record') {
            records += 1;
            open = accept(open, `r${records}`);
          } else if (one.kind === 'undo') {
            at = Math.max(0, at - 1);
            open = step(open, undone);
          } else {
            at = Math.min(states.length - 1, at + 1);
            open = step(open, redone);
          }
          expect(body(open.job)).toEqual(states[at]);
          expect(open.job.records.map(({ id }) => id)).toEqual(
            Array.from({ length: records }, (_, index) => `r${index + 1}`),
          );
          expect(undoOffer(open.history, open.job) === null).toBe(at === 0);
          expect(redoOffer(open.history, open.job) === null).toBe(at === states.length - 1);
        }
      }),
    );
  });

  it('take one field typed letter by letter as one step, until it is left', () => {
    let open = [1, 14, 14.2].reduce((now, volts) => edit(now, supply(volts)), BEGUN);
    expect(open.history.past).toHaveLength(1);
    open = edit({ ...open, history: sealed(open.history) }, supply(13.8));
    expect(open.history.past).toHaveLength(2);
    open = step(open, undone);
    expect(open.job.supplyVolts).toBe(14.2);
    expect(step(open, undone).job.supplyVolts).toBe(14.4);
  });

  it('take typing back to where it began as no step at all', () => {
    const open = [1, 14, 14.4].reduce((now, volts) => edit(now, supply(volts)), BEGUN);
    expect(undoOffer(open.history, open.job)).toBeNull();
  });

  it('keep two fields apart', () => {
    const open = edit(edit(BEGUN, supply(12)), (job) => ({ ...job, title: 'Other' }));
    expect(undoOffer(open.history, open.job)?.what).toBe('name of this job');
    expect(step(open, undone).job).toMatchObject({ title: JOB.title, supplyVolts: 12 });
  });

  it('forget what was undone once something else is typed', () => {
    const open = edit(step(edit(BEGUN, supply(12)), undone), (job) => ({ ...job, title: 'Other' }));
    expect(redoOffer(open.history, open.job)).toBeNull();
  });

  it('do not take a channel away from its record, and say why', () => {
    const added = edit(BEGUN, withChannel('c9'));
    expect(undoOffer(added.history, added.job)).toEqual({ what: 'adding Channel c9', refused: null });
    const recorded = accept(added, 'r1', 'c9');
    expect(undoOffer(recorded.history, recorded.job)?.refused).toMatch(/^Channel c9 has a record/);
    expect(undone(recorded.history, recorded.job)).toBeNull();
  });
});

describe('a change in words', () => {
  const words = (change: (job: Job) => Job) => jobChange(JOB, change(JOB))?.what ?? null;
  it.each<[string | null, (job: Job) => Job]>([
    [null, (job) => structuredClone(job)],
    ['supply found', supply(12)],
    ['name of this job', (job) => ({ ...job, title: 'x' })],
    ['vehicle', (job) => ({ ...job, vehicle: 'x' })],
    ['volume steps of Factory radio', (job) => ({ ...job, source: { ...job.source, volumeSteps: 30 } })],
    [
      'highest input of Line-output converter',
      (job) => ({ ...job, converter: { ...job.converter!, highestInputVolts: 20 } }),
    ],
    ['ratings of Mono amplifier', watts(300)],
    ['adding Channel c9', withChannel('c9')],
    ['converter', (job) => ({ ...job, converter: null })],
    ['removing Subwoofer', (job) => ({ ...job, channels: job.channels.slice(0, 4) })],
    ['removing Front left door and Front right door', (job) => ({ ...job, channels: job.channels.slice(2) })],
    ['moving Front left door', (job) => ({ ...job, channels: [...job.channels].reverse() })],
    [
      'coil ohms of Subwoofer',
      (job) => ({
        ...job,
        channels: job.channels.map((one) =>
          one.id === 'subwoofer' ? { ...one, drivers: { ...one.drivers, coilOhms: 2 } } : one,
        ),
      }),
    ],
  ])('%s', (what, change) => {
    expect(words(change)).toBe(what);
  });

  it('leaves records out', () => {
    expect(jobChange(JOB, { ...JOB, records: [gainRecord('r1')] })).toBeNull();
  });
});
