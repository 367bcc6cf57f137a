import type { Job } from '../../../job/document.ts';
import { useObservable } from '../../live/observable.ts';
import { type Pickup, pickup } from '../../session/source-sessions.ts';

/** Where the input is connected; a converter that this job does not have is not where it is. */
export function usePickup(job: Job): Pickup {
  const at = useObservable(pickup);
  return job.converter === null ? { ...at, point: 'radio' } : at;
}
