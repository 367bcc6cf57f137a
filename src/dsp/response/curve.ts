import type { ResponseSpectrum } from './response-spectrum.ts';

/** 1/24 octave as IEC 61260-1 spaces it: 80 points in a decade, 1 kHz among them. */
const POINTS_PER_DECADE = 80;

/** A reading that noise reaches up to is none. */
const LEAST_SNR_DB = 3;
const DB_PER_NEPER_POWER = 10 / Math.LN10;

/** One point of a response curve. */
export interface CurvePoint {
  frequencyHz: number;
  /** `null` where the response does not stand out of the noise. */
  magnitudeDb: number | null;
  /** Standard uncertainty of the magnitude from noise. */
  uncertaintyDb: number | null;
  /** Signal over noise in one bin; `null` where the magnitude is. */
  snrDb: number | null;
}

/** Frequencies of the curve inside a band: `1000 * 10^(n/80)`. */
export function curveFrequencies(lowHz: number, highHz: number): number[] {
  const step = (hertz: number) => POINTS_PER_DECADE * Math.log10(hertz / 1000);
  const first = Math.ceil(step(lowHz) - 1e-9);
  const last = Math.floor(step(highHz) + 1e-9);
  return Array.from(
    { length: Math.max(0, last - first + 1) },
    (_, i) => 1000 * 10 ** ((first + i) / POINTS_PER_DECADE),
  );
}

/** First bin, and one past the last, of a band `octaves` wide around a frequency: at least two bins. */
export function binsAround(
  spectrum: ResponseSpectrum,
  frequencyHz: number,
  octaves: number,
): [number, number] {
  const half = 2 ** (octaves / 2);
  const from = Math.ceil(frequencyHz / half / spectrum.binHz);
  const to = Math.floor((frequencyHz * half) / spectrum.binHz) + 1;
  const below = Math.floor(frequencyHz / spectrum.binHz);
  return [Math.max(1, Math.min(from, below)), Math.min(spectrum.re.length - 1, Math.max(to, below + 2))];
}

/**
 * Levels on a straight line over log f, read at the frequency itself: what a mean of decibels is on a slope whose bins
 * lie unevenly around it.
 */
function levelAt(spectrum: ResponseSpectrum, frequencyHz: number, from: number, to: number): number {
  let sumX = 0;
  let sumXX = 0;
  let sumY = 0;
  let sumXY = 0;
  for (let bin = from; bin < to; bin += 1) {
    const x = Math.log((bin * spectrum.binHz) / frequencyHz);
    const y =
      DB_PER_NEPER_POWER * Math.log(spectrum.re[bin]! ** 2 + spectrum.im[bin]! ** 2 + Number.MIN_VALUE);
    sumX += x;
    sumXX += x * x;
    sumY += y;
    sumXY += x * y;
  }
  const count = to - from;
  const determinant = count * sumXX - sumX * sumX;
  return determinant === 0 ? sumY / count : (sumXX * sumY - sumX * sumXY) / determinant;
}

/** Magnitude at one frequency, over 1/24 octave or the gate's resolution. */
export function curvePoint(spectrum: ResponseSpectrum, frequencyHz: number): CurvePoint {
  const [from, to] = binsAround(spectrum, frequencyHz, 1 / 24);
  let power = 0;
  let noise = 0;
  for (let bin = from; bin < to; bin += 1) {
    power += spectrum.re[bin]! ** 2 + spectrum.im[bin]! ** 2;
    noise += spectrum.noise[bin]!;
  }
  if (!(power > noise * 10 ** (LEAST_SNR_DB / 10)))
    return { frequencyHz, magnitudeDb: null, uncertaintyDb: null, snrDb: null };
  const independent = Math.max(1, ((to - from) * spectrum.binHz) / spectrum.resolutionHz);
  return {
    frequencyHz,
    magnitudeDb: levelAt(spectrum, frequencyHz, from, to),
    uncertaintyDb: DB_PER_NEPER_POWER * Math.sqrt((2 * noise) / power / independent),
    snrDb: 10 * Math.log10(power / noise),
  };
}

/**
 * Fractional-octave smoothing: mean power over a band, the noise's power taken off.
 *
 * @param octaves width of the band: 1/3 for third octaves
 * @returns decibels; `null` where the response does not stand out of the noise
 */
export function smoothedLevelDb(
  spectrum: ResponseSpectrum,
  frequencyHz: number,
  octaves: number,
): number | null {
  const [from, to] = binsAround(spectrum, frequencyHz, octaves);
  let power = 0;
  let noise = 0;
  for (let bin = from; bin < to; bin += 1) {
    // Bins are evenly spaced; a band's mean over log f weighs each by 1/f.
    const weight = 1 / bin;
    power += weight * (spectrum.re[bin]! ** 2 + spectrum.im[bin]! ** 2);
    noise += weight * spectrum.noise[bin]!;
  }
  if (!(power > noise * 10 ** (LEAST_SNR_DB / 10))) return null;
  let weights = 0;
  for (let bin = from; bin < to; bin += 1) weights += 1 / bin;
  return 10 * Math.log10((power - noise) / weights);
}
