import type { Job } from '../document.ts';
import { TURN_ON_TRIES } from '../source-tasks.ts';

/** What a run track may leave out. */
export const RUN_CONTENTS = [
  'identification',
  'reduced',
  'noise',
  'honesty',
  'polarity',
  'response',
  'balance',
  'full',
] as const;

export type RunContent = (typeof RUN_CONTENTS)[number];

/** What each of them shows, one phrase for the person who chooses. */
export const RUN_CONTENT_WORDS: Record<RunContent, string> = {
  identification: 'Which side is which',
  reduced: 'Level of each channel, softly',
  noise: 'Noise floor',
  honesty: 'Whether the recorder changes levels by itself',
  polarity: 'Polarity and arrival',
  response: 'Filters and response',
  balance: 'Loudness against the other channels',
  full: 'Level and clipping of each channel at full power',
};

export interface RunOptions {
  contents: readonly RunContent[];
  /**
   * `each`: left and right play one after the other, so that a microphone in the cabin tells them apart. `together`:
   * both play at once, which is enough at the terminals of a channel, and shorter.
   */
  sides: 'each' | 'together';
  /** How long nothing plays, for the noise floor. */
  silenceSeconds: number;
  /** A low tone under the silence, for a converter that would fall asleep; `null` where none is needed. */
  keepAlive: { frequencyHz: number; levelDbfs: number } | null;
}

/** Mains and engine combs stand out of the floor from two seconds on; twice that for steadier figures. */
const USUAL_SILENCE_SECONDS = 4;
export const SHORTEST_SILENCE_SECONDS = 2;
export const LONGEST_SILENCE_SECONDS = 60;

/** Everything, for a microphone as well as for wires. Without a job nothing is known of the converter. */
export function usualRunOptions(job: Job | null): RunOptions {
  return {
    contents: RUN_CONTENTS,
    sides: 'each',
    silenceSeconds: USUAL_SILENCE_SECONDS,
    keepAlive: maySleep(job) ? { frequencyHz: TURN_ON_TRIES.keepAliveHz, levelDbfs: holdingDbfs(job) } : null,
  };
}

export function maySleep(job: Job | null): boolean {
  return job === null || (job.converter !== null && job.converter.turnOn !== 'remote-wire');
}

/** The lowest level that was seen to hold the converter awake; the usual first try where nobody looked. */
function holdingDbfs(job: Job | null): number {
  const seen = job?.records.findLast((one) => one.kind === 'turn-on');
  return seen?.result.holdingDbfs ?? TURN_ON_TRIES.firstKeepAliveDbfs;
}
