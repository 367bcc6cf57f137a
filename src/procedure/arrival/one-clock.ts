import type { ArrivalTake } from './arrival.ts';

/** A take's arrival on the common clock. */
interface Observation {
  channelId: string;
  /** When on the stream, seconds. */
  atSeconds: number;
  /** Arrival modulo the interval, against the first take's. */
  lagSeconds: number;
  uncertainty: number;
  skew: number;
  skewUncertainty: number;
}

export interface OneClock {
  skewPpm: number;
  skewUncertaintyPpm: number;
  /** Against the first take's channel, the skew taken out. */
  arrivals: { channelId: string; seconds: number; uncertaintySeconds: number }[];
}

/** Interpolation leaves this much even without noise; it also keeps a weight finite. */
const LEAST_UNCERTAINTY_SECONDS = 1e-7;

/**
 * Skew and arrivals of all takes together, by weighted least squares: each take tells its lag and, from its own
 * pulses, a skew; channels that were taken more than once tell the skew far better by the time between. Unknown are one
 * skew and one arrival for each channel; the latter drop out where each channel's own mean is subtracted.
 *
 * @param takes at least one
 */
export function onOneClock(takes: readonly ArrivalTake[], everySeconds: number): OneClock {
  const seen = takes.map((take) => observation(take, takes[0] as ArrivalTake, everySeconds));
  const channelIds = [...new Set(seen.map((one) => one.channelId))];
  const means = new Map(channelIds.map((id) => [id, meanOf(seen.filter((one) => one.channelId === id))]));
  let above = 0;
  let below = 0;
  for (const one of seen) {
    const mean = means.get(one.channelId) as Mean;
    const weight = 1 / one.uncertainty ** 2;
    const time = one.atSeconds - mean.atSeconds;
    above += weight * time * (one.lagSeconds - mean.lagSeconds) + one.skew / one.skewUncertainty ** 2;
    below += weight * time ** 2 + 1 / one.skewUncertainty ** 2;
  }
  const skew = above / below;
  const skewUncertainty = 1 / Math.sqrt(below);
  const middle = [...means.values()].reduce((sum, mean) => sum + mean.atSeconds, 0) / means.size;
  const reference = means.get(channelIds[0] as string) as Mean;
  const arrivals = channelIds.map((channelId) => {
    const mean = means.get(channelId) as Mean;
    const own = Math.max(...takes.filter((one) => one.channelId === channelId).map(modelUncertainty));
    return {
      channelId,
      seconds: mean.lagSeconds - reference.lagSeconds - skew * (mean.atSeconds - reference.atSeconds),
      uncertaintySeconds: Math.hypot(own, mean.uncertainty, skewUncertainty * (mean.atSeconds - middle)),
    };
  });
  return { skewPpm: skew * 1e6, skewUncertaintyPpm: skewUncertainty * 1e6, arrivals };
}

/** How far a later take of a channel lies from where an earlier one and the takes' own skews put it, and how far it may. */
export function closingError(
  earlier: ArrivalTake,
  later: ArrivalTake,
  takes: readonly ArrivalTake[],
  everySeconds: number,
): { seconds: number; uncertaintySeconds: number } {
  const first = observation(earlier, earlier, everySeconds);
  const last = observation(later, earlier, everySeconds);
  let above = 0;
  let below = 0;
  for (const take of takes) {
    const { skew, skewUncertainty } = observation(take, earlier, everySeconds);
    above += skew / skewUncertainty ** 2;
    below += 1 / skewUncertainty ** 2;
  }
  const seconds = last.lagSeconds - (above / below) * last.atSeconds;
  return {
    seconds,
    uncertaintySeconds: Math.hypot(first.uncertainty, last.uncertainty, last.atSeconds / Math.sqrt(below)),
  };
}

function observation(take: ArrivalTake, first: ArrivalTake, everySeconds: number): Observation {
  const interval = everySeconds * take.sampleRateHz;
  const frames = take.pulses.arrivalFrame - first.pulses.arrivalFrame;
  const intervals = Math.round(frames / interval);
  return {
    channelId: take.channelId,
    atSeconds: intervals * everySeconds,
    lagSeconds: (frames - intervals * interval) / take.sampleRateHz,
    uncertainty: Math.max(take.pulses.timingUncertaintySeconds, LEAST_UNCERTAINTY_SECONDS),
    skew: take.pulses.skewPpm * 1e-6,
    skewUncertainty: Math.max(take.pulses.skewUncertaintyPpm * 1e-6, LEAST_UNCERTAINTY_SECONDS),
  };
}

interface Mean {
  atSeconds: number;
  lagSeconds: number;
  uncertainty: number;
}

function meanOf(seen: readonly Observation[]): Mean {
  let weight = 0;
  let at = 0;
  let lag = 0;
  for (const one of seen) {
    const own = 1 / one.uncertainty ** 2;
    weight += own;
    at += own * one.atSeconds;
    lag += own * one.lagSeconds;
  }
  return { atSeconds: at / weight, lagSeconds: lag / weight, uncertainty: 1 / Math.sqrt(weight) };
}

function modelUncertainty(take: ArrivalTake): number {
  return take.pulses.arrivalUncertaintySeconds;
}
