import type { Job } from './document.ts';
import { MANIFEST_FORMAT, MANIFEST_VERSION, type Manifest, manifest } from './manifest.ts';
import { type RunOptions, usualRunOptions } from './run-track/options.ts';
import { LOWEST_RUN_RATE_HZ, runTrack } from './run-track/run-track.ts';
import { arrivalTracks } from './tone-tracks/arrival.ts';
import { balanceTracks, polarityTracks } from './tone-tracks/balance.ts';
import { GENERAL_CHANNELS, type TonedChannel, tonedChannels } from './tone-tracks/channels.ts';
import { honestyTracks, sideTracks } from './tone-tracks/input-check.ts';
import { burstTracks, levelTracks, reducedTracks } from './tone-tracks/level.ts';
import { sweepTracks } from './tone-tracks/response.ts';
import { sourceTracks } from './tone-tracks/source.ts';

export interface ToneSetForm {
  sampleRateHz: number;
  bits: 16 | 24;
  /** What the run track holds; the usual where nothing is said. */
  run?: RunOptions;
}

/** Above this share of the rate an ordinary player's filter is already falling; the renderer refuses it too. */
const HIGHEST_SHARE_OF_RATE = 0.46;

/**
 * The tone set of a job, or the general one where there is none: what to play, in the order of the work.
 * Which side is which, then for each channel a level tone and (of a job) a reduced one and the bursts that confirm it, then
 * what proves an input honest, then polarity, balance, arrival and response, then what the Source
 * station asks for, and last the run track, which holds a bit of all and is left out below 16 kHz, where its markers do
 * not fit.
 *
 * @throws RangeError where the sample rate cannot carry a tone of the set, or is not one that a WAV file has.
 */
export function toneSet(job: Job | null, form: ToneSetForm): Manifest {
  const { sampleRateHz, bits } = form;
  if (!Number.isInteger(sampleRateHz) || sampleRateHz < 8_000 || sampleRateHz > 192_000) {
    throw new RangeError(
      `A tone set at ${sampleRateHz} Hz cannot be made; the sample rate must be a whole number from 8000 to 192000 Hz.`,
    );
  }
  const channels = job === null ? GENERAL_CHANNELS : tonedChannels(job);
  checkTones(channels, sampleRateHz);
  const unfiled = [
    ...sideTracks(),
    ...levelTracks(channels),
    // Without a job no gain is set by them, and they are long.
    ...(job === null ? [] : [...reducedTracks(channels), ...burstTracks(channels)]),
    ...honestyTracks(),
    ...polarityTracks(channels, sampleRateHz),
    ...balanceTracks(channels, sampleRateHz),
    ...arrivalTracks(channels, sampleRateHz),
    ...sweepTracks(channels, sampleRateHz),
    ...sourceTracks(sampleRateHz),
    ...(sampleRateHz < LOWEST_RUN_RATE_HZ
      ? []
      : [runTrack(job, form.run ?? usualRunOptions(job), sampleRateHz)]),
  ];
  return manifest.parse({
    format: MANIFEST_FORMAT,
    version: MANIFEST_VERSION,
    sampleRateHz,
    bits,
    jobId: job?.id ?? null,
    tracks: unfiled.map((track, index) => ({ ...track, file: fileName(track.id, index + 1) })),
  });
}

function checkTones(channels: readonly TonedChannel[], sampleRateHz: number): void {
  const highestHz = HIGHEST_SHARE_OF_RATE * sampleRateHz;
  const tooHigh = channels.find((channel) => channel.frequencyHz > highestHz);
  if (tooHigh === undefined) return;
  throw new RangeError(
    `The ${tooHigh.frequencyHz} Hz tone of ${tooHigh.id} does not fit a sample rate of ${sampleRateHz} Hz, which carries up to ${Math.floor(highestHz)} Hz.`,
  );
}

function fileName(id: string, number: number): string {
  return `${String(number).padStart(2, '0')}-${id}.wav`;
}
