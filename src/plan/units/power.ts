/** Power of a sine in a resistive load: P = V^2 / R, V in volts RMS. NaN in, NaN out; nothing is thrown. */

/** Inverse: {@link voltsToWatts}. */
export function wattsToVolts(watts: number, loadOhms: number): number {
  return Math.sqrt(watts * loadOhms);
}

/** Inverse: {@link wattsToVolts}. */
export function voltsToWatts(volts: number, loadOhms: number): number {
  return (volts * volts) / loadOhms;
}
