import { besselI0 } from '../spectrum/kaiser.ts';

/**
 * Interpolation by a sinc under a Kaiser window: samples themselves come out unchanged, tones up to 0.45 of
 * the sample rate within 0.003 dB at every instant (75 dB of ripple and images for 48 taps and a transition
 * from 0.45 to 0.55: Kaiser's formulas, IEEE ISCAS 1974).
 */
export const SINC_TAPS = 48;
const REACH = SINC_TAPS / 2;
const BETA = 7.35;

/** Instants to a sample at which the interpolated signal can be had. */
export const INSTANTS = 64;

/** Kernel at `t` samples from its centre. */
function sincKernel(t: number): number {
  if (t === 0) return 1;
  if (Math.abs(t) >= REACH || Number.isInteger(t)) return 0;
  const window = besselI0(BETA * Math.sqrt(1 - (t / REACH) ** 2)) / besselI0(BETA);
  return (window * Math.sin(Math.PI * t)) / (Math.PI * t);
}

/**
 * Row `i` holds the 48 weights for the instant `i / INSTANTS` after a sample; the first belongs to the
 * sample `REACH - 1` before it.
 */
export function sincRows(): Float64Array {
  const rows = new Float64Array((INSTANTS + 1) * SINC_TAPS);
  for (let instant = 0; instant <= INSTANTS; instant += 1) {
    for (let tap = 0; tap < SINC_TAPS; tap += 1) {
      rows[instant * SINC_TAPS + tap] = sincKernel(instant / INSTANTS - (tap - REACH + 1));
    }
  }
  return rows;
}

/**
 * What the interpolated signal cannot exceed between two samples. `M` is the largest sample in reach, `S` the
 * largest second difference `x[n-1] - 2 x[n] + x[n+1]` there; second derivatives are per sample squared.
 */
export interface SincBounds {
  /** Most that the two samples beside the instant can weigh together. */
  near: number;
  /** Most that all others can weigh together. */
  far: number;
  /** The second derivative is at most this times `M`, */
  curvature: number;
  /** and at most this times `S` */
  bend: number;
  /** plus this times `M`: far less where the signal is smooth. */
  bendRest: number;
}

/** The bounds, from the kernel; 2 % more, since between two instants the sums could be a little larger. */
export function sincBounds(): SincBounds {
  const MARGIN = 1.02;
  const bounds: SincBounds = { near: 0, far: 0, curvature: 0, bend: 0, bendRest: 0 };
  for (let instant = 0; instant < 2 * INSTANTS; instant += 1) {
    // Never on a sample, where the kernel's ends have a kink: no interval reaches across one.
    const t = (instant + 0.5) / (2 * INSTANTS);
    let all = 0;
    for (let tap = 0; tap < SINC_TAPS; tap += 1) all += Math.abs(sincKernel(t - (tap - REACH + 1)));
    const beside = Math.abs(sincKernel(t)) + Math.abs(sincKernel(t - 1));
    bounds.near = Math.max(bounds.near, MARGIN * beside);
    bounds.far = Math.max(bounds.far, MARGIN * (all - beside));
    const { curvature, bend, bendRest } = curvatureBounds(t);
    bounds.curvature = Math.max(bounds.curvature, MARGIN * curvature);
    bounds.bend = Math.max(bounds.bend, MARGIN * bend);
    bounds.bendRest = Math.max(bounds.bendRest, MARGIN * bendRest);
  }
  return bounds;
}

/**
 * Of the sum of `a[k] x[k]`, `a` being the kernel's second derivatives at one instant. Summed by parts twice:
 * `A[last] x[last] - B[last - 1] (x[last] - x[last - 1]) + sum of B[k] S[k]`, with `A` the running sums of `a`
 * and `B` those of `A`. The first two are all but 0, since the kernel keeps constants and slopes.
 */
function curvatureBounds(t: number): { curvature: number; bend: number; bendRest: number } {
  /** Of the second difference, samples: its own error is 1e-6 of the curvature. */
  const APART = 1e-3;
  let curvature = 0;
  let bend = 0;
  let once = 0;
  let twice = 0;
  let slopeRest = 0;
  for (let tap = 0; tap < SINC_TAPS; tap += 1) {
    const at = t - (tap - REACH + 1);
    const second = (sincKernel(at + APART) - 2 * sincKernel(at) + sincKernel(at - APART)) / (APART * APART);
    curvature += Math.abs(second);
    once += second;
    twice += once;
    if (tap < SINC_TAPS - 2) bend += Math.abs(twice);
    if (tap === SINC_TAPS - 2) slopeRest = Math.abs(twice);
  }
  return { curvature, bend, bendRest: Math.abs(once) + 2 * slopeRest };
}
