/**
 * Volts and the two absolute decibel scales of the trade.
 *
 * dBV is 20 lg(V / 1 V). dBu is 20 lg(V / sqrt(0.6) V): the voltage of 1 mW in
 * 600 ohm, not the rounded 0.775 V, which would be 0.0045 dB off (ITU-R V.574).
 * 0 V is -Infinity on both scales; a negative voltage and NaN are NaN.
 */
export const DBU_REFERENCE_VOLTS = Math.sqrt(0.6);

/** Inverse: {@link dbvToVolts}. */
export function voltsToDbv(volts: number): number {
  return 20 * Math.log10(volts);
}

/** Inverse: {@link voltsToDbv}. */
export function dbvToVolts(dbv: number): number {
  return 10 ** (dbv / 20);
}

/** Inverse: {@link dbuToVolts}. */
export function voltsToDbu(volts: number): number {
  return 20 * Math.log10(volts / DBU_REFERENCE_VOLTS);
}

/** Inverse: {@link voltsToDbu}. */
export function dbuToVolts(dbu: number): number {
  return DBU_REFERENCE_VOLTS * 10 ** (dbu / 20);
}
