/** E24 and E6 preferred values (IEC 60063), for one decade. */
const E24 = [
  1.0, 1.1, 1.2, 1.3, 1.5, 1.6, 1.8, 2.0, 2.2, 2.4, 2.7, 3.0, 3.3, 3.6, 3.9, 4.3, 4.7, 5.1, 5.6, 6.2, 6.8,
  7.5, 8.2, 9.1,
];
const E6 = [1.0, 1.5, 2.2, 3.3, 4.7, 6.8];

/** Power ratings resistors are sold in, watts. */
const RESISTOR_WATTS = [0.25, 0.5, 1, 2, 5, 10];

/** E24 resistances from `lowOhms` to `highOhms`, both included, rising. */
export function e24Between(lowOhms: number, highOhms: number): number[] {
  return decades(E24, lowOhms, highOhms).filter((ohms) => ohms >= lowOhms && ohms <= highOhms);
}

/** The smallest E6 capacitance that is not below `farads`. */
export function e6AtLeast(farads: number): number {
  const leeway = 1 - 1e-9;
  return decades(E6, farads, farads * 10).find((value) => value >= farads * leeway) ?? Number.NaN;
}

/**
 * The smallest power rating that leaves a factor of two over `watts`, so that
 * the part stays cool and a clipped tone (twice a sine's power at the same
 * peak) still does not burn it; `null` above 5 W of dissipation.
 */
export function resistorRatingWatts(watts: number): number | null {
  return RESISTOR_WATTS.find((rating) => rating >= 2 * watts) ?? null;
}

function decades(series: number[], low: number, high: number): number[] {
  const first = Math.floor(Math.log10(low)) - 1;
  const last = Math.ceil(Math.log10(high));
  const exponents = Array.from({ length: last - first + 1 }, (_, index) => first + index);
  // Read as decimal text, so that 4.7 kohm is 4700 and not 4700.000000000001.
  return exponents.flatMap((exponent) => series.map((value) => Number(`${value}e${exponent}`)));
}
