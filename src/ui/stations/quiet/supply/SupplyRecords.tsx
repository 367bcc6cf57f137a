import type { Job, JobAmplifier } from '../../../../job/document.ts';
import { fixed, significant } from '../../../../job/format/number.ts';
import type { RecordOf } from '../../../../job/records.ts';
import { moment } from '../../../format/moment.ts';
import { MarkSign } from '../../../marks/MarkSign.tsx';

const VERDICT_WORDS = { good: 'good', poor: 'poor', 'cannot-tell': 'cannot tell' } as const;

/** Every accepted measurement of one amplifier's supply, newest first. */
export function SupplyRecords({ job, amplifier }: { job: Job; amplifier: JobAmplifier }) {
  const records = job.records
    .filter(
      (record): record is RecordOf<'supply'> =>
        record.kind === 'supply' && record.result.amplifierId === amplifier.id,
    )
    .reverse();
  if (records.length === 0) return <p className="soft">Nothing accepted on this amplifier yet.</p>;
  return (
    <ol className="plainlist records" aria-label="Accepted supply readings">
      {records.map(({ id, at, result, conditions }, index) => (
        <li key={id} className={index === 0 ? 'newest' : undefined}>
          <MarkSign mark={result.inside ? 'done' : 'out-of-tolerance'} />
          <p>
            <b>
              Ground {VERDICT_WORDS[result.ground.verdict]},{' '}
              {significant(Math.max(0, result.ground.ohms) * 1000, 2)} mΩ
            </b>
            , {fixed(result.groundDropVolts, 3)} V of the {result.groundVolts} V allowed
            {result.positive !== null && <>; supply wire {VERDICT_WORDS[result.positive.verdict]}</>}
            <br />
            <span className="small soft">
              {moment(at)} · {result.current.from === 'clamp' ? 'clamp' : 'current from the power'},{' '}
              {fixed(result.riseAmperes, 1)} A
              {conditions.engineRunning !== null && (
                <> · engine {conditions.engineRunning ? 'running' : 'off'}</>
              )}
            </span>
          </p>
        </li>
      ))}
    </ol>
  );
}
