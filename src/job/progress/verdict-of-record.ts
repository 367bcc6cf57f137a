import type { JobRecord } from '../records.ts';

/** Why a record lies outside what the job accepts, one sentence; `null` where it does not. */
export function outsideBecause(record: JobRecord): string | null {
  if ('findings' in record.result) {
    const [first] = record.result.findings;
    if (first !== undefined) return first.sentence;
  }
  switch (record.kind) {
    case 'gain':
      return record.result.inside
        ? null
        : `It reads ${record.result.errorDb.toFixed(1)} dB off its aim.`.replace('-', '−');
    case 'crossover':
      return record.result.inside ? null : 'A corner or a slope is not what the plan asks for.';
    case 'level':
      return record.result.inside === false ? 'Left and right differ by more than the job allows.' : null;
    case 'polarity':
      return record.result.inside === false ? 'A channel is the other way up.' : null;
    case 'noise':
      return record.result.inside === false ? 'The noise is closer to the target than the job allows.' : null;
    case 'supply':
      return record.result.inside ? null : 'The ground or a supply leg drops more than the job allows.';
    // Arrival says which delays are wanted; whether the vehicle can give them is not this program's to know.
    default:
      return null;
  }
}
