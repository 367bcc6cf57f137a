/** How much room the input has left before it overloads itself, with its highest peak held for a moment. */

/** The bar's left end. */
const LOWEST_DBFS = -60;
const HOLD_MS = 1500;

export interface PeakHold {
  peakDbfs: number | null;
  untilMs: number;
}

export const NO_PEAK: PeakHold = { peakDbfs: null, untilMs: 0 };

export function holdPeak(held: PeakHold, peakDbfs: number | null, nowMs: number): PeakHold {
  const expired = held.peakDbfs === null || nowMs >= held.untilMs;
  if (peakDbfs === null) return expired ? NO_PEAK : held;
  if (expired || peakDbfs >= (held.peakDbfs ?? peakDbfs)) return { peakDbfs, untilMs: nowMs + HOLD_MS };
  return held;
}

/** 0 (nothing) to 100 (full scale), linear in decibels. */
export function barPercent(peakDbfs: number | null): number {
  if (peakDbfs === null) return 0;
  return Math.min(100, Math.max(0, (100 * (peakDbfs - LOWEST_DBFS)) / -LOWEST_DBFS));
}

export function headroomWords(peakDbfs: number | null): string {
  if (peakDbfs === null) return '—';
  if (peakDbfs >= -0.01) return 'none';
  return `${(-peakDbfs).toFixed(peakDbfs > -9.95 ? 1 : 0)} dB`;
}
