import { millisecondsToCentimetres, millisecondsToInches } from '../../dsp/time/delay-units.ts';
import type { ChannelArrival } from './arrival.ts';
import type { OneClock } from './one-clock.ts';

/** Arrivals after the first, and the delay that lets each arrive with the last, at the air's temperature. */
export function delaysOf({ arrivals }: OneClock, airCelsius: number): ChannelArrival[] {
  const seconds = arrivals.map((one) => one.seconds);
  const first = Math.min(...seconds);
  const last = Math.max(...seconds);
  return arrivals.map(({ channelId, seconds: at, uncertaintySeconds }) => {
    const delayMs = 1000 * (last - at);
    return {
      channelId,
      arrivalMs: 1000 * (at - first),
      uncertaintyMs: 1000 * uncertaintySeconds,
      delayMs,
      delayCm: millisecondsToCentimetres(delayMs, airCelsius),
      delayInches: millisecondsToInches(delayMs, airCelsius),
    };
  });
}
