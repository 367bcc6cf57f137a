/** Beyond this the plan has changed since the reading was accepted: 1 % of a volt's worth, far under any tolerance. */
const SAME_TARGET_DB = 0.05;

/** Whether two targets, in volts, are one; with none there is nothing to be alike. */
export function isSameTarget(then: number, now: number | null): boolean {
  return now !== null && Math.abs(20 * Math.log10(then / now)) <= SAME_TARGET_DB;
}
