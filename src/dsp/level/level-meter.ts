/**
 * Mean and mean square of a stream. Each block is summed for itself and the blocks are combined
 * (Chan, Golub and LeVeque, 1979), so that neither a DC offset nor hours of signal cost digits: a
 * running sum with subtraction drifts, and silence then reads -73 dBFS.
 */
export class LevelMeter {
  frames = 0;
  mean = 0;
  highest = Number.NEGATIVE_INFINITY;
  lowest = Number.POSITIVE_INFINITY;
  #aboutMean = 0;

  reset(): void {
    this.frames = 0;
    this.mean = 0;
    this.#aboutMean = 0;
    this.highest = Number.NEGATIVE_INFINITY;
    this.lowest = Number.POSITIVE_INFINITY;
  }

  push(samples: Float32Array | Float64Array, from: number, to: number): void {
    const count = to - from;
    if (count <= 0) return;
    const mean = this.#scan(samples, from, to) / count;
    const aboutMean = sumOfSquaresAbout(mean, samples, from, to);
    const frames = this.frames + count;
    const apart = mean - this.mean;
    this.#aboutMean += aboutMean + (apart * apart * this.frames * count) / frames;
    this.mean += (apart * count) / frames;
    this.frames = frames;
  }

  /** Takes in the extremes and returns the sum; in two strands, since an addition waits for the one before. */
  #scan(samples: Float32Array | Float64Array, from: number, to: number): number {
    let even = 0;
    let odd = 0;
    let highest = Number.NEGATIVE_INFINITY;
    let lowest = Number.POSITIVE_INFINITY;
    const paired = from + 2 * ((to - from) >> 1);
    for (let n = from; n < paired; n += 2) {
      const x = samples[n]!;
      const y = samples[n + 1]!;
      even += x;
      odd += y;
      if (x > highest) highest = x;
      if (x < lowest) lowest = x;
      if (y > highest) highest = y;
      if (y < lowest) lowest = y;
    }
    if (paired < to) {
      const x = samples[paired]!;
      even += x;
      if (x > highest) highest = x;
      if (x < lowest) lowest = x;
    }
    if (highest > this.highest) this.highest = highest;
    if (lowest < this.lowest) this.lowest = lowest;
    return even + odd;
  }

  /** Mean square with DC taken out, full scale 1.0 squared; 0 before anything was pushed. */
  get variance(): number {
    return this.frames > 0 ? this.#aboutMean / this.frames : 0;
  }

  /** Largest magnitude of any sample; 0 for digital silence. */
  get samplePeak(): number {
    return this.frames > 0 ? Math.max(this.highest, -this.lowest) : 0;
  }
}

function sumOfSquaresAbout(
  mean: number,
  samples: Float32Array | Float64Array,
  from: number,
  to: number,
): number {
  let even = 0;
  let odd = 0;
  const paired = from + 2 * ((to - from) >> 1);
  for (let n = from; n < paired; n += 2) {
    const x = samples[n]! - mean;
    const y = samples[n + 1]! - mean;
    even += x * x;
    odd += y * y;
  }
  if (paired < to) even += (samples[paired]! - mean) ** 2;
  return even + odd;
}
