/** A knee on the input's own scale, before volts are put to it. */
export interface FoundKnee {
  levelDbfs: number;
  /** Standard uncertainty (k = 1). */
  uncertaintyDb: number;
}
