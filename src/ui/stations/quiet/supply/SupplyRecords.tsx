import type { Job, JobAmplifier } from '../../../../job/document.ts';
import { fixed, significant } from '../../../../job/format/number.ts';
import type { RecordOf } from '../../../../job/records.ts';
import { type RecordedLine, RecordedList } from '../../parts/RecordedList.tsx';

const VERDICT_WORDS = { good: 'good', poor: 'poor', 'cannot-tell': 'cannot tell' } as const;

function footWords({ result, conditions }: RecordOf<'supply'>): string {
  const by = result.current.from === 'clamp' ? 'clamp' : 'current from the power';
  const { engineRunning } = conditions;
  const engine = engineRunning === null ? '' : ` · engine ${engineRunning ? 'running' : 'off'}`;
  return `${by}, ${fixed(result.riseAmperes, 1)} A${engine}`;
}

function lineOf(record: RecordOf<'supply'>): RecordedLine {
  const { ground, groundDropVolts, groundVolts, positive, inside } = record.result;
  return {
    mark: inside ? 'done' : 'out-of-tolerance',
    words: (
      <>
        <b>
          Ground {VERDICT_WORDS[ground.verdict]}, {significant(Math.max(0, ground.ohms) * 1000, 2)} mΩ
        </b>
        , {fixed(groundDropVolts, 3)} V of the {groundVolts} V allowed
        {positive !== null && <>; supply wire {VERDICT_WORDS[positive.verdict]}</>}
      </>
    ),
    foot: footWords(record),
  };
}

/** Every accepted measurement of one amplifier's supply. */
export function SupplyRecords({ job, amplifier }: { job: Job; amplifier: JobAmplifier }) {
  return (
    <RecordedList
      label="Accepted supply readings"
      nothing="Nothing accepted on this amplifier yet."
      records={job.records.filter(
        (record): record is RecordOf<'supply'> =>
          record.kind === 'supply' && record.result.amplifierId === amplifier.id,
      )}
      line={lineOf}
    />
  );
}
