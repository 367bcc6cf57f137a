import type { GainState } from '../gain.ts';
import type { BurstRun } from './burst.ts';

/** Set at the reduced level, and no burst has told whether this setting is clean at the full one. */
export function awaitsBursts({
  task,
  burstConclusion,
}: Pick<GainState, 'task' | 'burstConclusion'>): boolean {
  return task.level === 'reduced' && (burstConclusion === null || burstConclusion.verdict === 'undecided');
}

/** What to do with the hands while bursts run, one sentence. */
export function burstInstruction(run: BurstRun): string {
  const level = run.tonesDbfs[run.index];
  const which = `${run.index + 1} of ${run.tonesDbfs.length}`;
  if (run.driver === 'track') {
    return run.phase === 'resting'
      ? `Burst ${which} comes next: leave the track playing and the gain alone.`
      : `Play the track with the bursts and leave the gain alone: burst ${which}, at ${level} dBFS, is awaited.`;
  }
  return run.phase === 'resting'
    ? `Hands off: the coil rests before burst ${which}.`
    : `Hands off: burst ${which}, at ${level} dBFS, for a second at most.`;
}
