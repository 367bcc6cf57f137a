import type { ToneStretches } from '../../dsp/time/tone-stretches.ts';
import type { KeepAliveTried, SilenceTried, TurnOnPurpose, TurnOnTask } from './turn-on.ts';

/** Less than a tenth of a second is not missed (common practice); clocks of players and fades stay within a third of it. */
export const LOST_SECONDS = 0.1;
/** A quiet tone counts as there while it is no more than this below what it should be. */
const STILL_THERE_DB = 6;

/** `null` where the recording does not hold the tone before the pause, or not long enough of what follows. */
export function silenceTried(
  purpose: Extract<TurnOnPurpose, { try: 'silence' }>,
  tone: ToneStretches,
): SilenceTried | null {
  const pause = pauseOf(purpose.seconds, tone);
  if (pause === null) return null;
  const { lostSeconds } = pause;
  return { seconds: purpose.seconds, lostSeconds, slept: isLost(lostSeconds) };
}

export function keepAliveTried(
  task: TurnOnTask,
  purpose: Extract<TurnOnPurpose, { try: 'keep-alive' }>,
  tone: ToneStretches,
): KeepAliveTried | null {
  const pause = pauseOf(purpose.seconds, tone);
  if (pause === null) return null;
  const { lostSeconds, fromSeconds } = pause;
  const expectedDbfs = tone.loudDbfs + purpose.levelDbfs - task.toneDbfs;
  return {
    levelDbfs: purpose.levelDbfs,
    seconds: purpose.seconds,
    held: !isLost(lostSeconds),
    lostSeconds,
    goneAfterSeconds: isLost(lostSeconds)
      ? goneAfter(tone, fromSeconds, purpose.seconds, expectedDbfs)
      : null,
  };
}

function isLost(lostSeconds: number | null): boolean {
  return lostSeconds === null || lostSeconds > LOST_SECONDS;
}

/** A shorter sound ahead of a long silence was something else: the end of what played before, a click. */
const LEAST_TONE_SECONDS = 1;

interface Pause {
  /** Where the first tone ended, from the start of the recording. */
  fromSeconds: number;
  lostSeconds: number | null;
}

/** The pause after the first tone. Its end may be missing only where the recording went on long past it. */
function pauseOf(
  playedSeconds: number,
  { stretches, levelsDbfs, everySeconds }: ToneStretches,
): Pause | null {
  const gaps = stretches.slice(1).map((at, index) => ({
    fromSeconds: stretches[index]!.endSeconds,
    lasts: at.startSeconds - stretches[index]!.endSeconds,
  }));
  // A converter that is woken may stutter: the pause is the long gap, not the first one.
  const pause = gaps.find(({ lasts }) => lasts > playedSeconds / 2);
  if (pause !== undefined) {
    return { fromSeconds: pause.fromSeconds, lostSeconds: Math.max(0, pause.lasts - playedSeconds) };
  }
  const last = stretches.at(-1);
  const recordedSeconds = levelsDbfs.length * everySeconds;
  if (last === undefined || last.endSeconds - last.startSeconds < LEAST_TONE_SECONDS) return null;
  if (recordedSeconds < last.endSeconds + playedSeconds + 1) return null;
  return { fromSeconds: last.endSeconds, lostSeconds: null };
}

/** The quiet tone has to be seen first, or nothing can be said of its end. */
function goneAfter(tone: ToneStretches, from: number, seconds: number, expectedDbfs: number): number | null {
  const { levelsDbfs, everySeconds } = tone;
  // The window in which the loud tone ends still holds some of it.
  const first = Math.ceil(from / everySeconds) + 1;
  const inside = levelsDbfs.slice(first, Math.floor((from + seconds) / everySeconds));
  const isThere = inside.map((level) => level !== null && level > expectedDbfs - STILL_THERE_DB);
  if (isThere[0] !== true) return null;
  const gone = isThere.indexOf(false);
  return gone < 0 ? null : (first + gone) * everySeconds - from;
}
