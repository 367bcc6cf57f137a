/** What the Source station measures, made from the job. */
import type { LoadTask } from '../procedure/load/load.ts';
import type { SidesTask } from '../procedure/sides/sides.ts';
import type { SourceTask } from '../procedure/source/source.ts';
import type { TurnOnTask } from '../procedure/turn-on/turn-on.ts';
import type { Job } from './document.ts';

/** How well a volt is known on the input. */
export interface Scale {
  voltsPerFs: number;
  uncertaintyDb: number;
}

type Point = 'radio' | 'converter';
type Side = 'left' | 'right';

/**
 * 997 Hz as in AES17; 43 Hz lies between 40 and 60 Hz, off the mains; 7993 Hz is a prime like the others, so
 * that none divides a sample rate.
 */
const MIDDLE_HZ = 997;
const BASS_HZ = 43;
const TREBLE_HZ = 7993;

/**
 * Full scale in the middle and the bass: nothing that the radio ever plays asks more of it. Treble is spared.
 * Load and sides use the same tracks, well below the ceiling by the volume.
 */
export const SOURCE_TONES: SourceTask['tones'] = {
  middle: { frequencyHz: MIDDLE_HZ, levelDbfs: 0 },
  bass: { frequencyHz: BASS_HZ, levelDbfs: 0 },
  treble: { frequencyHz: TREBLE_HZ, levelDbfs: -20 },
};

/** Of which the tone set has a track each. */
export const TURN_ON_TRIES: Omit<TurnOnTask, 'step'> = {
  toneHz: MIDDLE_HZ,
  // Under what is heard, over what inputs cut off; prime, so that it divides no sample rate.
  keepAliveHz: 31,
  toneDbfs: -20,
  silencesSeconds: [10, 30],
  keepAliveDbfs: [-70, -60, -50],
  firstKeepAliveDbfs: -60,
};

/** @throws RangeError with one sentence where the job does not say how many volume steps there are */
export function sourceTask(job: Job, point: Point, side: Side, scale: Scale | null): SourceTask {
  return {
    point,
    side,
    volumeSteps: volumeStepsOf(job),
    tones: SOURCE_TONES,
    voltsPerFs: scale?.voltsPerFs ?? null,
    voltsUncertaintyDb: scale?.uncertaintyDb ?? null,
  };
}

/** @throws RangeError as `sourceTask` does */
export function loadTask(job: Job, side: Side, scale: Scale | null): LoadTask {
  return { side, step: halfWay(job), tones: SOURCE_TONES, voltsPerFs: scale?.voltsPerFs ?? null };
}

export function sidesTask(point: Point, input: SidesTask['input']): SidesTask {
  return { point, input, tone: SOURCE_TONES.middle };
}

/** @throws RangeError as `sourceTask` does */
export function turnOnTask(job: Job): TurnOnTask {
  return { step: halfWay(job), ...TURN_ON_TRIES };
}

/** A usual listening level; what a converter senses there is less than at the top. */
function halfWay(job: Job): number {
  return Math.max(1, Math.round(volumeStepsOf(job) / 2));
}

function volumeStepsOf({ source }: Job): number {
  if (source.volumeSteps === null || source.volumeSteps < 2) {
    throw new RangeError(
      'How many volume steps the radio has is not noted yet; turn it up once, count, and type the highest.',
    );
  }
  return source.volumeSteps;
}
