import type { Job } from '../../../../job/document.ts';
import { fixed } from '../../../../job/format/number.ts';
import { recordStanding } from '../../../../job/progress/job-progress.ts';
import type { RecordOf } from '../../../../job/records.ts';
import { RecordedList } from '../../parts/RecordedList.tsx';
import { ENGINE_NAMES } from './purpose-words.ts';

type Result = RecordOf<'noise'>['result'];

function levelWords({ belowTargetDb, toleranceDb, states }: Result): string {
  if (belowTargetDb !== null) return `${fixed(belowTargetDb, 1)} dB below target, ${toleranceDb} asked`;
  const loudest = states.reduce((best, one) =>
    (one.levelDbfs ?? -Infinity) > (best.levelDbfs ?? -Infinity) ? one : best,
  );
  if (loudest.levelDbfs === null) return 'digital silence';
  return loudest.levelDbv === null
    ? `${fixed(loudest.levelDbfs, 1)} dBFS`
    : `${fixed(loudest.levelDbv, 1)} dBV`;
}

function soundWords({ ripple, hum }: Result): string {
  const hz = (value: number | null) => (value === null ? 'none' : `${fixed(value, 1)} Hz`);
  const parts = [
    ripple === null ? null : `whine ${hz(ripple.idleHz)} idling, ${hz(ripple.revvedHz)} revved`,
    hum === null ? null : `hum ${hum.nominalHz} Hz`,
  ].filter((part) => part !== null);
  return parts.length === 0 ? 'no whine, no hum' : parts.join('; ');
}

/** Every accepted measurement. */
export function NoiseRecords({ job, records }: { job: Job; records: readonly RecordOf<'noise'>[] }) {
  return (
    <RecordedList
      label="Accepted noise readings"
      nothing="Nothing accepted here yet."
      records={records}
      line={(record) => ({
        mark: recordStanding(job, record).mark,
        words: (
          <>
            <b>{levelWords(record.result)}</b>, {soundWords(record.result)}
          </>
        ),
        foot: record.result.states.map(({ engine }) => ENGINE_NAMES[engine]).join(', '),
      })}
    />
  );
}
