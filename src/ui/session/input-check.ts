/** The honesty check of the input at hand, and whether it has passed one. */
import type { Job } from '../../job/document.ts';
import type { RecordOf } from '../../job/records.ts';
import { LEVEL_STEPS } from '../../job/tone-tracks/input-check.ts';
import type { InputTask } from '../../procedure/input/input.ts';
import { INPUT_PROCEDURE } from '../../procedure/input/input-steps.ts';
import { StationSession } from './station-session.ts';

export const inputCheckSession = new StationSession('input', INPUT_PROCEDURE);

export function inputCheckTask(way: InputTask['way']): InputTask {
  return { way, steps: { ...LEVEL_STEPS, levelsDbfs: [...LEVEL_STEPS.levelsDbfs] } };
}

/** The newest check of the input of this name; `null` where it was never checked on this job. */
export function checkOf(job: Job | null, label: string | null): RecordOf<'input'> | null {
  const checks = (job?.records ?? []).filter(
    (one): one is RecordOf<'input'> => one.kind === 'input' && one.conditions.input === label,
  );
  return checks.at(-1) ?? null;
}
