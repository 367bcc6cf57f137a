import type { Job, JobChannel } from '../document.ts';
import { planJobChannel } from '../job-plan.ts';
import { keptFigure } from '../kept-record.ts';
import type { JobRecord, RecordKind, RecordOf } from '../records.ts';
import { JobRefused } from '../refused.ts';
import { channelsOf, staleBecause } from './changed-since.ts';
import type { Checkpoint, ProgressStation } from './checkpoint.ts';
import { otherCheck } from './other-check.ts';
import { otherTolerance } from './other-tolerance.ts';
import { isSameTarget } from './same-target.ts';
import { missingBecause, outsideBecause } from './verdict-of-record.ts';

type Asked = Pick<Checkpoint, 'station' | 'kind' | 'subjectId' | 'title'>;

/**
 * Everything that a job asks for, in the order of the work, and where each stands: not done, done, stale
 * (something it stands on is not what it was), or out of tolerance. No job asks for a check by the run track; one that
 * was accepted counts.
 */
export function jobProgress(job: Job): Checkpoint[] {
  return [...asked(job).map((point) => standing(job, point)), ...checked(job)];
}

/** What to do next: the first thing in the order of the work that is not done, stale, or out of tolerance. */
export function nextCheckpoint(progress: readonly Checkpoint[]): Checkpoint | null {
  return progress.find((point) => point.mark !== 'done') ?? null;
}

function whole(station: ProgressStation, kind: RecordKind, title: string): Asked {
  return { station, kind, subjectId: null, title };
}

function asked(job: Job): Asked[] {
  const speakerLevel = job.source.pickup === 'speaker-level';
  const sensing = job.converter !== null && job.converter.turnOn !== 'remote-wire';
  const filtered = job.channels.filter(({ band }) => band.highPassHz !== null || band.lowPassHz !== null);
  const perChannel = (station: ProgressStation, kind: RecordKind, what: string, channels: JobChannel[]) =>
    channels.map(({ id, name }) => ({
      station,
      kind,
      subjectId: id,
      title: `${what} of the ${name.toLowerCase()}`,
    }));
  return [
    whole('input', 'input', 'honesty of the input'),
    whole('source', 'source', 'highest clean step of the radio'),
    ...(speakerLevel ? [whole('source', 'load', 'load of the radio')] : []),
    whole('source', 'sides', 'left and right'),
    ...(sensing ? [whole('source', 'turn-on', 'turn-on of the converter')] : []),
    ...perChannel('gain', 'gain', 'gain', job.channels),
    ...perChannel('crossover', 'crossover', 'filter', filtered),
    whole('balance', 'level', 'level of left and right'),
    whole('balance', 'polarity', 'polarity'),
    whole('balance', 'arrival', 'arrival'),
    whole('quiet', 'noise', 'noise'),
    ...job.amplifiers.map(({ id, name }) => ({
      station: 'quiet' as const,
      kind: 'supply' as const,
      subjectId: id,
      title: `supply and ground of the ${name.toLowerCase()}`,
    })),
  ];
}

function isAbout(record: JobRecord, { kind, subjectId }: Asked): boolean {
  if (record.kind !== kind) return false;
  if (subjectId === null) return true;
  if (record.kind === 'supply') return record.result.amplifierId === subjectId;
  return channelsOf(record).includes(subjectId);
}

function standing(job: Job, point: Asked): Checkpoint {
  const record = job.records.filter((one) => isAbout(one, point)).at(-1) ?? null;
  if (record === null) return { ...point, mark: 'not-done', why: null, record };
  return { ...point, ...recordStanding(job, record), record };
}

/** The newest check at each set of points. */
function checked(job: Job): Checkpoint[] {
  const newest = new Map<string, RecordOf<'check'>>();
  for (const record of job.records) if (record.kind === 'check') newest.set(record.result.at.join(), record);
  return [...newest.values()].map((record) => ({
    station: 'sign-off',
    kind: 'check',
    subjectId: null,
    title: `check by the run track at ${pointNames(job, record.result.at)}`,
    ...recordStanding(job, record),
    record,
  }));
}

function pointNames(job: Job, at: readonly string[]): string {
  return at
    .filter((point) => point !== 'none')
    .map((point) => (point === 'cabin' ? 'the cabin' : `the ${nameIn(job, point)}`))
    .join(', ');
}

function nameIn({ channels }: Job, id: string): string {
  return channels.find((channel) => channel.id === id)?.name.toLowerCase() ?? id;
}

/** Where a record of the job stands today. */
export function recordStanding(job: Job, record: JobRecord): Pick<Checkpoint, 'mark' | 'why'> {
  const nameOf = (id: string) => job.channels.find((channel) => channel.id === id)?.name ?? id;
  const stale =
    staleBecause(record, job.records, nameOf) ?? otherPlan(job, record) ?? otherTolerance(job, record);
  if (stale !== null) return { mark: 'stale', why: stale };
  const missing = missingBecause(record);
  if (missing !== null) return { mark: 'not-done', why: missing };
  const outside = outsideBecause(record);
  if (outside !== null) return { mark: 'out-of-tolerance', why: outside };
  return { mark: 'done', why: null };
}

/** The plan asks for something else today than when the record was made. */
function otherPlan(job: Job, record: JobRecord): string | null {
  if (record.kind === 'gain') {
    const same = isSameTarget(record.result.targetVolts, targetVolts(job, record.result.channelId));
    return same ? null : 'The plan’s target is not what it was when this was set.';
  }
  if (record.kind === 'crossover') {
    const channel = job.channels.find((one) => one.id === record.result.channelId);
    const { highPass, lowPass } = record.result;
    const same =
      channel !== undefined &&
      isSameFigure(channel.band.highPassHz, highPass.wantedHz) &&
      isSameFigure(channel.band.lowPassHz, lowPass.wantedHz) &&
      isSameSlope(channel.slopes.highPass, highPass.wanted) &&
      isSameSlope(channel.slopes.lowPass, lowPass.wanted);
    return same ? null : 'The plan asks for another filter than when this was measured.';
  }
  if (record.kind === 'check') return otherCheck(job, record);
  if (record.kind === 'noise') {
    const { channelId, targetVolts: then, toleranceDb } = record.result;
    if (toleranceDb !== job.tolerances.noiseDb) {
      return 'The job allows another amount of noise than when this was measured.';
    }
    const target = channelId === null ? null : targetVolts(job, channelId);
    if (then === null || target === null) return null;
    return isSameTarget(then, target)
      ? null
      : 'The plan’s target is not what it was when this noise was measured.';
  }
  return null;
}

/** A record holds figures as it keeps them. */
function isSameFigure(asked: number | null, recorded: number | null): boolean {
  return asked === null || recorded === null ? asked === recorded : keptFigure(asked) === recorded;
}

type Slope = JobChannel['slopes']['highPass'];

function isSameSlope(a: Slope, b: Slope): boolean {
  return a?.alignment === b?.alignment && a?.order === b?.order;
}

function targetVolts(job: Job, channelId: string): number | null {
  if (!job.channels.some((channel) => channel.id === channelId)) return null;
  try {
    return planJobChannel(job, channelId).targetVolts;
  } catch (fault) {
    if (fault instanceof JobRefused) return null;
    throw fault;
  }
}
