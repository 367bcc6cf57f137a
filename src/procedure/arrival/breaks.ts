import type { ArrivalTake, ArrivalTask } from './arrival.ts';
import { closingError, onOneClock } from './one-clock.ts';

/** No cabin is so long: 30 ms are ten metres of air. */
const LONGEST_SECONDS = 0.03;
/** A closing take may differ by this many standard uncertainties (one in 400), and by what a held microphone moves, 1.7 cm. */
const CLOSING_COVERAGE = 3;
const HELD_STILL_SECONDS = 50e-6;

const ANEW = 'What was recorded before cannot be compared with it: record every channel again.';

/** Said where the player itself began the train anew. */
export const TRAIN_ANEW = `The train of pulses was started anew. ${ANEW}`;

/**
 * Why a new take cannot be compared with those before it; `null` where it can.
 *
 * @param takes with the new one last
 */
export function whyBroken(takes: readonly ArrivalTake[], task: ArrivalTask): string | null {
  const [last, before] = [takes.at(-1), takes.at(-2)];
  if (last === undefined || before === undefined) return null;
  if (last.startFrame < before.endFrame || last.sampleRateHz !== before.sampleRateHz) {
    return `The input was started anew in between, and its clock with it. ${ANEW}`;
  }
  const earlier = takes.slice(0, -1).find((take) => take.channelId === last.channelId);
  if (earlier !== undefined) {
    const error = closingError(earlier, last, takes, task.everySeconds);
    const allowed = CLOSING_COVERAGE * error.uncertaintySeconds + HELD_STILL_SECONDS;
    if (Math.abs(error.seconds) > allowed) {
      const byMs = (1000 * Math.abs(error.seconds)).toFixed(2);
      return `The same channel now arrives ${byMs} ms elsewhere: the train broke off, sound was lost, or the microphone moved. ${ANEW}`;
    }
  }
  const { arrivals } = onOneClock(takes, task.everySeconds);
  const seconds = arrivals.map((one) => one.seconds);
  if (Math.max(...seconds) - Math.min(...seconds) > LONGEST_SECONDS) {
    return `Two channels arrive more than ${1000 * LONGEST_SECONDS} ms apart, which no cabin is long enough for: the train was started anew in between. ${ANEW}`;
  }
  return null;
}
