import type { MicrophonePoint } from './microphone-file.ts';

/** How much a microphone reads high at a frequency; negative where it reads low. */
interface MicrophoneDeviation {
  frequencyHz: number;
  readsHighDb: number;
}

/** Two or more, frequencies rising. Plain data, so that a task may carry it and replay. */
export type MicrophoneCurve = readonly MicrophoneDeviation[];

/**
 * What the file's second column means. `reads-high`: the microphone's own response, so it is subtracted, as most such
 * files mean it (common practice). `to-be-added`: the correction itself.
 */
export type FileMeaning = 'reads-high' | 'to-be-added';

export function microphoneCurve(points: readonly MicrophonePoint[], meaning: FileMeaning): MicrophoneCurve {
  return points.map(({ frequencyHz, levelDb }) => ({
    frequencyHz,
    // No minus before a zero, which would not survive being stored as text.
    readsHighDb: meaning === 'reads-high' || levelDb === 0 ? levelDb : -levelDb,
  }));
}

/**
 * How much the microphone reads high, straight lines between the points on a logarithmic frequency axis.
 *
 * @returns `null` beyond the ends: microphones fall off soon after their makers stop measuring, so holding the last
 * value would claim what nobody measured
 */
export function readsHighDb(curve: MicrophoneCurve, frequencyHz: number): number | null {
  const above = curve.findIndex((point) => point.frequencyHz >= frequencyHz);
  const upper = curve[above];
  if (upper === undefined) return null;
  if (upper.frequencyHz === frequencyHz) return upper.readsHighDb;
  const lower = curve[above - 1];
  if (lower === undefined) return null;
  const share = Math.log(frequencyHz / lower.frequencyHz) / Math.log(upper.frequencyHz / lower.frequencyHz);
  return lower.readsHighDb + share * (upper.readsHighDb - lower.readsHighDb);
}

/**
 * As `readsHighDb`, and beyond the ends as at the nearer end: for a band whose edge passes the last point by a little,
 * which must not make a line of its spectrum vanish. Between two channels heard by one microphone it cancels anyway.
 */
export function readsHighWithin(curve: MicrophoneCurve, frequencyHz: number): number {
  const end = frequencyHz < (curve[0]?.frequencyHz ?? 0) ? curve[0] : curve.at(-1);
  return readsHighDb(curve, frequencyHz) ?? end?.readsHighDb ?? 0;
}

/** What is to be added to a level read at this frequency, dB; `null` where the microphone is not known there. */
export function microphoneCorrectionDb(curve: MicrophoneCurve, frequencyHz: number): number | null {
  const high = readsHighDb(curve, frequencyHz);
  return high === null ? null : 0 - high;
}
