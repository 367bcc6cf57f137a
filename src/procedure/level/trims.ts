import type { ChannelLevel, PairDifference } from './level.ts';

/**
 * Trims that make each pair alike: the lower of the two is raised, but no further than its recorded ceiling leaves
 * room, and the other one is turned down by what is then missing. Without a record there is no room: only cuts.
 *
 * @returns dB by channel; a channel without a partner has none
 */
export function trimsOf(
  pairs: readonly PairDifference[],
  levels: readonly Pick<ChannelLevel, 'channelId' | 'roomDb'>[],
): Map<string, number> {
  const trims = new Map<string, number>();
  for (const { leftId, rightId, differenceDb } of pairs) {
    const [lowId, highId] = differenceDb < 0 ? [leftId, rightId] : [rightId, leftId];
    const missingDb = Math.abs(differenceDb);
    const roomDb = levels.find((level) => level.channelId === lowId)?.roomDb ?? 0;
    const raiseDb = Math.min(missingDb, Math.max(0, roomDb));
    trims.set(lowId, raiseDb);
    trims.set(highId, raiseDb === missingDb ? 0 : raiseDb - missingDb);
  }
  return trims;
}
