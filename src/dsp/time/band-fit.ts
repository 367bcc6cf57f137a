import { factor, solveLower } from '../linear-systems/cholesky.ts';
import { type BandModel, SHIFTS_PER_SAMPLE } from './band-model.ts';
import { type ExpectedArrival, expectedArrival, type SoundPath } from './fit-covariance.ts';

/** The window reaches this many periods of the band's lower end behind the matched arrival, and this many ahead of it. */
const PERIODS_BEHIND = 2;
const PERIODS_AHEAD = 1;
/** The fit costs the cube of this. */
const MOST_SAMPLES = 128;

/** The direct sound may be weaker than what follows it within a cabin's reflections: the earliest match of this share counts. */
const EARLIEST_SHARE = 0.6;
const REFLECTIONS_SECONDS = 0.012;

/**
 * Noise that is tried, against the model's highest sample; the likeliest counts. In a cabin the least is what real
 * reflections, which are few and not Gaussian, need beside the prior: tried from 0.04 up, as many as 1.6 % of a narrow
 * subwoofer band were read wrong at 20 dB; so, none of the 7500 by which it was chosen nor of 5000 others. On a
 * wire it is what a filter may differ from the job's.
 */
const NOISE_SHARES: Readonly<Record<SoundPath, readonly number[]>> = {
  cabin: [0.3, 0.6, 1.2],
  wire: [0.02, 0.05, 0.1, 0.2, 0.4, 0.8],
};

/** Logarithms of the likelihood of each time of arrival, of equal spacing. */
export interface BandFit {
  firstSeconds: number;
  stepSeconds: number;
  upright: Float64Array;
  inverted: Float64Array;
}

/**
 * Likelihood of an expected band arriving at each time, either way up. The response within a window is taken as
 * `g m(t - tau)`, `m` the model, plus white Gaussian noise, plus, in a cabin, `g` times its reflections: a random
 * process of known mean power (`cabin-prior.ts`) that begins behind the arrival and passes the same band.
 * Generalised least squares (A. C. Aitken 1935), the gain `g > 0` fitted at each time. That nothing may arrive
 * ahead of the direct sound is what tells a narrow band from its inverse half a period later.
 */
export class BandFitter {
  readonly #model: BandModel;
  readonly #path: SoundPath;
  readonly #window: number;
  readonly #ahead: number;
  readonly #expected: ExpectedArrival;
  readonly #factor: Float64Array;
  readonly #solvedMeans: readonly Float64Array[];
  readonly #highest: number;

  constructor(model: BandModel, path: SoundPath) {
    this.#model = model;
    this.#path = path;
    const period = model.rateHz / model.lowerHz;
    const available = model.shifted[0]!.length;
    this.#window = Math.min(MOST_SAMPLES, Math.ceil((PERIODS_AHEAD + PERIODS_BEHIND) * period), available);
    this.#ahead = Math.floor((this.#window * PERIODS_AHEAD) / (PERIODS_AHEAD + PERIODS_BEHIND));
    this.#expected = expectedArrival(model.shifted, this.#window, model.rateHz, path);
    this.#factor = new Float64Array(this.#window ** 2);
    this.#solvedMeans = model.shifted.map(() => new Float64Array(this.#window));
    this.#highest = model.shifted[0]!.reduce((highest, value) => Math.max(highest, Math.abs(value)), 0);
  }

