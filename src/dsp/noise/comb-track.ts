import type { ShortTimePower } from './short-time-power.ts';
import { HIGHEST_RIPPLE_HZ, LOWEST_RIPPLE_HZ } from './steady-comb.ts';

/** A fundamental followed through time. */
export interface CombTrack {
  /** In half bins, one for each frame. */
  halfBins: Int32Array;
  /** Mean over the frames of what the harmonics stand over the floor: 1.2 on any fixed place in noise. */
  score: number;
}

/**
 * A harmonic counts by `1/n`: half the fundamental would hit every other harmonic with half the weight,
 * twice the fundamental misses the first.
 */
const HARMONICS = 4;

/** One harmonic counts for no more than this: ln(1 + 54). A single strong line is not everything. */
const MOST_PER_HARMONIC = 4;

/** An engine revved up hard doubles its speed in a second. */
const OCTAVES_PER_SECOND = 1;

/** Cost of a move by one half bin: noise jumps about, an engine glides. */
const COST_PER_STEP = 0.12;

/**
 * The best path of a fundamental through short spectra (A. J. Viterbi, IEEE Trans. IT 13(2) 1967): harmonic
 * sum of the logarithm of power over floor, less a cost for moving.
 *
 * @param floor the usual power of each bin in noise
 * @returns `null` for fewer than three frames
 */
export function bestCombTrack(spectra: ShortTimePower, floor: Float64Array): CombTrack | null {
  if (spectra.frames < 3) return null;
  const from = Math.max(2, Math.ceil((2 * LOWEST_RIPPLE_HZ) / spectra.binHz));
  const to = Math.min(
    2 * (spectra.bins - 3),
    Math.floor((2 * Math.min(HIGHEST_RIPPLE_HZ, 0.45 * 2 * spectra.bins * spectra.binHz)) / spectra.binHz),
  );
  if (to <= from) return null;
  const places = to - from + 1;
  const cameFrom = new Int32Array(places * spectra.frames);
  const standing = new Float64Array(spectra.bins);
  let sums = new Float64Array(places);
  let next = new Float64Array(places);
  for (let frame = 0; frame < spectra.frames; frame += 1) {
    fillStanding(spectra, frame, floor, standing);
    for (let place = 0; place < places; place += 1) {
      const came = frame === 0 ? place : bestBefore(sums, place, from, spectra.hopSeconds);
      cameFrom[frame * places + place] = came;
      const moved = COST_PER_STEP * Math.abs(place - came);
      next[place] = (frame === 0 ? 0 : sums[came]! - moved) + harmonicSum(standing, from + place);
    }
    [sums, next] = [next, sums];
  }
  return readBack(sums, cameFrom, places, from, spectra.frames);
}

function fillStanding(spectra: ShortTimePower, frame: number, floor: Float64Array, into: Float64Array): void {
  for (let bin = 0; bin < spectra.bins; bin += 1) {
    const ratio = spectra.power[frame * spectra.bins + bin]! / floor[bin]!;
    into[bin] = ratio > 0 ? Math.min(MOST_PER_HARMONIC, Math.log1p(ratio)) : 0;
  }
}

function harmonicSum(standing: Float64Array, halfBins: number): number {
  let sum = 0;
  for (let n = 1; n <= HARMONICS; n += 1) {
    const bin = Math.round((n * halfBins) / 2);
    if (bin >= standing.length) break;
    sum += standing[bin]! / n;
  }
  return sum;
}

function bestBefore(sums: Float64Array, place: number, from: number, hopSeconds: number): number {
  const reach = 1 + Math.ceil((from + place) * (2 ** (OCTAVES_PER_SECOND * hopSeconds) - 1));
  const last = Math.min(sums.length - 1, place + reach);
  let best = place;
  let most = sums[place]!;
  for (let before = Math.max(0, place - reach); before <= last; before += 1) {
    const sum = sums[before]! - COST_PER_STEP * Math.abs(place - before);
    if (sum > most) {
      most = sum;
      best = before;
    }
  }
  return best;
}

function readBack(
  sums: Float64Array,
  cameFrom: Int32Array,
  places: number,
  from: number,
  frames: number,
): CombTrack {
  let place = 0;
  for (let at = 1; at < places; at += 1) if (sums[at]! > sums[place]!) place = at;
  const score = sums[place]! / frames;
  const halfBins = new Int32Array(frames);
  for (let frame = frames - 1; frame >= 0; frame -= 1) {
    halfBins[frame] = from + place;
    place = cameFrom[frame * places + place]!;
  }
  return { halfBins, score };
}
