import type { ClippingShape, ClippingVerdict } from '../reading.ts';

/** One dot of distortion against level. Dots may come in any order. */
export interface KneePoint {
  /** Of the fundamental, as read behind the stage in question. */
  levelDbfs: number;
  /** THD (F form); by microphone the content of high order alone. */
  thdPercent: number;
  /** Standard uncertainty of `thdPercent`; left out where only the scatter of the dots tells it. */
  thdUncertaintyPercent?: number | null;
  verdict: ClippingVerdict;
  /** What limits, where the wave showed it; `soft` counts as evidence even beside `undecided`. */
  shape?: ClippingShape | null;
}

/** A knee on the input's own scale, before volts are put to it. */
export interface FoundKnee {
  levelDbfs: number;
  /** Standard uncertainty (k = 1). */
  uncertaintyDb: number;
}
