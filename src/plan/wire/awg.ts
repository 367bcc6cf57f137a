import { PlanRefused } from '../refused.ts';

/** Gauges run from 0000, written here as -3, to 40. */
const THICKEST = -3;
const THINNEST = 40;

function gauge(number: number): number {
  if (Number.isInteger(number) && number >= THICKEST && number <= THINNEST) return number;
  throw new PlanRefused(`A gauge of ${number} is unknown: it must be whole, from -3 (0000) to 40.`);
}

/**
 * Diameter of a solid conductor, mm: 0.127 · 92^((36 - n)/39), where 0, -1, -2
 * and -3 stand for 0, 00, 000 and 0000 (ASTM B258).
 * @throws PlanRefused for a gauge that is not whole or outside 0000 to 40.
 */
export function awgDiameterMm(number: number): number {
  return 0.127 * 92 ** ((36 - gauge(number)) / 39);
}

/** Cross-section of a solid conductor, mm². Inverse for any area: {@link awgOfArea}. */
export function awgAreaMm2(number: number): number {
  return (Math.PI / 4) * awgDiameterMm(number) ** 2;
}

/** The gauge of an area as a plain number, between gauges too. Inverse: {@link awgAreaMm2}. */
export function awgOfArea(areaMm2: number): number {
  const diameterMm = Math.sqrt((4 * areaMm2) / Math.PI);
  return 36 - (39 * Math.log(diameterMm / 0.127)) / Math.log(92);
}

/** "4/0", "1/0", "4": as the trade writes it. */
export function awgName(number: number): string {
  return gauge(number) > 0 ? String(number) : `${1 - number}/0`;
}
