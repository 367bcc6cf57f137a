import { decibels, volts } from '../../../job/format/quantity.ts';
import type { ChannelLevel, LevelState } from '../../../procedure/level/level.ts';
import { levelSession } from '../../session/balance-sessions.ts';
import { ChannelRuler, type RulerRow } from './ChannelRuler.tsx';

/** The ruler reaches down to here, or further where something lies lower. */
const SHORTEST_DB = 6;

/** dB of one channel, whatever it was read with: to be compared with the others of one task only. */
function levelOf({ levelDbfs, volts: read }: ChannelLevel): number | null {
  return levelDbfs ?? (read === null ? null : 20 * Math.log10(read));
}

function rowOf(state: LevelState, channelId: string, name: string, highest: number): RulerRow {
  const level = state.levels.find((one) => one.channelId === channelId);
  const value = level === undefined ? null : levelOf(level);
  if (level === undefined || value === null)
    return { channelId, name, value: null, words: 'not measured', tone: 'on' };
  const pair = state.pairs.find(
    (one) => !one.inside && (one.leftId === channelId || one.rightId === channelId),
  );
  const isLow = pair !== undefined && pair.differenceDb < 0 === (pair.leftId === channelId);
  const parts = [
    level.volts === null ? `${decibels(value - highest)} against the highest` : volts(level.volts),
    Math.abs(level.trimDb) < 0.05 ? null : `trim ${decibels(level.trimDb)}`,
    level.spreadDb === null ? null : `seats differ by ${level.spreadDb.toFixed(1)} dB`,
  ];
  return {
    channelId,
    name,
    value: value - highest,
    words: parts.filter((part) => part !== null).join(' · '),
    tone: pair === undefined ? 'on' : isLow ? 'under' : 'over',
  };
}

/** All channels on one ruler of decibels, the highest at its right end. */
export function LevelRuler({ state }: { state: LevelState }) {
  const read = state.levels.flatMap((level) => levelOf(level) ?? []);
  const highest = Math.max(...read);
  const lowest = Math.min(...read.map((level) => level - highest));
  const from = read.length === 0 ? -SHORTEST_DB : Math.min(-SHORTEST_DB, Math.floor(lowest / 3) * 3 - 3);
  const rows = state.task.channels.map(({ channelId, name }) => rowOf(state, channelId, name, highest));
  const firstPlace = state.task.places[0]?.placeId ?? null;
  return (
    <ChannelRuler
      label="Levels of all channels"
      rows={rows}
      from={from}
      to={0}
      ends={[`−${-from} dB`, 'the highest, 0 dB']}
      action={(row) =>
        row.value === null ? null : (
          <button
            type="button"
            className="act plain small"
            aria-label={`Record ${row.name.toLowerCase()} again`}
            onClick={() =>
              levelSession.hand({ type: 'choose', channelId: row.channelId, placeId: firstPlace })
            }
          >
            Again
          </button>
        )
      }
    />
  );
}
