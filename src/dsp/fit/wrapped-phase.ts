/** The angle by whole turns nearest to zero, -pi to pi. NaN stays NaN. */
export function wrappedPhase(radians: number): number {
  return radians - 2 * Math.PI * Math.round(radians / (2 * Math.PI));
}
