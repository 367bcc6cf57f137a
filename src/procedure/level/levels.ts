import type { ChannelLevel, LevelReading, LevelState, LevelTask, PairDifference } from './level.ts';
import { trimsOf } from './trims.ts';

type Seen = Pick<LevelState, 'task' | 'readings'>;

/** Newest reading of a channel at a place. */
export function readingAt(
  readings: readonly LevelReading[],
  channelId: string,
  placeId: string | null,
): LevelReading | null {
  return readings.findLast((one) => one.channelId === channelId && one.placeId === placeId) ?? null;
}

/** Every channel that was read, in the task's order, with the trims of its pair. */
export function levelsOf(seen: Seen): { levels: ChannelLevel[]; pairs: PairDifference[] } {
  const untrimmed = seen.task.channels.flatMap((channel) => {
    const level = channelLevel(seen, channel.channelId, channel.roomDb);
    return level === null ? [] : [level];
  });
  const pairs = pairsOf(seen.task, untrimmed);
  const trims = trimsOf(pairs, untrimmed);
  const levels = untrimmed.map((level) => ({ ...level, trimDb: trims.get(level.channelId) ?? 0 }));
  return { levels, pairs };
}

function channelLevel(
  { task, readings }: Seen,
  channelId: string,
  roomDb: number | null,
): ChannelLevel | null {
  const placeIds = task.way === 'wire' ? [null] : task.places.map((place) => place.placeId);
  const read = placeIds.flatMap((placeId) => readingAt(readings, channelId, placeId) ?? []);
  const [first] = read;
  if (first === undefined) return null;
  const places = read.flatMap(({ placeId, levelDbfs }) =>
    placeId === null || levelDbfs === null ? [] : [{ placeId, levelDbfs }],
  );
  const dbfs = places.map((place) => place.levelDbfs);
  return {
    channelId,
    levelDbfs: places.length > 0 ? energyAverage(dbfs) : first.levelDbfs,
    volts: first.volts,
    uncertaintyDb: averageUncertainty(read),
    spreadDb: dbfs.length > 1 ? Math.max(...dbfs) - Math.min(...dbfs) : null,
    places,
    roomDb,
    trimDb: 0,
  };
}

/** Level of the mean energy: `10 lg (1/n sum 10^(L/10))` (references, level addition). */
function energyAverage(levels: readonly number[]): number {
  return 10 * Math.log10(levels.reduce((sum, level) => sum + 10 ** (level / 10), 0) / levels.length);
}

/** Each place counts by its share of the energy (JCGM 100 eq. 10, places independent). */
function averageUncertainty(read: readonly LevelReading[]): number {
  const energies = read.map(({ levelDbfs }) => (levelDbfs === null ? 1 : 10 ** (levelDbfs / 10)));
  const all = energies.reduce((sum, energy) => sum + energy, 0);
  const parts = read.map(({ uncertaintyDb }, at) => ((energies[at] as number) / all) * uncertaintyDb);
  return Math.hypot(...parts);
}

/** Pairs of which both were read alike: at the same places, by the same means. */
function pairsOf(task: LevelTask, levels: readonly ChannelLevel[]): PairDifference[] {
  return task.pairs.flatMap((pair) => {
    const left = levels.find((level) => level.channelId === pair.leftId);
    const right = levels.find((level) => level.channelId === pair.rightId);
    if (left === undefined || right === undefined || placesKey(left) !== placesKey(right)) return [];
    const differenceDb = difference(left, right);
    if (differenceDb === null) return [];
    return [
      {
        ...pair,
        differenceDb,
        uncertaintyDb: Math.hypot(left.uncertaintyDb, right.uncertaintyDb),
        inside: Math.abs(differenceDb) <= task.toleranceDb,
      },
    ];
  });
}

function placesKey({ places }: ChannelLevel): string {
  return places.map((place) => place.placeId).join(' ');
}

/** By the input where it heard both: calibration then cancels. */
function difference(left: ChannelLevel, right: ChannelLevel): number | null {
  if (left.levelDbfs !== null && right.levelDbfs !== null) return left.levelDbfs - right.levelDbfs;
  if (left.volts !== null && right.volts !== null) return 20 * Math.log10(left.volts / right.volts);
  return null;
}

export function worstOf(pairs: readonly PairDifference[]): PairDifference | null {
  return pairs.reduce<PairDifference | null>(
    (worst, pair) =>
      worst === null || Math.abs(pair.differenceDb) > Math.abs(worst.differenceDb) ? pair : worst,
    null,
  );
}
