import type { JobRecord, RecordKind, RecordOf } from '../records.ts';

/** A gain that reads the same within this was not changed: half of the finest touch a control allows. */
const SAME_DB = 0.1;
/** Corners that agree within this are one setting: ten times what a sweep leaves open. */
const SAME_CORNER = 0.02;

/** One kind of record that another stands on. */
interface Ground {
  kind: RecordKind;
  /** What changed between two of them, as the middle of a sentence; `null` where nothing did. */
  change(before: JobRecord | null, now: JobRecord): string | null;
}

/** Where the control stands, whatever the level of the tone that it was set with. */
function settingDb({ result }: RecordOf<'gain'>): number {
  return 20 * Math.log10(result.volts) - result.toneDbfs;
}

const gainSet: Ground = {
  kind: 'gain',
  change(before, now) {
    if (now.kind !== 'gain') return null;
    if (before?.kind !== 'gain') return 'was set';
    const moved = Math.abs(settingDb(now) - settingDb(before));
    return moved > SAME_DB ? `was moved by ${moved.toFixed(1)} dB` : null;
  },
};

const filterMeasured: Ground = {
  kind: 'crossover',
  change(before, now) {
    if (now.kind !== 'crossover') return null;
    if (before?.kind !== 'crossover') return null;
    const same = sameSide(before, now, 'highPass') && sameSide(before, now, 'lowPass');
    return same ? null : 'was changed';
  },
};

function sameSide(
  before: RecordOf<'crossover'>,
  now: RecordOf<'crossover'>,
  end: 'highPass' | 'lowPass',
): boolean {
  const a = before.result[end].found;
  const b = now.result[end].found;
  if (a === null || b === null) return a === b;
  return a.order === b.order && Math.abs(a.cutoffHz / b.cutoffHz - 1) <= SAME_CORNER;
}

const ceilingFound: Ground = {
  kind: 'source',
  change(before, now) {
    if (now.kind !== 'source' || before?.kind !== 'source') return null;
    const [then, since] = [before.result.highestCleanStep, now.result.highestCleanStep];
    return then === since ? null : `went from step ${then} to step ${since}`;
  },
};

/** What each kind stands on. */
const GROUNDS: Partial<Record<RecordKind, readonly Ground[]>> = {
  gain: [ceilingFound],
  crossover: [gainSet],
  level: [gainSet, filterMeasured],
  polarity: [filterMeasured],
  arrival: [filterMeasured],
  noise: [gainSet],
  check: [gainSet, filterMeasured],
};

const WORDS: Partial<Record<RecordKind, string>> = {
  gain: 'the gain',
  crossover: 'a filter',
  source: 'the highest clean step',
};

/** Channels that a record is about; empty where it is about none in particular. */
export function channelsOf(record: JobRecord): string[] {
  const { result } = record;
  if ('at' in result) return result.at.filter((point) => point !== 'cabin' && point !== 'none');
  if ('channelId' in result) return result.channelId === null ? [] : [result.channelId];
  if ('channels' in result) return result.channels.map((one) => one.channelId);
  return [];
}

/**
 * Why a record no longer speaks for the vehicle: something it stands on was measured anew since and is not
 * what it was. One sentence; `null` where it still speaks.
 *
 * @param records all of the job's, oldest first, this one among them
 */
export function staleBecause(
  record: JobRecord,
  records: readonly JobRecord[],
  nameOf: (channelId: string) => string,
): string | null {
  const at = records.indexOf(record);
  for (const ground of GROUNDS[record.kind] ?? []) {
    for (const channelId of groundChannels(record, ground.kind)) {
      const history = records.filter(
        (one) => one.kind === ground.kind && (channelId === null || channelsOf(one).includes(channelId)),
      );
      const now = history.at(-1);
      if (now === undefined || records.indexOf(now) < at) continue;
      const before = history.filter((one) => records.indexOf(one) < at).at(-1) ?? null;
      const change = ground.change(before, now);
      if (change === null) continue;
      const of = channelId === null ? '' : ` of the ${nameOf(channelId).toLowerCase()}`;
      return `After this was measured, ${WORDS[ground.kind] ?? ground.kind}${of} ${change}.`;
    }
  }
  return null;
}

/** The source is one for all channels; the rest goes channel by channel. */
function groundChannels(record: JobRecord, ground: RecordKind): (string | null)[] {
  return ground === 'source' ? [null] : channelsOf(record);
}
