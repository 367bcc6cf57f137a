/**
 * What is expected behind the direct sound in a vehicle's cabin: nothing before the first surface, then a decay of
 * 60 dB in 0.1 s. Single reflections are of either sign and hold 0.8 of the direct sound's energy. Hard surfaces
 * turn no sound pressure over, so in the mean their sum is upright: 1 times the direct sound, give or take 0.5,
 * which only bands below the reflections' rate, those of a subwoofer, can notice.
 */
const FIRST_REFLECTION_SECONDS = 0.0007;
const DECAY_SECONDS = 0.1;

/** Energy of the reflections, against the direct sound's. */
export const REFLECTED_ENERGY = 0.8;
/** Mean of the sum of the reflections, and its standard deviation, against the direct sound. */
export const REFLECTED_SUM = 1;
export const REFLECTED_SUM_DEVIATION = 0.5;

/** Power is `exp(-rate * lag)`. */
const DECAY_RATE = (6 * Math.LN10) / DECAY_SECONDS;

/** Share of the reflections that arrives within each sample behind the direct sound, whose lag is 0. */
export function reflectedShares(samples: number, rateHz: number): Float64Array {
  const left = (seconds: number): number =>
    Math.exp(-DECAY_RATE * Math.max(0, seconds - FIRST_REFLECTION_SECONDS));
  return Float64Array.from({ length: samples }, (_, lag) => left(lag / rateHz) - left((lag + 1) / rateHz));
}
