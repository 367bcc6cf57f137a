/** The parts that belong to no channel by itself: waking, telling sides apart, noise, an honest input. */
import { REDUCED_BY_DB } from '../../procedure/gain/tone-level.ts';
import type { Job } from '../document.ts';
import type { TonedChannel } from '../tone-tracks/channels.ts';
import { honestyTracks, sideTracks } from '../tone-tracks/input-check.ts';
import { maySleep, type RunOptions } from './options.ts';
import type { Unplaced } from './unplaced.ts';

const WAKING_HZ = 997;
const WAKING_DBFS = -20;
/** A converter that senses, and then the amplifiers behind it, take up to some seconds to open (common practice). */
const WAKING_SECONDS = 4;
/** Players fade in, and wireless ones lose up to a second of a start (common practice). */
const STARTING_SECONDS = 1.5;

/** Plays ahead of the start marker, so that everything is awake when it counts. */
export function wakingPart(job: Job | null): Unplaced {
  return {
    id: 'wake',
    kind: 'sine',
    channels: 'both',
    serves: [],
    purpose: 'Wakes what sleeps in silence, and is long enough that a player may lose its beginning.',
    caution: null,
    frequencyHz: WAKING_HZ,
    levelDbfs: WAKING_DBFS,
    durationSeconds: maySleep(job) ? WAKING_SECONDS : STARTING_SECONDS,
  };
}

/** One group of beeps on each side. */
export function identificationParts(): Unplaced[] {
  return sideTracks().map((track) => {
    if (track.kind !== 'identification') throw new Error(`${track.id} is no identification.`);
    const { startSeconds: _, ...part } = track;
    return { ...part, durationSeconds: groupSeconds(part.beeps) };
  });
}

/** As the tone itself has it (`dsp/tones/identification.ts`): a test holds the two together. */
function groupSeconds(beeps: number): number {
  return (beeps - 1) * 0.36 + 1.2;
}

export function noisePart({ silenceSeconds, keepAlive }: RunOptions): Unplaced {
  return {
    id: 'silence',
    kind: 'silence',
    channels: 'both',
    serves: [],
    purpose: 'Noise floor, hum and whine, while nothing plays.',
    caution: null,
    ...(keepAlive === null ? {} : { keepAlive: { ...keepAlive } }),
    durationSeconds: silenceSeconds,
  };
}

const STEP_DB = 10;
const STEPS = 3;
/** Automatic gain, gates and suppressors show themselves within this: see `tests/unit/run-track-honesty.test.ts`. */
const STEP_SECONDS = 2;
const PAUSE_SECONDS = 0.5;

/** The stepped tone, its loudest step a tenth of the power of the loudest channel that is set with it. */
export function honestyPart(channels: readonly TonedChannel[]): Unplaced {
  const steps = honestyTracks().find((track) => track.kind === 'steps');
  if (steps?.kind !== 'steps') throw new Error('The tone set has no steps.');
  const { startSeconds: _, ...part } = steps;
  const leastOverlapDb = Math.min(...channels.map(({ overlapDb }) => overlapDb));
  const loudestDbfs = -leastOverlapDb - REDUCED_BY_DB / 2;
  return {
    ...part,
    purpose: 'Shows whether the recorder is honest: each step must read 10.0 dB, and hold still.',
    levelsDbfs: Array.from({ length: STEPS }, (_, step) => loudestDbfs - (STEPS - 1 - step) * STEP_DB),
    stepSeconds: STEP_SECONDS,
    pauseSeconds: PAUSE_SECONDS,
    durationSeconds: STEPS * STEP_SECONDS + (STEPS - 1) * PAUSE_SECONDS,
  };
}
