/**
 * Where in a recording the sweep begins. Each window is deconvolved; a sweep gathers all its energy in a few
 * milliseconds there, and anything else stays spread over the window.
 */

/** A subwoofer's band answers over some 20 ms. */
const CLUSTER_SECONDS = 0.02;
/** What lies closer to the cluster belongs to it: reverberation, lossy coding, a stretched clock. */
const NEAR_SECONDS = 0.25;

/**
 * How far the cluster must stand above the mean of the rest. Noise of a subwoofer's band, 60 Hz wide, has 2.4
 * degrees of freedom in 20 ms; the highest of a thousand such clusters reaches 7 times the mean.
 */
const LEAST_CONTRAST = 30;

/**
 * Of the energy close by, noise taken off, so much must lie in the cluster and as far again on either side. A sweep
 * on another law comes out as a slower one: its octaves arrive one after the other.
 */
const LEAST_SHARE = 0.5;

export interface FoundCluster {
  /** Delay of the strongest sample of the cluster, frames. */
  delayFrames: number;
  /** Energy of the cluster. */
  energy: number;
  /** Energy of the cluster over the mean of equally long stretches elsewhere. */
  contrast: number;
}

/**
 * The strongest cluster among delays 0 to `delays` of a circular response; `null` for silence, or where nothing
 * stands out.
 */
export function findCluster(
  response: Float64Array,
  delays: number,
  sampleRateHz: number,
): FoundCluster | null {
  const width = Math.round(CLUSTER_SECONDS * sampleRateHz);
  let total = 0;
  for (const value of response) total += value * value;
  let best = 0;
  let bestStart = 0;
  for (let start = 0; start < delays; start += Math.floor(width / 2)) {
    const energy = energyBetween(response, start, start + width);
    if (energy <= best) continue;
    best = energy;
    bestStart = start;
  }
  if (best === 0) return null;
  const near = Math.round(NEAR_SECONDS * sampleRateHz);
  const around = energyBetween(response, bestStart - near, bestStart + width + near);
  const elsewhere = Math.max(0, total - around) / (response.length - 2 * near - width);
  const contrast = elsewhere === 0 ? Number.POSITIVE_INFINITY : best / (elsewhere * width);
  if (contrast < LEAST_CONTRAST) return null;
  const core = energyBetween(response, bestStart - width, bestStart + 2 * width) - 3 * width * elsewhere;
  if (core < LEAST_SHARE * (around - (2 * near + width) * elsewhere)) return null;
  return { delayFrames: strongest(response, bestStart, bestStart + width), energy: best, contrast };
}

function energyBetween(response: Float64Array, from: number, to: number): number {
  const { length } = response;
  let energy = 0;
  for (let n = from; n < to; n += 1) {
    const value = response[(n + length) % length]!;
    energy += value * value;
  }
  return energy;
}

function strongest(response: Float64Array, from: number, to: number): number {
  let place = from;
  for (let n = from; n < to; n += 1) {
    if (Math.abs(response[n % response.length]!) > Math.abs(response[place % response.length]!)) place = n;
  }
  return place;
}
