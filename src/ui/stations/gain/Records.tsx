import type { RecordOf } from '../../../job/records.ts';
import { fixed } from '../../format/number.ts';
import { decibels, moment, plusMinusVolts, volts } from '../../format/quantity.ts';
import { MarkSign } from '../../marks/MarkSign.tsx';
import { MARK_WORDS, type Mark } from '../../marks/mark.ts';

function conditionsWords(record: RecordOf<'gain'>): string {
  const { supplyVolts, engineRunning, loaded, volumeStep, calibration } = record.conditions;
  const parts = [
    supplyVolts === null ? 'supply not noted' : `supply ${fixed(supplyVolts, 1)} V`,
    engineRunning === null ? null : engineRunning ? 'engine running' : 'engine off',
    loaded === null ? null : loaded ? 'speaker connected' : 'speaker pulled',
    volumeStep === null ? null : `volume step ${volumeStep}`,
    record.result.way === 'meter'
      ? 'read by multimeter'
      : calibration === null
        ? null
        : calibration.deviceLabel,
  ];
  return parts.filter((part) => part !== null).join(' · ');
}

/** Every accepted reading of one channel, newest first; none is ever overwritten. */
export function Records({ records }: { records: RecordOf<'gain'>[] }) {
  if (records.length === 0) {
    return <p className="soft">Nothing accepted on this channel yet.</p>;
  }
  const newestFirst = [...records].reverse();
  return (
    <ol className="plainlist records" aria-label="Accepted readings">
      {newestFirst.map((record, index) => {
        const { result } = record;
        const mark: Mark = result.inside ? 'done' : 'out-of-tolerance';
        return (
          <li key={record.id} className={index === 0 ? 'newest' : undefined}>
            <MarkSign mark={mark} />
            <p>
              <b>
                {volts(result.volts)} {plusMinusVolts(result.voltsUncertainty)}
              </b>{' '}
              {result.inside ? 'inside' : MARK_WORDS['out-of-tolerance']}, {decibels(result.errorDb, 2)} of{' '}
              {volts(result.aimVolts)}
              {result.knee?.volts != null && <>, knee {volts(result.knee.volts)}</>}
              <br />
              <span className="small soft">
                {moment(record.at)} · {conditionsWords(record)}
              </span>
            </p>
          </li>
        );
      })}
    </ol>
  );
}
