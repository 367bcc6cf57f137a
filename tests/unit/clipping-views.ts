import type { CodeFacts, HarmonicView } from '../../src/dsp/clipping/harmonic-view.ts';
import { limitedHarmonic } from '../../src/dsp/clipping/limited-sine.ts';
import { angleOfOverdrive } from '../../src/dsp/clipping/overdrive.ts';
import { seededGauss, seededUniform } from './seeded-random.ts';

/** Codes of a wave that stays far from full scale. */
export const QUIET_CODES: CodeFacts = {
  frames: 48_000,
  highest: 0.6,
  lowest: -0.6,
  longestRunHigh: 0,
  longestRunLow: 0,
  framesHigh: 0,
  framesLow: 0,
};

/** Amplitudes of `cos(n*theta)` and `sin(n*theta)` for an order, 1 being the fundamental. */
export type TermOf = (order: number) => [cosine: number, sine: number];

export interface Recording {
  sampleRateHz?: number;
  frequencyHz?: number;
  /** Noise below the fundamental, dB (power against power, over the whole Nyquist band). */
  snrDb?: number;
  frames?: number;
  /** Highest frequency whose harmonic is held. */
  bandHighHz?: number;
  seed?: number;
}

/**
 * A view of a wave given by its harmonics, with the noise that a least-squares fit over `frames`
 * samples leaves on each term: `sigma = noiseRms*sqrt(2/frames)`.
 */
export function viewOf(term: TermOf, recording: Recording = {}): HarmonicView {
  const { sampleRateHz = 48_000, frequencyHz = 997, snrDb = 60, frames = 8192, seed = 1 } = recording;
  const { bandHighHz = Math.min(20_000, sampleRateHz / 2) } = recording;
  const gauss = seededGauss(seededUniform(seed));
  const amplitude = term(1)[0];
  const noiseRms = (amplitude / Math.SQRT2) * 10 ** (-snrDb / 20);
  const sigma = noiseRms * Math.sqrt(2 / frames);
  const count = Math.max(0, Math.floor(bandHighHz / frequencyHz) - 1);
  const terms = Array.from({ length: count }, (_, at) => term(at + 2));
  return {
    sampleRateHz,
    frequencyHz,
    amplitude: amplitude + sigma * gauss(),
    dc: 0,
    count,
    cosine: Float64Array.from(terms, ([cosine]) => cosine + sigma * gauss()),
    sine: Float64Array.from(terms, ([, sine]) => sine + sigma * gauss()),
    sigma: new Float64Array(count).fill(sigma),
    noiseRms,
  };
}

/** Terms of a cosine of `amplitude` driven past two rails; `null` puts a rail out of reach. */
export function limitedTerms(amplitude: number, highDb: number | null, lowDb: number | null): TermOf {
  const wave = {
    amplitude,
    highAngle: highDb === null ? 0 : angleOfOverdrive(highDb),
    lowAngle: lowDb === null ? 0 : angleOfOverdrive(lowDb),
  };
  return (order) => [limitedHarmonic(wave, order), 0];
}

/** Terms of a unit cosine put through a curve without memory, by a discrete Fourier sum of 2^14 points. */
export function shapedTerms(curve: (x: number) => number): TermOf {
  const points = 1 << 14;
  const angle = (at: number) => (2 * Math.PI * at) / points;
  const wave = Float64Array.from({ length: points }, (_, at) => curve(Math.cos(angle(at))));
  return (order) => {
    let [cosine, sine] = [0, 0];
    for (let at = 0; at < points; at++) {
      cosine += wave[at]! * Math.cos(angle((order * at) % points));
      sine += wave[at]! * Math.sin(angle((order * at) % points));
    }
    return [(2 * cosine) / points, (2 * sine) / points];
  };
}
