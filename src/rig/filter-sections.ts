import { prototypePolynomial } from '../dsp/filters/prototype.ts';
import type { RigFilter } from './rig-parts.ts';

/** A factor `1 + s / (q w) + (s / w)^2` of a prototype, or `1 + s / w` where `quality` is `null`. */
export interface PrototypeSection {
  radians: number;
  quality: number | null;
}

/**
 * A low-pass prototype with its corner at 1 rad/s, as sections of second and
 * first order. The corner is what the alignment makes of it, as in
 * `prototypePolynomial` (Bessel: -3.01 dB).
 *
 * @throws RangeError for an order that the alignment has not
 */
export function prototypeSections(filter: Pick<RigFilter, 'alignment' | 'order'>): PrototypeSection[] {
  const { alignment, order } = filter;
  const polynomial = prototypePolynomial(alignment, order);
  if (alignment === 'butterworth') return butterworthSections(order);
  if (alignment === 'linkwitz-riley') {
    const half = butterworthSections(order / 2);
    return [...half, ...half];
  }
  return sectionsOfRoots(polynomialRoots(polynomial));
}

/** Poles on the unit circle: quality `1 / (2 sin((2k - 1) pi / 2N))` (see `prototype.ts`). */
function butterworthSections(order: number): PrototypeSection[] {
  const sections: PrototypeSection[] = order % 2 === 1 ? [{ radians: 1, quality: null }] : [];
  for (let k = 1; k <= Math.floor(order / 2); k += 1) {
    sections.push({ radians: 1, quality: 1 / (2 * Math.sin(((2 * k - 1) * Math.PI) / (2 * order))) });
  }
  return sections;
}

interface Root {
  re: number;
  im: number;
}

/** Pairs of roots become sections of second order, real ones of first. */
function sectionsOfRoots(roots: readonly Root[]): PrototypeSection[] {
  return roots
    .filter((root) => root.im > -1e-9)
    .map((root) => {
      const radians = Math.hypot(root.re, root.im);
      return { radians, quality: root.im < 1e-9 ? null : radians / (-2 * root.re) };
    });
}

/**
 * All roots at once by the iteration of Durand and Kerner, for simple roots
 * (Bessel's are): each is corrected by the polynomial's value over the product
 * of its distances to the others.
 *
 * @param polynomial coefficients, constant first
 */
function polynomialRoots(polynomial: readonly number[]): Root[] {
  const order = polynomial.length - 1;
  const monic = polynomial.map((coefficient) => coefficient / polynomial[order]!);
  const size = Math.abs(monic[0]!) ** (1 / order);
  let roots = Array.from({ length: order }, (_, index) => {
    // Started off the real axis, and not on a circle's symmetric places, which would never part.
    const angle = (2 * Math.PI * index) / order + 0.4;
    return { re: size * Math.cos(angle), im: size * Math.sin(angle) };
  });
  for (let step = 0; step < 200; step += 1) {
    roots = roots.map((root, index) => {
      let re = 1;
      let im = 0;
      for (let power = order - 1; power >= 0; power -= 1) {
        [re, im] = [re * root.re - im * root.im + monic[power]!, re * root.im + im * root.re];
      }
      let downRe = 1;
      let downIm = 0;
      for (const [other, { re: otherRe, im: otherIm }] of roots.entries()) {
        if (other === index) continue;
        const awayRe = root.re - otherRe;
        const awayIm = root.im - otherIm;
        [downRe, downIm] = [downRe * awayRe - downIm * awayIm, downRe * awayIm + downIm * awayRe];
      }
      const square = downRe * downRe + downIm * downIm;
      return {
        re: root.re - (re * downRe + im * downIm) / square,
        im: root.im - (im * downRe - re * downIm) / square,
      };
    });
  }
  return roots;
}
