import { useMemo, useState } from 'react';
import type { Job } from '../../../../job/document.ts';
import { useObservable } from '../../../live/observable.ts';
import { probeWhole, rigControls, rigHas } from '../../../session/rig-session.ts';
import { pointsFor } from './PointFields.tsx';

export interface Points {
  /** The job with those channels at which an input can be: the practice rig need not have every one. */
  reached: Job;
  /** For each channel of the input, where its lead or microphone is. */
  points: string[];
  say(points: string[]): void;
}

/** Where the rig's lead is recorded from: where it is, if a recording there can be checked. */
function leadPoint({ channels }: Job, probe: string): string {
  if (probe === 'cabin' || channels.some(({ id }) => id === probe)) return probe;
  return channels[0]?.id ?? 'cabin';
}

/** Where the input is: by word; on the practice rig where its lead is, and the word moves it. */
export function usePoints(job: Job, onRig: boolean, count: number | null): Points {
  const [said, setSaid] = useState<string[]>([]);
  const { probe } = useObservable(rigControls);
  const reached = useMemo(
    () => (onRig ? { ...job, channels: job.channels.filter(({ id }) => rigHas(id)) } : job),
    [job, onRig],
  );
  const points = useMemo(
    () => (onRig ? [leadPoint(reached, probe)] : pointsFor(said, count ?? 1)),
    [onRig, reached, probe, said, count],
  );
  const moveLead = ([point]: string[]) => {
    if (point !== undefined) probeWhole(point);
  };
  return { reached, points, say: onRig ? moveLead : setSaid };
}
