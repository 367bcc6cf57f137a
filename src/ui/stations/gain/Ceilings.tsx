import { amplifierCeiling, type Ceiling, sourceCeiling, sourceRecordFor } from '../../../job/ceilings.ts';
import type { Job, JobChannel } from '../../../job/document.ts';
import { recordsOf } from '../../session/channel-progress.ts';
import { ceilingFigure, comparison } from './ceiling-words.ts';
import './ceilings.css';

/** Ends of the ruler, dBFS. */
const LOWEST_DBFS = -24;
const HIGHEST_DBFS = 6;
const TICKS_DBFS = [-20, -10, 0];

function place(dbfs: number): string {
  const held = Math.min(HIGHEST_DBFS, Math.max(LOWEST_DBFS, dbfs));
  return `${(100 * (held - LOWEST_DBFS)) / (HIGHEST_DBFS - LOWEST_DBFS)}%`;
}

function Bar({ name, ceiling }: { name: string; ceiling: Ceiling | null }) {
  return (
    <div className="ceiling">
      <p>
        <b>{name}</b> {ceiling === null ? 'not known yet' : ceilingFigure(ceiling)}
      </p>
      <div className="ceiling-rail" aria-hidden="true">
        {ceiling !== null && (
          <div
            className={ceiling.isAtLeast ? 'ceiling-bar open' : 'ceiling-bar'}
            style={{ width: place(ceiling.toneDbfs) }}
          />
        )}
        <div className="ceiling-full" style={{ left: place(0) }} />
      </div>
    </div>
  );
}

/** How far what is played may rise before source and amplifier give up, side by side on one ruler. */
export function Ceilings({ job, channel }: { job: Job; channel: JobChannel }) {
  const gain = recordsOf(job, channel.id).at(-1) ?? null;
  const sourceRecord = sourceRecordFor(channel, job.records);
  const step = gain?.conditions.volumeStep ?? null;
  const amplifier = gain === null ? null : amplifierCeiling(gain);
  const source = sourceRecord === null || step === null ? null : sourceCeiling(sourceRecord, step);
  const point = sourceRecord?.result.point ?? 'radio';
  return (
    <section className="sheet ceilings" aria-labelledby="ceilings-title">
      <h2 id="ceilings-title">
        Ceilings <small className="soft">{step === null ? '' : `at volume step ${step}`}</small>
      </h2>
      <Bar name={point === 'radio' ? 'Radio' : 'Radio and converter'} ceiling={source} />
      <Bar name="Amplifier" ceiling={amplifier} />
      <div className="ceiling-ticks small soft" aria-hidden="true">
        {TICKS_DBFS.map((tick) => (
          <span key={tick} style={{ left: place(tick) }}>
            {tick === 0 ? '0 dBFS' : `−${-tick}`}
          </span>
        ))}
      </div>
      <p>
        {source !== null && amplifier !== null
          ? comparison(source, amplifier, point, channel.overlapDb)
          : missing(source, amplifier, step)}
      </p>
    </section>
  );
}

function missing(source: Ceiling | null, amplifier: Ceiling | null, step: number | null): string {
  const lacks: string[] = [];
  if (amplifier === null) {
    lacks.push(
      'The amplifier’s shows once its knee was seen, or a burst was clean, and the gain is accepted.',
    );
  }
  if (source === null) {
    lacks.push(
      amplifier !== null && step === null
        ? 'The radio’s needs the volume step noted with the accepted gain.'
        : 'The radio’s comes from the Source station.',
    );
  }
  return lacks.join(' ');
}
