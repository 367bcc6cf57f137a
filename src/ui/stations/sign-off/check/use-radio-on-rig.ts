import { useEffect, useRef, useState } from 'react';
import type { RunSound } from '../../../../dsp/tones/run-sound.ts';
import { useObservable } from '../../../live/observable.ts';
import { recorder } from '../../../session/recorder-session.ts';
import { probeWhole } from '../../../session/rig-session.ts';
import { isOnRig, playRunAhead, stopSignal } from '../../../signal/signal.ts';

/** The lead has come to its place by then, and the recording has long begun. */
const AHEAD_SECONDS = 0.5;

/**
 * On the practice rig, what the hands do once a recording has begun: the lead goes to its point and the radio plays the
 * run track, until the recording ends or the screen is left.
 *
 * @param point a channel that the rig has, or `cabin`
 * @returns why the radio cannot play it, one sentence; else `null`
 */
export function useRadioOnRig(run: RunSound, point: string): string | null {
  const { phase } = useObservable(recorder);
  const [fault, setFault] = useState<string | null>(null);
  const latest = useRef({ run, point });
  latest.current = { run, point };
  const before = useRef(phase);
  useEffect(() => {
    // Whoever comes back to a recording under way left its track: played now, it would be cut in two.
    const begins = phase === 'recording' && before.current !== 'recording';
    before.current = phase;
    if (!begins || !isOnRig()) return;
    try {
      probeWhole(latest.current.point);
      playRunAhead(latest.current.run, AHEAD_SECONDS);
      setFault(null);
    } catch (error) {
      setFault(error instanceof Error ? error.message : String(error));
    }
    return () => void stopSignal();
  }, [phase]);
  return fault;
}
