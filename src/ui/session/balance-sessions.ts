/** The Balance station's three folds, outside React, and what is chosen for them. */
import type { Job } from '../../job/document.ts';
import { ARRIVAL } from '../../procedure/arrival/arrival-steps.ts';
import type { LevelTask } from '../../procedure/level/level.ts';
import { LEVEL } from '../../procedure/level/level-steps.ts';
import { POLARITY } from '../../procedure/polarity/polarity-steps.ts';
import type { TakeRequest } from '../../procedure/take/read-take.ts';
import { observable } from '../live/observable.ts';
import { keepTrain } from './pulse-train.ts';
import { listenTo } from './rig-hands.ts';
import { rigFaults } from './rig-session.ts';
import { StationSession } from './station-session.ts';

export const levelSession = new StationSession('level', LEVEL);
export const polaritySession = new StationSession('polarity', POLARITY);
export const arrivalSession = new StationSession('arrival', ARRIVAL);

/** Of the noise that a microphone hears. */
export const levelWeighting = observable<LevelTask['weighting']>('C');
/** How many seats the microphone visits, front ones first. */
export const seatCount = observable<2 | 4>(2);

/** Another vehicle, another volume: what was measured says nothing of it. */
export function forgetBalance(): void {
  for (const session of [levelSession, polaritySession, arrivalSession]) session.forget();
}

rigFaults.subscribe(forgetBalance);

/** The channel that both folds listen to next; polarity alone goes on once the arrivals are complete. */
export function wantedPulses(): string | null {
  return arrivalSession.state()?.wanted ?? polaritySession.state()?.wanted ?? null;
}

/** One recording of the train for polarity and arrival together: the train is kept running, the channel let alone. */
export function pulsesTaking(job: Job) {
  return {
    subscribe: polaritySession.subscribe,
    busy: polaritySession.busy,
    fault: polaritySession.fault,
    async take(purpose: { channelId: string }, request: TakeRequest, seconds: number): Promise<boolean> {
      // Heard again by itself, the microphone close to the driver, it says nothing of the seat's arrivals.
      const isComplete = arrivalSession.state()?.wanted === null;
      if (await keepTrain(job)) arrivalSession.hand({ type: 'train' });
      await listenTo(job, purpose.channelId, 0);
      return polaritySession.take(purpose, request, seconds, isComplete ? [] : [arrivalSession]);
    },
  };
}
