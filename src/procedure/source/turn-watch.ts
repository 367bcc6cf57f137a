import type { Grade } from '../../dsp/reading.ts';
import { isAskedTone } from '../asked-tone.ts';

/** One live reading, as far as turning a volume control shows in it. */
export interface TurnSeen {
  seconds: number;
  grade: Grade;
  motion: 'steady' | 'changing';
  frequencyHz: number | null;
  levelDbfs: number | null;
}

/** Looking for a volume control to come to rest somewhere else. */
export interface TurnWatch {
  askedHz: number;
  /** Level before the turn. */
  fromDbfs: number;
  /** Since when it has rested at another level; `null` while it has not. */
  restingSince: number | null;
}

/** Volume steps are half a decibel and more (common practice); a level at rest wanders by less than a tenth. */
const TURNED_DB = 0.3;
/** A hand that goes on to the next step does so sooner. */
const REST_SECONDS = 0.8;

export function watchTurn(askedHz: number, fromDbfs: number): TurnWatch {
  return { askedHz, fromDbfs, restingSince: null };
}

/** Whether the level of the asked tone has changed and come to rest, so that it may be measured. */
export function turnSeen(watch: TurnWatch, seen: TurnSeen): { watch: TurnWatch; isDone: boolean } {
  const { frequencyHz, levelDbfs } = seen;
  const isElsewhere =
    seen.motion === 'steady' &&
    seen.grade !== 'invalid' &&
    frequencyHz !== null &&
    levelDbfs !== null &&
    isAskedTone(frequencyHz, watch.askedHz) &&
    Math.abs(levelDbfs - watch.fromDbfs) >= TURNED_DB;
  const restingSince = isElsewhere ? (watch.restingSince ?? seen.seconds) : null;
  const isDone = restingSince !== null && seen.seconds - restingSince >= REST_SECONDS;
  return { watch: { ...watch, restingSince }, isDone };
}
