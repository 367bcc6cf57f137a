/** AES17-2015 3.12.1: a full-scale sine, whose mean square is 1/2, is 0 dBFS. `null` for silence. */
export function dbfsFromMeanSquare(meanSquare: number): number | null {
  return meanSquare > 0 ? 10 * Math.log10(2 * meanSquare) : null;
}

/** Decibels of an amplitude ratio, or of a peak against full scale 1.0. `null` for silence. */
export function dbFromAmplitude(amplitude: number): number | null {
  return amplitude > 0 ? 20 * Math.log10(amplitude) : null;
}

/** The power below which a figure is numerical dust of 64-bit arithmetic: -300 dB. */
export const DUST = 1e-30;

/** Decibels of a power ratio that was measured above numerical dust; always finite. */
export function dbFromPower(power: number): number {
  return 10 * Math.log10(Math.max(power, DUST));
}
