import type { ResponseSpectrum } from './response-spectrum.ts';

/** A magnitude response as points that are independent of each other, each with its standard uncertainty. */
export interface LevelPoints {
  frequenciesHz: Float64Array;
  levelsDb: Float64Array;
  /** Standard uncertainty of each level from noise. */
  sigmasDb: Float64Array;
  /** Signal over noise in one bin. */
  snrDb: Float64Array;
}

const POINTS_PER_OCTAVE = 24;
/** 10 / ln 10, and that a magnitude feels one of the two parts of the noise. */
const DB_PER_NEPER_POWER = 10 / Math.LN10;

interface Sums {
  level: number;
  logHz: number;
  power: number;
  noise: number;
}

function sumBins(spectrum: ResponseSpectrum, from: number, to: number): Sums {
  const sums: Sums = { level: 0, logHz: 0, power: 0, noise: 0 };
  for (let bin = from; bin < to; bin += 1) {
    const power = spectrum.re[bin]! ** 2 + spectrum.im[bin]! ** 2;
    sums.power += power;
    sums.level += 10 * Math.log10(power + Number.MIN_VALUE);
    sums.logHz += Math.log(bin * spectrum.binHz);
    sums.noise += spectrum.noise[bin]!;
  }
  return sums;
}

/**
 * One point for each 1/24 octave, or for each step of the gate's resolution where that is wider. A point's level is
 * the mean of its bins' decibels: unlike a mean of powers it is not drawn upward by a slope, and noise does not
 * bias it (ln|1 + z| is harmonic, so its mean over any circle |z| < 1 is zero) as long as it lies some 10 dB lower.
 */
export function levelPoints(spectrum: ResponseSpectrum, lowHz: number, highHz: number): LevelPoints {
  const rows: [number, number, number, number][] = [];
  const { binHz, resolutionHz } = spectrum;
  let edge = Math.ceil(lowHz / binHz);
  const last = Math.min(Math.floor(highHz / binHz), spectrum.re.length - 2);
  while (edge <= last) {
    const wanted = Math.max(resolutionHz, edge * binHz * (2 ** (1 / POINTS_PER_OCTAVE) - 1));
    const next = Math.min(last + 1, edge + Math.max(1, Math.round(wanted / binHz)));
    const count = next - edge;
    const sums = sumBins(spectrum, edge, next);
    const independent = Math.max(1, (count * binHz) / resolutionHz);
    const noiseToSignal = sums.power === 0 ? Number.POSITIVE_INFINITY : sums.noise / sums.power;
    rows.push([
      Math.exp(sums.logHz / count),
      sums.level / count,
      DB_PER_NEPER_POWER * Math.sqrt((2 * noiseToSignal) / independent),
      -10 * Math.log10(noiseToSignal),
    ]);
    edge = next;
  }
  const column = (index: 0 | 1 | 2 | 3) => Float64Array.from(rows, (row) => row[index]);
  return { frequenciesHz: column(0), levelsDb: column(1), sigmasDb: column(2), snrDb: column(3) };
}

/** The points from `from` up to, without, `to`. */
export function slicedPoints(points: LevelPoints, from: number, to: number): LevelPoints {
  return {
    frequenciesHz: points.frequenciesHz.subarray(from, to),
    levelsDb: points.levelsDb.subarray(from, to),
    sigmasDb: points.sigmasDb.subarray(from, to),
    snrDb: points.snrDb.subarray(from, to),
  };
}
