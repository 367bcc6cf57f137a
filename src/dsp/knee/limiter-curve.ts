import { type LimitedSine, limitedHarmonic } from '../clipping/limited-sine.ts';
import { overdriveOfAngle } from '../clipping/overdrive.ts';

/** Past this overdrive the high orders swing, and distortion no longer tells the level. */
const MOST_ANGLE = Math.acos(10 ** (-1.5 / 20));
const ENTRIES = 96;
/** Least angle: 0.0005 dB over. */
const LEAST_ANGLE = Math.acos(10 ** (-0.0005 / 20));
/** Above order 60 nothing is read. */
const HIGHEST_ORDER = 60;

/** Which harmonics count as distortion. */
export interface CountedOrders {
  /** 2 for THD; 4 by microphone, where a driver's own are left out. */
  lowest: number;
  /** Highest order inside the band. */
  highest: number;
}

/**
 * The ideal symmetric limiter (references 3.2) as a curve: how far the fundamental stands above the largest
 * clean sine, at a given distortion.
 *
 * Made from the closed form at 96 overdrives up to 1.5 dB (7 % THD), read by linear interpolation against the
 * logarithm of distortion: within 0.0005 dB. A band that ends early makes a given figure stand later: with
 * the 5th as its last harmonic 1 % is 0.31 instead of 0.25 dB over.
 */
export class LimiterCurve {
  readonly #lnPercent = new Float64Array(ENTRIES);
  readonly #levelDb = new Float64Array(ENTRIES);

  constructor({ lowest, highest }: CountedOrders) {
    for (let at = 0; at < ENTRIES; at++) {
      const angle = LEAST_ANGLE * (MOST_ANGLE / LEAST_ANGLE) ** (at / (ENTRIES - 1));
      const wave: LimitedSine = { amplitude: 1, highAngle: angle, lowAngle: angle };
      const fundamental = limitedHarmonic(wave, 1);
      let sum = 0;
      for (let order = lowest; order <= Math.min(highest, HIGHEST_ORDER); order++) {
        sum += limitedHarmonic(wave, order) ** 2;
      }
      this.#lnPercent[at] = Math.log((100 * Math.sqrt(sum)) / fundamental);
      this.#levelDb[at] = 20 * Math.log10(fundamental) + overdriveOfAngle(angle);
    }
  }

  /** Most distortion that the curve reads, per cent. */
  get mostPercent(): number {
    return Math.exp(this.#lnPercent[ENTRIES - 1]!);
  }

  /** dB above the knee's level; held at the curve's ends, 0 for no distortion and for NaN. */
  levelAboveDb(percent: number): number {
    if (!(percent > 0)) return 0;
    const wanted = Math.log(percent);
    if (!(wanted > this.#lnPercent[0]!)) return 0;
    let [low, high] = [0, ENTRIES - 1];
    if (wanted >= this.#lnPercent[high]!) return this.#levelDb[high]!;
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (this.#lnPercent[middle]! <= wanted) low = middle;
      else high = middle;
    }
    const share = (wanted - this.#lnPercent[low]!) / (this.#lnPercent[high]! - this.#lnPercent[low]!);
    return this.#levelDb[low]! + share * (this.#levelDb[high]! - this.#levelDb[low]!);
  }

  /** Slope of `levelAboveDb` against the logarithm of distortion, dB. */
  slopeDb(percent: number): number {
    return (this.levelAboveDb(percent * 1.05) - this.levelAboveDb(percent / 1.05)) / (2 * Math.log(1.05));
  }
}

const curves = new Map<string, LimiterCurve>();

/** The curve for these orders, made once. @throws RangeError where the band holds none of them */
export function limiterCurve({ lowest, highest }: CountedOrders): LimiterCurve {
  const held = Math.min(highest, HIGHEST_ORDER);
  // A symmetric limiter makes odd orders only.
  if (!(held >= lowest + ((lowest + 1) % 2))) {
    throw new RangeError(`Orders ${lowest} to ${highest} hold no harmonic of a limiter.`);
  }
  const key = `${lowest} to ${held}`;
  const known = curves.get(key);
  if (known !== undefined) return known;
  const made = new LimiterCurve({ lowest, highest: held });
  curves.set(key, made);
  return made;
}
