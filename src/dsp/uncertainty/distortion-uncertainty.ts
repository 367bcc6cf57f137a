import type { HarmonicView } from '../clipping/harmonic-view.ts';
import type { DistortionFigures } from '../distortion/distortion-figures.ts';
import { isInBand } from '../distortion/distortion-figures.ts';
import type { ToneUncertainty } from '../reading.ts';

/** Decibels for a small relative change of a power. */
const DB_PER_RELATIVE_POWER = 10 / Math.LN10;

type DistortionUncertainty = Required<Omit<ToneUncertainty, 'levelDb' | 'frequencyHz'>>;

export interface DistortionNoise {
  /** Relative standard uncertainty of the fundamental's amplitude. */
  relativeAmplitude: number;
  /** By how much the harmonics' `sigma` must grow, since the noise it was made of is known from few bins. */
  sigmaFactor: number;
  /** Relative standard uncertainty of the noise's mean square in the band. */
  relativeNoise: number;
}

/**
 * Standard uncertainties (k = 1) of distortion figures by the law of propagation (JCGM 100:2008, 5.1.2).
 *
 * A harmonic of power `P`, each of its two terms known to `sigma`, has the variance
 * `4 P sigma^2 + 4 sigma^4` (noncentral chi-squared of two degrees): the last term is what keeps the
 * figure honest where noise hides the harmonic. Harmonics, noise and fundamental are independent.
 * Figures at their floor (see `distortionFigures`) get the uncertainty that the floor stands for.
 *
 * @param amplitude of the fundamental, peak
 */
export function distortionUncertainty(
  view: HarmonicView,
  figures: DistortionFigures,
  amplitude: number,
  band: { lowHz: number; highHz: number },
  known: DistortionNoise,
): DistortionUncertainty {
  const carrier = amplitude * amplitude;
  const relativeCarrier = 2 * known.relativeAmplitude;
  let variance = 0;
  const harmonicsDb: number[] = [];
  for (let held = 0; held < view.count; held += 1) {
    const sigma2 = (known.sigmaFactor * view.sigma[held]!) ** 2;
    if (!isInBand((held + 2) * view.frequencyHz, { lowHz: 0, highHz: band.highHz })) break;
    const power = Math.max(0, view.cosine[held]! ** 2 + view.sine[held]! ** 2 - 2 * sigma2);
    const ofPower = 4 * power * sigma2 + 4 * sigma2 * sigma2;
    if (harmonicsDb.length < figures.harmonicsDbc.length) {
      const relative = Math.sqrt(ofPower) / Math.max(power, 2 * sigma2, Number.MIN_VALUE);
      harmonicsDb.push(DB_PER_RELATIVE_POWER * Math.hypot(relative, relativeCarrier));
    }
    if (isInBand((held + 2) * view.frequencyHz, band)) variance += ofPower;
  }
  const distortion = carrier * (figures.thdPercent / 100) ** 2;
  const relativeThd = Math.hypot(Math.sqrt(variance) / distortion, relativeCarrier) / 2;
  const ofTotal = (figures.thdPlusNoisePercent / 100) ** 2;
  const rest = ((carrier / 2) * ofTotal) / Math.max(1 - ofTotal, Number.EPSILON);
  const noise = 10 ** (figures.noiseDbfs / 10) / 2;
  const relativeRest = Math.hypot(Math.sqrt(variance) / 2, noise * known.relativeNoise) / rest;
  const relativeThdPlusNoise = ((1 - ofTotal) * Math.hypot(relativeRest, relativeCarrier)) / 2;
  return {
    thdPercent: figures.thdPercent * relativeThd,
    thdPlusNoisePercent: figures.thdPlusNoisePercent * relativeThdPlusNoise,
    sinadDb: 2 * DB_PER_RELATIVE_POWER * relativeThdPlusNoise,
    noiseDb: DB_PER_RELATIVE_POWER * known.relativeNoise,
    harmonicsDb,
  };
}
