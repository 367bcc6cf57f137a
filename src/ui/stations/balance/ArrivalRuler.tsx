import { fixed } from '../../../job/format/number.ts';
import type { ArrivalState } from '../../../procedure/arrival/arrival.ts';
import type { PolarityState } from '../../../procedure/polarity/polarity.ts';
import { arrivalSession, polaritySession } from '../../session/balance-sessions.ts';
import { ChannelRuler, type RulerRow } from './ChannelRuler.tsx';

const VERDICT_WORDS = {
  normal: 'right way round',
  reversed: 'REVERSED',
  'cannot-tell': 'polarity cannot be told',
} as const;
/** The ruler is at least this long. */
const SHORTEST_MS = 2;

function delayWords(arrival: ArrivalState, channelId: string): string | null {
  const one = arrival.arrivals.find((each) => each.channelId === channelId);
  if (one === undefined || arrival.arrivals.length < 2) return null;
  const { delayMs, delayCm, delayInches, uncertaintyMs } = one;
  const exact = `±${fixed(2 * uncertaintyMs, 2)} ms`;
  if (delayMs === 0) return `last to arrive, ${exact}`;
  return `delay ${fixed(delayMs, 2)} ms = ${fixed(delayCm, 0)} cm = ${fixed(delayInches, 1)} in, ${exact}`;
}

function rowOf(polarity: PolarityState, arrival: ArrivalState, channelId: string, name: string): RulerRow {
  const verdict = polarity.channels.find((one) => one.channelId === channelId)?.verdict;
  const at = arrival.arrivals.find((one) => one.channelId === channelId);
  const parts = [verdict === undefined ? null : VERDICT_WORDS[verdict], delayWords(arrival, channelId)];
  const words = parts.filter((part) => part !== null).join(' · ');
  return {
    channelId,
    name,
    value: at?.arrivalMs ?? null,
    words: words === '' ? 'not heard yet' : words,
    tone: verdict === 'reversed' ? 'over' : 'on',
  };
}

function again(channelId: string): void {
  polaritySession.hand({ type: 'choose', channelId });
  if (arrivalSession.state()?.wanted !== null) arrivalSession.hand({ type: 'choose', channelId });
}

/** When each channel arrives, on one ruler from the first on. */
export function ArrivalRuler({ polarity, arrival }: { polarity: PolarityState; arrival: ArrivalState }) {
  const to = Math.max(SHORTEST_MS, Math.ceil(arrival.worstMs ?? 0));
  return (
    <ChannelRuler
      label="Polarity and arrival of all channels"
      rows={polarity.task.channels.map(({ channelId, name }) => rowOf(polarity, arrival, channelId, name))}
      from={0}
      to={to}
      ends={['first, 0 ms', `${to} ms later`]}
      action={(row) =>
        row.words === 'not heard yet' ? null : (
          <button
            type="button"
            className="act plain small"
            aria-label={`Record ${row.name.toLowerCase()} again`}
            onClick={() => again(row.channelId)}
          >
            Again
          </button>
        )
      }
    />
  );
}
