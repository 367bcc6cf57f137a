import type { HarmonicView } from '../clipping/harmonic-view.ts';
import { dirichlet, dirichletSlope } from './dirichlet.ts';
import type { LineSums } from './tone-blocks.ts';

/** A harmonic that is not this many standard uncertainties high would add more noise than it takes away. */
const SIGNIFICANT = 4;

/** What goes along with the fundamental: the part of a `HarmonicView` that leaks into its sums. */
export type Companions = Pick<HarmonicView, 'dc' | 'count' | 'cosine' | 'sine' | 'sigma'>;

/**
 * Takes out of the sums at the fundamental what DC and harmonics leak into them, in closed form.
 *
 * Over a stretch of some cycles this leak is far above the noise: a third harmonic at 10 % over
 * 100 cycles pulls the frequency by a thousand times the Cramer-Rao bound at 60 dB.
 *
 * @param phase of the fundamental (cosine) at the centre of the sums, radians
 * @param scale of the harmonics, where the stretch is louder or softer than the one they were taken from
 */
export function removeLeakage(
  sums: LineSums,
  angularFrequency: number,
  phase: number,
  companions: Companions,
  scale: number,
): void {
  const { frames } = sums;
  sums.re -= companions.dc * dirichlet(frames, angularFrequency);
  sums.slopeIm -= companions.dc * dirichletSlope(frames, angularFrequency);
  for (let held = 0; held < companions.count; held += 1) {
    const cosine = companions.cosine[held]!;
    const sine = companions.sine[held]!;
    const bar = SIGNIFICANT * companions.sigma[held]!;
    if (cosine * cosine + sine * sine < bar * bar) continue;
    const order = held + 2;
    const turn = order * phase;
    const re = (scale / 2) * (cosine * Math.cos(turn) + sine * Math.sin(turn));
    const im = (scale / 2) * (cosine * Math.sin(turn) - sine * Math.cos(turn));
    const below = (order - 1) * angularFrequency;
    const above = (order + 1) * angularFrequency;
    const difference = dirichlet(frames, below);
    const sum = dirichlet(frames, above);
    sums.re -= re * (difference + sum);
    sums.im -= im * (difference - sum);
    const differenceSlope = dirichletSlope(frames, below);
    const sumSlope = dirichletSlope(frames, above);
    sums.slopeRe -= im * (differenceSlope + sumSlope);
    sums.slopeIm += re * (differenceSlope - sumSlope);
  }
}
