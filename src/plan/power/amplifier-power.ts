import type { ChannelRating, PowerRating } from '../chain.ts';
import { statedOhms } from '../load/stated-ohms.ts';
import { PlanRefused, positive } from '../refused.ts';
import { voltsToWatts, wattsToVolts } from '../units/power.ts';

/**
 * What an amplifier's data sheet says of its clean power into a load.
 *
 * - `stated`: the load is one of the stated ones.
 * - `interpolated`: between two stated loads.
 * - `at-least`: above the highest stated load; a lower bound.
 * - `none`: nothing honest can be said; `watts` is `null`.
 */
export interface AmplifierPower {
  basis: 'stated' | 'interpolated' | 'at-least' | 'none';
  watts: number | null;
  /** Bounds that hold whatever the amplifier does between its stated loads; `null` unless interpolated. */
  boundsWatts: { low: number; high: number } | null;
}

const NONE: AmplifierPower = { basis: 'none', watts: null, boundsWatts: null };

/** Nominal loads that differ by less than this are the same load. */
const SAME_LOAD = 1e-6;

/** Widest span of the bounds (as a power ratio) over which an interpolated figure is still worth giving: 3.01 dB. */
const WIDEST_BOUNDS = 2;

/**
 * Clean power into `loadOhms`, from stated ratings only.
 *
 * Between two stated loads the amplifier is taken as a voltage source E behind
 * a resistance r that stands for its supply, wiring and output devices:
 * V = E R / (R + r), hence 1/V is linear in the conductance 1/R, and the two
 * ratings fix both. It is not a guess out of thin air: as the load rises the
 * voltage cannot fall and the current cannot rise, which bounds the answer
 * from both sides (`boundsWatts`), and this line lies inside. Ratings that
 * break those two rules were not taken under one set of conditions, and bounds
 * more than a factor of two apart say too little: both give `none`.
 *
 * Above the highest stated load the voltage is at least the one there, which
 * is given as a lower bound. Below the lowest stated load the supply or the
 * protection may give in: nothing is said.
 *
 * @throws PlanRefused for a load or a rating that is not above 0, or no ratings.
 */
export function amplifierPower(rating: ChannelRating, loadOhms: number): AmplifierPower {
  positive(loadOhms, 'The load, in ohms,');
  const points = sortedRatings(rating);
  const same = points.find((point) => Math.abs(point.loadOhms / loadOhms - 1) < SAME_LOAD);
  if (same) return { basis: 'stated', watts: same.watts, boundsWatts: null };
  const above = points.findIndex((point) => point.loadOhms > loadOhms);
  const higher = points[above];
  const lower = above < 0 ? points.at(-1) : points[above - 1];
  if (lower === undefined) return NONE;
  if (higher === undefined) {
    const leastVolts = wattsToVolts(lower.watts, lower.loadOhms);
    return { basis: 'at-least', watts: voltsToWatts(leastVolts, loadOhms), boundsWatts: null };
  }
  return between(lower, higher, loadOhms);
}

/** Ratings from the lowest load upwards; of two for one load, the smaller power. */
function sortedRatings(rating: ChannelRating): PowerRating[] {
  if (rating.ratings.length === 0) {
    throw new PlanRefused(
      'The amplifier has no power rating; give at least one, in watts at a load in ohms.',
    );
  }
  return rating.ratings
    .map(({ loadOhms, watts }) => ({
      loadOhms: statedOhms(positive(loadOhms, 'The load of a power rating, in ohms,')),
      watts: positive(watts, 'A power rating, in watts,'),
    }))
    .sort((a, b) => a.loadOhms - b.loadOhms || a.watts - b.watts);
}

function between(lower: PowerRating, higher: PowerRating, loadOhms: number): AmplifierPower {
  const lowerVolts = wattsToVolts(lower.watts, lower.loadOhms);
  const higherVolts = wattsToVolts(higher.watts, higher.loadOhms);
  const lowerAmperes = lowerVolts / lower.loadOhms;
  const higherAmperes = higherVolts / higher.loadOhms;
  // A thousandth of leeway: data sheets round to whole watts.
  const voltageFalls = higherVolts < lowerVolts * 0.999;
  const currentRises = higherAmperes > lowerAmperes * 1.001;
  if (voltageFalls || currentRises) return NONE;

  const low = voltsToWatts(Math.max(lowerVolts, higherAmperes * loadOhms), loadOhms);
  const high = voltsToWatts(Math.min(higherVolts, lowerAmperes * loadOhms), loadOhms);
  if (high > low * WIDEST_BOUNDS * (1 + SAME_LOAD)) return NONE;

  const lowerSiemens = 1 / lower.loadOhms;
  const higherSiemens = 1 / higher.loadOhms;
  const alongTheLine = (1 / loadOhms - higherSiemens) / (lowerSiemens - higherSiemens);
  const perVolt = (1 - alongTheLine) / higherVolts + alongTheLine / lowerVolts;
  const watts = voltsToWatts(1 / perVolt, loadOhms);
  return { basis: 'interpolated', watts, boundsWatts: { low, high: Math.max(low, high) } };
}
