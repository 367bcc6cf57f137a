import type { ReactNode } from 'react';
import './channel-ruler.css';

/** One channel on the ruler. */
export interface RulerRow {
  channelId: string;
  name: string;
  /** Where its bar ends; `null` where it was not measured. */
  value: number | null;
  /** Its figures in words. */
  words: string;
  /** Which side of what is right it lies on; decides colour, and the sign beside the words. */
  tone: 'on' | 'under' | 'over';
}

const SIGNS = { on: '', under: '▼ ', over: '▲ ' } as const;

/**
 * Every channel as a bar on one ruler, figures beside it.
 *
 * @param from left end of the ruler, `to` its right end; bars begin at `from`
 */
export function ChannelRuler({
  label,
  rows,
  from,
  to,
  ends,
  action,
}: {
  label: string;
  rows: readonly RulerRow[];
  from: number;
  to: number;
  /** Words at both ends of the ruler. */
  ends: readonly [string, string];
  action?: (row: RulerRow) => ReactNode;
}) {
  const share = (value: number) =>
    `${(100 * Math.min(1, Math.max(0, (value - from) / (to - from)))).toFixed(2)}%`;
  return (
    <section className="channel-ruler" aria-label={label}>
      <ol className="plainlist">
        {rows.map((row) => (
          <li key={row.channelId} data-channel={row.channelId} data-tone={row.tone}>
            <b>{row.name}</b>
            <span className="bar" aria-hidden="true">
              {row.value !== null && <span style={{ width: share(row.value) }} />}
            </span>
            <span className="figure">
              {SIGNS[row.tone]}
              {row.words}
            </span>
            {action?.(row)}
          </li>
        ))}
      </ol>
      <p className="ends small soft" aria-hidden="true">
        <span>{ends[0]}</span>
        <span>{ends[1]}</span>
      </p>
    </section>
  );
}
