/**
 * Frequency weightings. `A`, `C`, `Z`: IEC 61672-1:2013 annex E. `ccir-rms`: the curve of ITU-R BS.468-4
 * lowered by 5.63 dB so that 2 kHz reads 0 dB, as AES17 has it for idle noise and dynamic range.
 */
export type Weighting = 'A' | 'C' | 'Z' | 'ccir-rms';

/** Poles of A and C, hertz, from their defining frequencies (annex E, equations E.2 to E.8). */
export const WEIGHTING_POLES_HZ = weightingPoles();

const A_AT_1000 = aUnscaled(1000);
const C_AT_1000 = cUnscaled(1000);
/** Decibels: AES17-2015 5.2.7. */
const CCIR_RMS_OFFSET_DB = -5.63;

/**
 * Factor on the mean square of a component (multiply a power spectrum by it), 1 at the reference frequency.
 * @param frequencyHz 0 and up; A, C and ccir-rms are 0 at DC
 */
export function weightingPower(weighting: Weighting, frequencyHz: number): number {
  return weightingAmplitude(weighting, frequencyHz) ** 2;
}

/** Factor on an amplitude. */
export function weightingAmplitude(weighting: Weighting, frequencyHz: number): number {
  switch (weighting) {
    case 'A':
      return aUnscaled(frequencyHz) / A_AT_1000;
    case 'C':
      return cUnscaled(frequencyHz) / C_AT_1000;
    case 'Z':
      return 1;
    case 'ccir-rms':
      return bs468(frequencyHz) * 10 ** (CCIR_RMS_OFFSET_DB / 20);
  }
}

/** The curve itself, decibels; -Infinity where nothing passes. */
export function weightingDb(weighting: Weighting, frequencyHz: number): number {
  return 20 * Math.log10(weightingAmplitude(weighting, frequencyHz));
}

function weightingPoles(): { f1: number; f2: number; f3: number; f4: number } {
  const low = (10 ** 1.5) ** 2;
  const high = (10 ** 3.9) ** 2;
  const reference = 1000 ** 2;
  const b = (reference + (low * high) / reference - Math.SQRT1_2 * (low + high)) / (1 - Math.SQRT1_2);
  const c = low * high;
  const root = Math.sqrt(b * b - 4 * c);
  const a = 10 ** 2.45;
  return {
    f1: Math.sqrt((-b - root) / 2),
    f2: ((3 - Math.sqrt(5)) / 2) * a,
    f3: ((3 + Math.sqrt(5)) / 2) * a,
    f4: Math.sqrt((-b + root) / 2),
  };
}

function cUnscaled(f: number): number {
  const { f1, f4 } = WEIGHTING_POLES_HZ;
  return (f4 * f4 * f * f) / ((f * f + f1 * f1) * (f * f + f4 * f4));
}

function aUnscaled(f: number): number {
  const { f2, f3 } = WEIGHTING_POLES_HZ;
  return (cUnscaled(f) * f * f) / Math.sqrt((f * f + f2 * f2) * (f * f + f3 * f3));
}

/**
 * Response of the network of ITU-R BS.468-4, 1 at 1 kHz: the usual rational form of its figure 1a, +18.2 dB.
 * As remembered; the test holds it against the Recommendation's table.
 */
function bs468(f: number): number {
  const f2 = f * f;
  const real = ((-4.737338981378384e-24 * f2 + 2.043828333606125e-15) * f2 - 1.363894795463638e-7) * f2 + 1;
  const imaginary = ((1.306612257412824e-19 * f2 - 2.118150887518656e-11) * f2 + 5.559488023498642e-4) * f;
  return (10 ** (18.2 / 20) * 1.246332637532143e-4 * f) / Math.hypot(real, imaginary);
}
