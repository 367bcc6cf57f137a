import type { ToneReading } from '../reading.ts';

/**
 * THD as IEC 60268-3 (14.12.3.2) has it, harmonics against fundamental and harmonics together (R form),
 * from the F form against the fundamental alone: `R = F / sqrt(1 + F^2)`. It cannot pass 100 %.
 */
export function thdReferredToTotal(thdPercent: number): number {
  return thdPercent / Math.hypot(1, thdPercent / 100);
}

/**
 * Distortion of one order, percent of the total r.m.s., noise in the reading's band included (IEC 60268-3, 14.12.5).
 *
 * @param order 2 and up
 * @returns `null` where the reading does not list that harmonic
 */
export function nthOrderPercent(tone: ToneReading, order: number): number | null {
  const harmonicDbc = tone.harmonicsDbc[order - 2];
  if (harmonicDbc === undefined) return null;
  return 100 * 10 ** (harmonicDbc / 20) * Math.sqrt(1 - (tone.thdPlusNoisePercent / 100) ** 2);
}
