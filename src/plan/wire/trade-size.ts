import { figure } from '../figures.ts';
import { positive } from '../refused.ts';
import { awgAreaMm2, awgName, awgOfArea } from './awg.ts';

export type SizeSystem = 'awg' | 'metric';

/** A cross-section that is sold. */
export interface TradeSize {
  name: string;
  areaMm2: number;
}

/** Gauges that power and speaker cable is sold in (common practice), thinnest first. */
const SOLD_AWG = [18, 16, 14, 12, 10, 8, 6, 4, 2, 0, -1, -2, -3];

/** Nominal areas of IEC 60228, mm²; those from 4 to 95 stand in its table of resistances, the others are from memory. */
const NOMINAL_MM2 = [0.75, 1, 1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95, 120];

export const TRADE_SIZES: Record<SizeSystem, readonly TradeSize[]> = {
  awg: SOLD_AWG.map((number) => ({ name: `${awgName(number)} AWG`, areaMm2: awgAreaMm2(number) })),
  metric: NOMINAL_MM2.map((areaMm2) => ({ name: `${areaMm2} mm²`, areaMm2 })),
};

/** Areas this close are one size: 21.2 mm² is 4 AWG. */
const SAME_AREA = 0.01;

/**
 * The thinnest size sold that is at least this thick; `null` where none is.
 * @throws PlanRefused for an area that is not above 0.
 */
export function nextThicker(areaMm2: number, system: SizeSystem): TradeSize | null {
  const needed = positive(areaMm2, 'A cross-section, in mm²,') * (1 - SAME_AREA);
  return TRADE_SIZES[system].find((size) => size.areaMm2 >= needed) ?? null;
}

/** "4 AWG (21.2 mm²)" where the area is a gauge's, else "25 mm²". */
export function sizeWords(areaMm2: number): string {
  const inMm2 = `${figure(areaMm2, 3)} mm²`;
  const number = Math.round(awgOfArea(areaMm2));
  if (number < -3 || number > 40) return inMm2;
  const isGauge = Math.abs(areaMm2 / awgAreaMm2(number) - 1) < SAME_AREA;
  return isGauge ? `${awgName(number)} AWG (${inMm2})` : inMm2;
}
