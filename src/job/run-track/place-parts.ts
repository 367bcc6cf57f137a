import { PAUSE_PER_BURST } from '../../procedure/gain/burst/burst.ts';
import { MARKER_SECONDS, onGrid } from '../../procedure/run-track/timing.ts';
import type { RunPart } from '../manifest.ts';
import type { LoudPart, Unplaced } from './unplaced.ts';

/** Room ahead of the first sound, and behind the last: coders and players cut their ends. */
const END_SECONDS = 0.5;

export interface RunOrder {
  /** Ahead of the start marker. */
  waking: Unplaced;
  /** At the start, before anything is loud. */
  first: readonly Unplaced[];
  /** Whatever else is quiet: what is loud is played between, so that coils rest meanwhile. */
  rest: readonly Unplaced[];
  loud: readonly LoudPart[];
}

export interface PlacedRun {
  parts: RunPart[];
  startMarkerSeconds: number;
  endMarkerSeconds: number;
  totalSeconds: number;
}

/** Puts the parts one after the other. No coil gets full power again until it has rested as after a burst. */
export function placeParts({ waking, first, rest, loud }: RunOrder, guardSeconds: number): PlacedRun {
  const parts: RunPart[] = [];
  const restedAt = new Map<string, number>();
  let seconds = onGrid(END_SECONDS);
  const put = (part: Unplaced) => {
    parts.push({ ...part, id: freeId(part.id, parts), startSeconds: seconds });
    seconds = onGrid(seconds + part.durationSeconds + guardSeconds);
  };
  const restedFor = ({ drives }: LoudPart) => Math.max(0, ...drives.map((id) => restedAt.get(id) ?? 0));
  const putLoud = (one: LoudPart) => {
    seconds = onGrid(Math.max(seconds, restedFor(one)));
    const rested = seconds + (1 + PAUSE_PER_BURST) * one.part.durationSeconds;
    for (const id of one.drives) restedAt.set(id, rested);
    put(one.part);
  };

  put(waking);
  const startMarkerSeconds = seconds;
  seconds = onGrid(seconds + MARKER_SECONDS + guardSeconds);
  for (const part of first) put(part);
  const waiting = [...loud];
  for (const part of rest) {
    const ready = waiting.findIndex((one) => restedFor(one) <= seconds);
    if (ready >= 0) for (const one of waiting.splice(ready, 1)) putLoud(one);
    put(part);
  }
  for (const one of waiting.sort((a, b) => restedFor(a) - restedFor(b))) putLoud(one);
  const endMarkerSeconds = seconds;
  const totalSeconds = onGrid(endMarkerSeconds + MARKER_SECONDS + END_SECONDS);
  return { parts, startMarkerSeconds, endMarkerSeconds, totalSeconds };
}

/** A channel may be called as a side is; its parts are then numbered. */
function freeId(id: string, parts: readonly RunPart[]): string {
  const isTaken = (wanted: string) => parts.some((part) => part.id === wanted);
  let number = 2;
  let free = id;
  while (isTaken(free)) {
    free = `${id}-${number}`;
    number += 1;
  }
  return free;
}
