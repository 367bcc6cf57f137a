import { useEffect, useRef, useState } from 'react';
import type { CheckReport } from '../../../../procedure/check/check.ts';
import { type CheckGround, checkRunning } from '../../../check/check-file.ts';
import { useObservable } from '../../../live/observable.ts';
import { calibration } from '../../../session/calibration.ts';
import { recorder, runningRecording, stopRecording } from '../../../session/recorder-session.ts';

/** Between two checks, at least; a slow machine rests three times as long as one takes. */
const REST_MS = 8000;
const REST_PER_WORK = 3;

export interface CheckSoFar {
  report: CheckReport | null;
  /** Why it could not be checked, one sentence. */
  fault: string | null;
}

const NOTHING: CheckSoFar = { report: null, fault: null };

/** Checks the recording under way again and again; once the track's end is heard, the recording is stopped. */
export function useCheckWhileRecording(ground: Omit<CheckGround, 'voltsPerFs'>): CheckSoFar {
  const { phase } = useObservable(recorder);
  const [soFar, setSoFar] = useState(NOTHING);
  const latest = useRef(ground);
  latest.current = ground;
  useEffect(() => {
    if (phase !== 'recording') return;
    setSoFar(NOTHING);
    let timer: ReturnType<typeof setTimeout>;
    let isOver = false;
    const look = async () => {
      const beganMs = performance.now();
      const running = runningRecording();
      if (running !== null) {
        const voltsPerFs = calibration.get()?.voltsPerFs ?? null;
        const found = await checkRunning(running, { ...latest.current, voltsPerFs }).then(
          (report): CheckSoFar => ({ report, fault: null }),
          (error: unknown): CheckSoFar => ({
            report: null,
            fault: error instanceof Error ? error.message : String(error),
          }),
        );
        // A recording that ended meanwhile is checked as a whole.
        if (isOver) return;
        setSoFar(found);
        if (found.report?.markers.startFound && found.report.markers.endFound) return stopRecording();
      }
      timer = setTimeout(look, Math.max(REST_MS, REST_PER_WORK * (performance.now() - beganMs)));
    };
    timer = setTimeout(look, REST_MS);
    return () => {
      isOver = true;
      clearTimeout(timer);
    };
  }, [phase]);
  return phase === 'recording' ? soFar : NOTHING;
}
