/**
 * Digital filters made by the bilinear transform with their corner prewarped (A. Oppenheim and R. Schafer,
 * *Discrete-Time Signal Processing*, section 7.1.2): exactly the analogue filter on a frequency axis of
 * `(fs/pi) tan(pi f / fs)`, the usual kind in a radio or processor. Above a tenth of its rate it can be told.
 */

/** The rates at which radios and processors run. */
export const DIGITAL_RATES_HZ: readonly number[] = [44_100, 48_000, 96_000];

/** Where `frequencyHz` lies on the analogue filter's axis; inverse of `unwarped`. */
export function bilinearWarp(frequencyHz: number, rateHz: number): number {
  return (rateHz / Math.PI) * Math.tan((Math.PI * frequencyHz) / rateHz);
}

/** Inverse of `bilinearWarp`. */
export function unwarped(analogueHz: number, rateHz: number): number {
  return (rateHz / Math.PI) * Math.atan((Math.PI * analogueHz) / rateHz);
}
