import {
  MARKER_SECONDS,
  type RingingFilter,
  type RunTiming,
  runTiming,
} from '../../procedure/run-track/timing.ts';
import type { Job } from '../document.ts';
import type { RunTrack } from '../manifest.ts';
import { GENERAL_CHANNELS, type TonedChannel, tonedChannels } from '../tone-tracks/channels.ts';
import { honestyPart, identificationParts, noisePart, wakingPart } from './check-parts.ts';
import {
  LONGEST_SILENCE_SECONDS,
  type RunContent,
  type RunOptions,
  SHORTEST_SILENCE_SECONDS,
} from './options.ts';
import { type PlacedRun, placeParts, type RunOrder } from './place-parts.ts';
import { balanceParts, polarityParts, responseParts } from './sound-parts.ts';
import { fullParts, reducedParts } from './tone-parts.ts';

/** The markers reach 5.6 kHz; slower rates have no run track. */
export const LOWEST_RUN_RATE_HZ = 16_000;

/** As in the tests of the markers: found behind a subwoofer's filter, and yet a sixteenth of full power. */
const MARKER_DBFS = -12;
/** Where the job asks for no slope. Common practice. */
const USUAL_ORDER = 4;

/** A first guess; the guards depend on the length by 200 parts in a million, so a second round settles it. */
const ROUGH_SECONDS = 60;
const ROUNDS = 2;

const CAUTION =
  'Play it at the volume that the gains were set at, once, never on repeat; its full-power tones are short, and still loud: nobody’s ears beside a driver.';

/**
 * The one long track that checks a vehicle: what is chosen, in order, with room between, between two markers by which
 * any recording of it is found and put on the player's clock. Nothing is rendered; its length is the sum stated.
 *
 * @param job `null` for the general one
 * @throws RangeError where the rate cannot hold the markers, nothing is chosen, or the silence is out of range
 */
export function runTrack(job: Job | null, options: RunOptions, sampleRateHz: number): Omit<RunTrack, 'file'> {
  check(options, sampleRateHz);
  const channels = job === null ? GENERAL_CHANNELS : tonedChannels(job);
  const fed =
    options.sides === 'each' ? channels : channels.map((channel) => ({ ...channel, fedBy: 'both' as const }));
  const filters = ringingFilters(job);
  let timing = runTiming(filters, ROUGH_SECONDS);
  let placed = placeParts(orderOf(job, fed, options, sampleRateHz, timing), timing.guardSeconds);
  for (let round = 1; round < ROUNDS; round += 1) {
    timing = runTiming(filters, placed.totalSeconds);
    placed = placeParts(orderOf(job, fed, options, sampleRateHz, timing), timing.guardSeconds);
  }
  return asTrack(placed, timing, channels);
}

function orderOf(
  job: Job | null,
  channels: readonly TonedChannel[],
  options: RunOptions,
  sampleRateHz: number,
  timing: RunTiming,
): RunOrder {
  const chosen = <T>(content: RunContent, parts: () => T[]): T[] =>
    options.contents.includes(content) ? parts() : [];
  return {
    waking: wakingPart(job),
    first: [
      ...chosen('identification', identificationParts),
      ...chosen('reduced', () => reducedParts(channels, timing)),
      ...chosen('noise', () => [noisePart(options)]),
      ...chosen('honesty', () => [honestyPart(channels)]),
    ],
    rest: [
      ...chosen('polarity', () => polarityParts(channels, sampleRateHz)),
      ...chosen('response', () => responseParts(channels, sampleRateHz)),
      ...chosen('balance', () => balanceParts(channels, sampleRateHz, timing)),
    ],
    loud: chosen('full', () => fullParts(channels, timing)),
  };
}

function asTrack(
  { parts, startMarkerSeconds, endMarkerSeconds, totalSeconds }: PlacedRun,
  { guardSeconds, marginSeconds }: RunTiming,
  channels: readonly TonedChannel[],
): Omit<RunTrack, 'file'> {
  return {
    id: 'run',
    kind: 'run',
    channels: 'both',
    serves: channels.flatMap(({ serves }) => serves),
    purpose: 'Checks the whole vehicle from one recording: play it once, record it, and have it read.',
    caution: CAUTION,
    startSeconds: 0,
    durationSeconds: totalSeconds,
    markers: {
      startSeconds: startMarkerSeconds,
      endSeconds: endMarkerSeconds,
      durationSeconds: MARKER_SECONDS,
      levelDbfs: MARKER_DBFS,
    },
    guardSeconds,
    marginSeconds,
    parts,
  };
}

function ringingFilters(job: Job | null): RingingFilter[] {
  const high =
    job === null
      ? GENERAL_CHANNELS.map(({ band }) => ({ cutoffHz: band.highPassHz, order: USUAL_ORDER }))
      : job.channels.map(({ band, slopes }) => ({
          cutoffHz: band.highPassHz,
          order: slopes.highPass?.order ?? USUAL_ORDER,
        }));
  return high.flatMap(({ cutoffHz, order }) => (cutoffHz === null ? [] : [{ cutoffHz, order }]));
}

function check({ contents, silenceSeconds }: RunOptions, sampleRateHz: number): void {
  if (sampleRateHz < LOWEST_RUN_RATE_HZ) {
    throw new RangeError(
      `A run track at ${sampleRateHz} Hz cannot hold its markers; the sample rate must be at least ${LOWEST_RUN_RATE_HZ} Hz.`,
    );
  }
  if (contents.length === 0) throw new RangeError('Nothing is chosen for the run track; choose one part.');
  if (!(silenceSeconds >= SHORTEST_SILENCE_SECONDS && silenceSeconds <= LONGEST_SILENCE_SECONDS)) {
    throw new RangeError(
      `A silence of ${silenceSeconds} s cannot be used: it must last from ${SHORTEST_SILENCE_SECONDS} to ${LONGEST_SILENCE_SECONDS} s.`,
    );
  }
}
