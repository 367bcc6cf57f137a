import type { JobRecord, RecordOf } from '../records.ts';

/** What a record leaves unmeasured of what its station asks for, one sentence; `null` where it is whole. */
export function missingBecause(record: JobRecord): string | null {
  if (record.kind !== 'noise') return null;
  const { states, inside, place } = record.result;
  const engines = states.map((state) => state.engine);
  const missing = (['off', 'idle', 'revved'] as const).filter((engine) => !engines.includes(engine));
  const named = missing.map((engine) => (engine === 'idle' ? 'idling' : engine)).join(' and ');
  if (missing.length > 0) return `Noise was not measured with the engine ${named}.`;
  const isUnjudged = place === 'terminals' && inside === null;
  return isUnjudged ? 'Noise was measured without volts or target, so nothing could be judged.' : null;
}

/**
 * Hum and whine are part of the level that is judged: where all of it lies inside, they are faint enough.
 * Clicks are not, and without volts nothing is judged but by ear.
 */
function noiseOutsideBecause({ inside, findings }: RecordOf<'noise'>['result']): string | null {
  if (inside === false) return 'The noise is closer to the target than the job allows.';
  const counted = inside === null ? findings : findings.filter(({ fault }) => fault === 'clicks');
  return counted[0]?.sentence ?? null;
}

/** Why a record lies outside what the job accepts, one sentence; `null` where it does not. */
export function outsideBecause(record: JobRecord): string | null {
  if (record.kind === 'noise') return noiseOutsideBecause(record.result);
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
    case 'supply':
      return record.result.inside ? null : 'The ground or a supply leg drops more than the job allows.';
    case 'check':
      return record.result.pass
        ? null
        : (record.result.faults[0]?.sentence ?? 'A part of the run track is not in the recording.');
    // Arrival says which delays are wanted; whether the vehicle can give them is not this program's to know.
    default:
      return null;
  }
}
