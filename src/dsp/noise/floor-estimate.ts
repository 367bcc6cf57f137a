import { averagedPowerQuantile } from './gamma-quantile.ts';
import type { PowerDensity } from './power-density.ts';
import { spectralSlope } from './spectral-slope.ts';

/** The floor under the lines of a spectrum. */
export interface FloorEstimate {
  /** Power density bin by bin, with every line taken out. */
  values: Float64Array;
  /** 1 where a line stands over the floor or leaks into the bin. */
  covered: Uint8Array;
}

/** The floor at a frequency is taken from this far to both sides, octaves. */
const REACH_OCTAVES = 1 / 4;

/** ... and from at least so many bins to both sides. */
const LEAST_REACH_BINS = 32;

/** Lines may cover up to half of a region; the quantile below the median then still lies in the noise. */
const QUANTILE = 0.35;
const QUANTILE_DEVIATIONS = -0.3853;

/** A bin so many deviations over the floor is a line: one in a hundred million in noise. */
const LINE_DEVIATIONS = 5.6;

/** Places where the floor is worked out, for each region's reach. */
const PLACES_PER_REACH = 4;

/**
 * The noise floor of a spectrum with lines in it. Its large slope is taken out first. Then a low quantile of each region, put right by what
 * that quantile is of an averaged noise power; at last, the lines being known, the mean of what they leave.
 * Between places the floor runs straight in decibels.
 */
export function estimateFloor(spectrum: PowerDensity): FloorEstimate {
  const { averages, lobeBins } = spectrum;
  const slope = spectralSlope(spectrum.values, QUANTILE);
  const level = spectrum.values.map((value, bin) => (value > 0 ? value / slope[bin]! : 0));
  const places = floorPlaces(level.length);
  const low = averagedPowerQuantile(averages, QUANTILE_DEVIATIONS);
  const quantiles = places.map((place) => quantileAround(level, place) / low);
  const first = interpolate(places, quantiles, level.length);
  const covered = new Uint8Array(level.length);
  const bar = averagedPowerQuantile(averages, LINE_DEVIATIONS);
  markLines(level, first, bar, lobeBins, covered);
  const means = places.map((place, at) => meanAround(level, covered, place) ?? quantiles[at]!);
  const second = interpolate(places, means, level.length);
  covered.fill(0);
  markLines(level, second, bar, lobeBins, covered);
  return { values: second.map((value, bin) => value * slope[bin]!), covered };
}

function floorPlaces(bins: number): number[] {
  const places: number[] = [];
  for (let bin = 1; bin < bins; bin += Math.max(1, Math.round(reachOf(bin) / PLACES_PER_REACH)))
    places.push(bin);
  if (places.at(-1) !== bins - 1) places.push(bins - 1);
  return places;
}

function reachOf(bin: number): number {
  return Math.max(LEAST_REACH_BINS, Math.round(bin * (2 ** REACH_OCTAVES - 1)));
}

function region(bin: number, bins: number): [from: number, to: number] {
  const reach = reachOf(bin);
  return [Math.max(1, bin - reach), Math.min(bins - 1, bin + reach + 1)];
}

function quantileAround(values: Float64Array, bin: number): number {
  const [from, to] = region(bin, values.length);
  const sorted = values.slice(from, to).sort();
  return sorted[Math.floor(QUANTILE * sorted.length)]!;
}

/** `null` where lines leave fewer than an eighth of the region. */
function meanAround(values: Float64Array, covered: Uint8Array, bin: number): number | null {
  const [from, to] = region(bin, values.length);
  let sum = 0;
  let count = 0;
  for (let b = from; b < to; b += 1) {
    if (covered[b] === 1) continue;
    sum += values[b]!;
    count += 1;
  }
  return count >= (to - from) / 8 ? sum / count : null;
}

function interpolate(places: readonly number[], levels: readonly number[], bins: number): Float64Array {
  const floor = new Float64Array(bins);
  for (let at = 0; at + 1 < places.length; at += 1) {
    const [from, to] = [places[at]!, places[at + 1]!];
    const [low, high] = [levels[at]!, levels[at + 1]!];
    const ratio = low > 0 && high > 0 ? high / low : 1;
    for (let bin = from; bin <= to; bin += 1) floor[bin] = low * ratio ** ((bin - from) / (to - from));
  }
  floor[0] = floor[1]!;
  return floor;
}

function markLines(
  values: Float64Array,
  floor: Float64Array,
  bar: number,
  lobeBins: number,
  covered: Uint8Array,
): void {
  for (let bin = 1; bin < values.length; bin += 1) {
    if (values[bin]! <= bar * floor[bin]!) continue;
    const from = Math.max(0, bin - lobeBins);
    const to = Math.min(values.length - 1, bin + lobeBins);
    for (let b = from; b <= to; b += 1) covered[b] = 1;
  }
}