  /** Null where the response holds nothing of the band, or anything but numbers. */
  fit(response: ArrayLike<number>): BandFit | null {
    const slowed = this.#model.slowed(response);
    const start = this.#matchedPlace(slowed);
    if (start === null) return null;
    const seen = Float64Array.from(
      { length: this.#window },
      (_, at) => slowed[start - this.#ahead + at] ?? 0,
    );
    let best: BandFit | null = null;
    let likeliest = Number.NEGATIVE_INFINITY;
    for (const share of NOISE_SHARES[this.#path]) {
      const fit = this.#scan(seen, (start - this.#ahead) / this.#model.rateHz, (share * this.#highest) ** 2);
      const top = Math.max(highestOf(fit.upright), highestOf(fit.inverted));
      if (top > likeliest) {
        best = fit;
        likeliest = top;
      }
    }
    return best;
  }

  #matchedPlace(slowed: Float64Array): number | null {
    const matched = this.#model.matched(slowed);
    let top = 0;
    // The second half of the lags is ahead of the response.
    for (let at = 0; at < matched.length / 2; at += 1) {
      if (Math.abs(matched[at]!) > Math.abs(matched[top]!)) top = at;
    }
    const highest = Math.abs(matched[top]!);
    if (!(highest > 0 && Number.isFinite(highest))) return null;
    const from = Math.max(0, top - Math.ceil(REFLECTIONS_SECONDS * this.#model.rateHz));
    for (let at = from; at < top; at += 1) if (Math.abs(matched[at]!) > EARLIEST_SHARE * highest) return at;
    return top;
  }

  #scan(seen: Float64Array, firstSeconds: number, noisePower: number): BandFit {
    const size = this.#window;
    this.#factor.set(this.#expected.covariance);
    for (let at = 0; at < size; at += 1) this.#factor[at * size + at]! += noisePower;
    if (!factor(this.#factor, size))
      throw new RangeError('The expected covariance is not positive definite.');
    this.#expected.means.forEach((mean, shift) => {
      solveLower(this.#factor, size, mean, 0, size, this.#solvedMeans[shift]!);
    });
    const samples = Math.floor(size * 0.75);
    const stepSeconds = 1 / (SHIFTS_PER_SAMPLE * this.#model.rateHz);
    const upright = new Float64Array(samples * SHIFTS_PER_SAMPLE);
    const inverted = new Float64Array(samples * SHIFTS_PER_SAMPLE);
    const solved = new Float64Array(size);
    let energyBefore = 0;
    let logFactor = 0;
    for (let at = 0; at < size; at += 1) logFactor += Math.log(this.#factor[at * size + at]!);
    for (let sample = 0; sample < samples; sample += 1) {
      // Ahead of the arrival there is noise alone, so the leading block of the factor is all that is needed.
      const count = size - sample;
      solveLower(this.#factor, size, seen, sample, count, solved);
      let misfit = energyBefore / noisePower;
      for (let at = 0; at < count; at += 1) misfit += solved[at]! ** 2;
      const logDeterminant = logFactor + (sample * Math.log(noisePower)) / 2;
      this.#solvedMeans.forEach((mean, shift) => {
        let match = 0;
        let energy = 0;
        for (let at = 0; at < count; at += 1) {
          match += solved[at]! * mean[at]!;
          energy += mean[at]! ** 2;
        }
        const place = sample * SHIFTS_PER_SAMPLE + shift;
        upright[place] = profiled(misfit, match, energy, size) - logDeterminant;
        inverted[place] = profiled(misfit, -match, energy, size) - logDeterminant;
      });
      energyBefore += seen[sample]! ** 2;
      logFactor -= Math.log(this.#factor[(count - 1) * size + count - 1]!);
    }
    return { firstSeconds, stepSeconds, upright, inverted };
  }
}

function highestOf(values: Float64Array): number {
  let highest = Number.NEGATIVE_INFINITY;
  for (const value of values) if (value > highest) highest = value;
  return highest;
}

/**
 * Highest over `u = 1 / g > 0` of `n ln u - (misfit u^2 - 2 match u + energy) / 2`: log-likelihood with the gain
 * profiled out, but for the determinant.
 */
function profiled(misfit: number, match: number, energy: number, samples: number): number {
  const u = (match + Math.sqrt(match * match + 4 * misfit * samples)) / (2 * misfit);
  return samples * Math.log(u) - (misfit * u * u - 2 * match * u + energy) / 2;
}
