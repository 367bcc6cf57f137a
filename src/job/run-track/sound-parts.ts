/** The parts that show filters, polarity and loudness. */
import { arrivalTrain } from '../../procedure/arrival/train.ts';
import { onGrid, type RunTiming } from '../../procedure/run-track/timing.ts';
import { balanceTracks } from '../tone-tracks/balance.ts';
import { fedAlike, type TonedChannel } from '../tone-tracks/channels.ts';
import { sweepTracks } from '../tone-tracks/response.ts';
import type { Unplaced } from './unplaced.ts';

const SIDES = ['left', 'right', 'both'] as const;

/** Ahead of a pulse and behind it, what its reader looks at: a cabin's decay (`dsp/time/pulse-train.ts`). */
const AROUND_PULSE_SECONDS = 0.12;
/** Length of a pulse in periods of its centre: four swings of 0.228 periods (`dsp/tones/polarity.ts`). */
const PULSE_PERIODS = 0.913;
/** A whole number of frames at every usual rate, also at 11.025 kHz. */
const PULSE_GRID_SECONDS = 0.2;
/** Three are the least that a train is read from; the outer two may fall to the cut. */
const PULSES = 5;

/** A short train of pulses for each way that channels are fed, with a pulse for each band. */
export function polarityParts(channels: readonly TonedChannel[], sampleRateHz: number): Unplaced[] {
  return SIDES.flatMap((side) => {
    const fed = channels.filter(({ fedBy }) => fedBy === side);
    if (fed.length === 0) return [];
    const { spec, pulses } = arrivalTrain(fed, sampleRateHz);
    const lowestHz = Math.min(...pulses.map(({ frequencyHz }) => frequencyHz));
    const slots = Math.ceil((AROUND_PULSE_SECONDS + PULSE_PERIODS / lowestHz) / PULSE_GRID_SECONDS);
    const everySeconds = (1 + (spec.furtherHz?.length ?? 0)) * slots * PULSE_GRID_SECONDS;
    return {
      id: `${side}-polarity`,
      channels: side,
      serves: fed.flatMap(({ serves }) => serves),
      purpose: `Polarity and arrival of whatever ${side === 'both' ? 'both sides feed' : `the ${side} side feeds`}.`,
      caution: null,
      ...spec,
      everySeconds,
      durationSeconds: PULSES * everySeconds,
    };
  });
}

/** One sweep for each way that channels are fed, and a gentle one for each kind of small driver. */
export function responseParts(channels: readonly TonedChannel[], sampleRateHz: number): Unplaced[] {
  const merged = fedAlike(channels).map(asOne);
  return sweepTracks(merged, sampleRateHz)
    .filter((track) => merged.some(({ fedBy }) => fedBy === track.channels))
    .map(({ startSeconds: _, ...part }) => {
      if (part.kind !== 'sweep') throw new Error(`${part.id} is no sweep.`);
      return part;
    });
}

function asOne(group: readonly TonedChannel[]): TonedChannel {
  const [first] = group as [TonedChannel];
  return {
    ...first,
    name: group.map(({ name }) => name).join(' and '),
    serves: group.flatMap(({ serves }) => serves),
  };
}

/** The same noise for left and right: what it happens to hold at a cut is then the same on both. */
const SEED = 1;
/** Wanted standard uncertainty of a loudness, dB: half of what a listener notices between the sides. */
const BALANCE_UNCERTAINTY_DB = 0.25;
/** The reader averages over segments of 0.68 s or longer; two of them, and no more than patience allows. */
const BALANCE_SECONDS = { least: 1.4, most: 5 };

/** Noise in the middle of what each channel plays. */
export function balanceParts(
  channels: readonly TonedChannel[],
  sampleRateHz: number,
  { marginSeconds }: RunTiming,
): Unplaced[] {
  return balanceTracks(channels, sampleRateHz).map(({ startSeconds: _, ...track }) => {
    if (track.kind !== 'pink') throw new Error(`${track.id} is no noise.`);
    const read = balanceSeconds(track.lowHz, track.highHz);
    return { ...track, seed: SEED, durationSeconds: onGrid(marginSeconds.start + read + marginSeconds.end) };
  });
}

/**
 * As long as makes `4.34 dB / sqrt(B T)` small enough (J. Bendat and A. Piersol, Random Data, ch. 8), `B` the
 * bandwidth that noise of a power 1/f fills: `ln(h/l)^2 / (1/l - 1/h)`.
 */
function balanceSeconds(lowHz: number, highHz: number): number {
  const bandwidthHz = Math.log(highHz / lowHz) ** 2 / (1 / lowHz - 1 / highHz);
  const wanted = (10 / Math.LN10 / BALANCE_UNCERTAINTY_DB) ** 2 / bandwidthHz;
  return Math.min(BALANCE_SECONDS.most, Math.max(BALANCE_SECONDS.least, wanted));
}
