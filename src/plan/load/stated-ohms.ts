/**
 * Data sheets print the load of three drivers in parallel rounded: 1.33 ohm for
 * 4/3, 2.67 for 8/3. This program's convention: a stated load that is a third
 * of an ohm rounded to two or more decimals means that third exactly, so that
 * it meets the load computed from the wiring. Taken literally, 1.33 would be
 * 0.25 % low in power and 0.125 % in volts (references, item 1).
 */
const HALF_OF_LAST_DIGIT = 0.005;

/** The load a printed figure stands for, ohms. Everything but a rounded third passes unchanged, NaN too. */
export function statedOhms(printedOhms: number): number {
  const thirds = Math.round(printedOhms * 3);
  const exactOhms = thirds / 3;
  const isThird = thirds > 0 && thirds % 3 !== 0;
  return isThird && Math.abs(printedOhms - exactOhms) < HALF_OF_LAST_DIGIT ? exactOhms : printedOhms;
}
