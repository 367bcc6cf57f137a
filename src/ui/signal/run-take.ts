import { toneSeconds } from '../../dsp/tones/render-tone.ts';
import type { TakeRequest } from '../../procedure/take/read-take.ts';
import { playAhead, playSignal, type Signal, signalMaker, stopSignal } from './signal.ts';

/** What of a station's session a take needs. */
export interface TakingSession {
  take(purpose: unknown, request: TakeRequest, seconds: number): Promise<boolean>;
}

export interface TakePlan {
  /** `null` where nothing is to sound. */
  signal: Signal | null;
  /** The station's own word for it, as its fold expects. */
  purpose: unknown;
  request: TakeRequest;
  /** How long a steady signal is recorded. For one that is heard whole (`loop` false) the signal's own length counts. */
  seconds: number;
}

/** Recorded ahead of a signal that must be caught whole, and behind it: echoes of a cabin, buffers of a device. */
const AHEAD_SECONDS = 0.3;
const BEHIND_SECONDS = 0.8;
/** A hand needs longer to press play on a radio. */
const HAND_SECONDS = 6;

/** How long the recording takes, for the screen to say before. */
export function takeSeconds({ signal, seconds }: TakePlan): number {
  if (signal === null || signal.loop) return seconds;
  const hand = signalMaker() === 'radio' ? HAND_SECONDS : 0;
  return AHEAD_SECONDS + hand + toneSeconds(signal.spec) + BEHIND_SECONDS;
}

/**
 * Plays, records, reads, folds, and falls silent again, whatever happened.
 *
 * @returns false where it came to nothing; the session says why
 * @throws Error where the signal cannot be played
 */
export async function runTake(session: TakingSession, plan: TakePlan): Promise<boolean> {
  const { signal, purpose, request } = plan;
  if (signal === null) return session.take(purpose, request, plan.seconds);
  try {
    if (signal.loop) {
      await playSignal(signal);
      return await session.take(purpose, request, plan.seconds);
    }
    let isOver = false;
    // The station may be left meanwhile: nothing of its is to sound at the next one.
    const played = playAhead(signal, AHEAD_SECONDS, () => !isOver);
    const whole = session.take(purpose, request, takeSeconds(plan)).finally(() => {
      isOver = true;
    });
    const [taken] = await Promise.all([whole, played]);
    return taken;
  } finally {
    await stopSignal();
  }
}
