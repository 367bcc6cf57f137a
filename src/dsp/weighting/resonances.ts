/** Sections in a row without zeros, each 1 at DC: `gain / (1 + a1 z^-1 + a2 z^-2)`. */
export interface Resonances {
  gain: Float64Array;
  a1: Float64Array;
  a2: Float64Array;
}

/** Two poles of an analogue network, hertz: conjugate where `imaginary` is not 0, else both real. */
export interface PolePair {
  real: readonly [number, number];
  imaginary: number;
}

/** Poles at `exp(p / fs)`: exactly where the analogue ones lie, whatever is missing beside them is smooth. */
export function resonances(pairs: readonly PolePair[], sampleRateHz: number): Resonances {
  const gain = new Float64Array(pairs.length);
  const a1 = new Float64Array(pairs.length);
  const a2 = new Float64Array(pairs.length);
  pairs.forEach(({ real, imaginary }, n) => {
    const [first, second] = real.map((hz) => Math.exp((2 * Math.PI * hz) / sampleRateHz)) as [number, number];
    a1[n] = -(first + second) * Math.cos((2 * Math.PI * imaginary) / sampleRateHz);
    a2[n] = first * second;
    gain[n] = 1 + a1[n]! + a2[n]!;
  });
  return { gain, a1, a2 };
}

/** Magnitude of all sections together at a frequency given as a share of the sample rate. */
export function resonanceAmplitude({ gain, a1, a2 }: Resonances, share: number): number {
  const w = 2 * Math.PI * share;
  let amplitude = 1;
  for (let n = 0; n < gain.length; n += 1) {
    const re = 1 + a1[n]! * Math.cos(w) + a2[n]! * Math.cos(2 * w);
    const im = a1[n]! * Math.sin(w) + a2[n]! * Math.sin(2 * w);
    amplitude *= gain[n]! / Math.hypot(re, im);
  }
  return amplitude;
}
