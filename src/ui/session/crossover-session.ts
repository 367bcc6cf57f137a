/** The Crossover station outside React: one course for all channels of a job, so that one reference serves them. */
import { crossoverTask } from '../../job/crossover-task.ts';
import type { Job } from '../../job/document.ts';
import { toneSet } from '../../job/tone-set.ts';
import type { ResponseSweep } from '../../plan/tone/response-sweep.ts';
import { CROSSOVER } from '../../procedure/crossover/crossover-steps.ts';
import { TONE_SET_FORM } from './level-track.ts';
import { StationSession } from './station-session.ts';

export const crossoverSession = new StationSession('crossover', CROSSOVER);

function toBench(channelId: string): void {
  if (crossoverSession.state()?.channelId === channelId) return;
  crossoverSession.hand({ type: 'channel', channelId });
}

/** Goes on where the job's filters were left, with this channel on the bench. */
export function openCrossover(job: Job, channelId: string): void {
  crossoverSession.open(crossoverTask(job));
  toBench(channelId);
}

/** Forgets what was swept: another vehicle, or everything turned at once. */
export function beginCrossoverAnew(job: Job, channelId: string): void {
  crossoverSession.restart(crossoverTask(job));
  toBench(channelId);
}

/** File name of a sweep in the tone set; `null` where the set has none like it. */
export function sweepTrackFile(
  job: Job,
  sweep: ResponseSweep,
  side: 'left' | 'right' | 'both',
): string | null {
  try {
    const track = toneSet(job, TONE_SET_FORM).tracks.find(
      (one) =>
        one.kind === 'sweep' &&
        one.channels === side &&
        one.startHz === sweep.startHz &&
        one.endHz === sweep.endHz &&
        one.durationSeconds === sweep.durationSeconds,
    );
    return track?.file ?? null;
  } catch (fault) {
    if (fault instanceof RangeError) return null;
    throw fault;
  }
}
