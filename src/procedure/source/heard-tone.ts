import type { ClippingVerdict, Doubt, Grade } from '../../dsp/reading.ts';
import type { ToneTakeReading } from '../take/tone-take.ts';

/** A tone as one take heard it: what the stations at the source build upon. */
export interface HeardTone {
  /** Of the fundamental. */
  levelDbfs: number;
  /** Standard uncertainty (k = 1) by noise and fit. */
  uncertaintyDb: number;
  thdPercent: number;
  verdict: ClippingVerdict;
  /** `null` unless clipped. */
  overdriveDb: number | null;
  /** Largest clean sine behind the limit that was met; `null` unless clipped. */
  kneeDbfs: number | null;
  grade: Grade;
  doubts: Doubt[];
}

/** `null` where the asked tone was not heard, or the take may not be believed; `whyUnheard` says which. */
export function heardTone(reading: ToneTakeReading): HeardTone | null {
  const { tone, clipping } = reading.channel;
  if (tone === null || reading.grade === 'invalid' || !Number.isFinite(tone.levelDbfs)) return null;
  return {
    levelDbfs: tone.levelDbfs,
    uncertaintyDb: tone.uncertainty.levelDb,
    thdPercent: tone.thdPercent,
    verdict: clipping.verdict,
    overdriveDb: clipping.overdriveDb,
    kneeDbfs: clipping.kneeDbfs,
    grade: reading.grade,
    doubts: reading.doubts,
  };
}
