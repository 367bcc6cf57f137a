import { figure } from '../figures.ts';
import { notNegative, PlanRefused, positive } from '../refused.ts';
import { sineRmsToPeak } from '../units/peak.ts';
import { dbToRatio, ratioToDb } from '../units/ratio.ts';
import { dividerCautions } from './cautions.ts';
import { type Divider, type DividerFigures, dividerFigures, dividerPower } from './divider.ts';
import { e24Between, resistorRatingWatts } from './preferred-values.ts';

export interface DividerWish {
  /** Highest volts RMS expected at the measured point, as a sine. */
  highestVolts: number;
  /** Volts RMS of a full-scale sine at the input. */
  fullScaleVolts: number;
  inputOhms: number;
  /** How far off the input's impedance may be, as a share (0.3 for 30 %). */
  inputOhmsTolerance: number;
  /** Room left between the highest expected peak and full scale, dB. */
  headroomDb: number;
  /** Of the resistors: 1 or 5 %. */
  tolerancePercent: 1 | 5;
  /** 2 puts equal resistors in both wires, for bridged and floating outputs. */
  legs: 1 | 2;
}

/**
 * Room for what exceeds the rated voltage: an amplifier's rails lie above its
 * rating, and past the knee a tone nears a square wave; its peak, not its RMS,
 * is what overloads an input.
 */
export const USUAL_HEADROOM_DB = 6;

export interface DividerDesign extends DividerFigures {
  divider: Divider;
  tolerancePercent: 1 | 5;
  /** Peak volts the input sees at the highest expected sine. */
  inputPeakVolts: number;
  /** Room really left, dB; at least what was asked for. */
  headroomDb: number;
  seriesWatts: number;
  shuntWatts: number;
  /** Rating to buy: at least twice the dissipation. */
  seriesRatedWatts: number;
  shuntRatedWatts: number;
  /** A full-scale sine at the input is this many volts RMS at the measured point. */
  voltsPerFs: number;
  cautions: string[];
}

/** Least series resistance: keeps the current of any fault behind it small. */
const SERIES_OHMS = { low: 1000, high: 1_000_000 };
const SHUNT_OHMS = { low: 47, high: 10_000 };

/**
 * Chooses E24 resistors so that the highest expected peak stays under full
 * scale by the headroom. Of all pairs that do, the one with the least sum of:
 * headroom beyond the wish (dB), twice the ratio's uncertainty (dB, the
 * input's loading included), and 0.3 for each doubling of the larger power
 * rating above 1/4 W. So the divider is as low-ohmic as quarter-watt parts
 * allow, which keeps an uncertain input impedance out of the reading.
 * @throws PlanRefused for figures that make no sense, an input that needs no
 * divider, and one that no E24 pair can serve.
 */
export function designDivider(wish: DividerWish): DividerDesign {
  const wantedRatio = wantedRatioOf(wish);
  if (wantedRatio >= 1) {
    throw new PlanRefused(
      `${figure(wish.highestVolts)} V with ${figure(wish.headroomDb)} dB of headroom is within the input's full scale of ${figure(wish.fullScaleVolts)} V; no divider is needed.`,
    );
  }
  let best: { design: DividerDesign; score: number } | null = null;
  for (const seriesOhms of e24Between(SERIES_OHMS.low, SERIES_OHMS.high)) {
    for (const shuntOhms of e24Between(SHUNT_OHMS.low, SHUNT_OHMS.high)) {
      const divider: Divider = { legs: wish.legs, seriesOhms, shuntOhms, inputOhms: wish.inputOhms };
      const design = describeDivider(divider, wish);
      if (design === null || design.ratio > wantedRatio) continue;
      const score = scoreOf(design, wantedRatio);
      if (best === null || score < best.score) best = { design, score };
    }
  }
  if (best === null) {
    throw new PlanRefused(
      `No pair of E24 resistors brings ${figure(wish.highestVolts)} V down to ${figure(wish.highestVolts * wantedRatio)} V within 5 W a part; take an input with a higher full scale.`,
    );
  }
  return best.design;
}

/**
 * Figures of a divider of given parts.
 * `null` where a part would need a rating above 10 W.
 * @throws PlanRefused as {@link designDivider}.
 */
function describeDivider(divider: Divider, wish: DividerWish): DividerDesign | null {
  const figures = dividerFigures(divider, {
    resistors: wish.tolerancePercent / 100,
    input: wish.inputOhmsTolerance,
  });
  const power = dividerPower(divider, wish.highestVolts);
  const seriesRatedWatts = resistorRatingWatts(power.seriesWatts);
  const shuntRatedWatts = resistorRatingWatts(power.shuntWatts);
  if (seriesRatedWatts === null || shuntRatedWatts === null) return null;
  return {
    ...figures,
    ...power,
    divider,
    tolerancePercent: wish.tolerancePercent,
    inputPeakVolts: sineRmsToPeak(wish.highestVolts) * figures.ratio,
    headroomDb: ratioToDb(wish.fullScaleVolts / (wish.highestVolts * figures.ratio)),
    seriesRatedWatts,
    shuntRatedWatts,
    voltsPerFs: wish.fullScaleVolts / figures.ratio,
    cautions: dividerCautions(divider.legs),
  };
}

function wantedRatioOf(wish: DividerWish): number {
  const highestVolts = positive(wish.highestVolts, 'The highest expected voltage, in volts,');
  const fullScaleVolts = positive(wish.fullScaleVolts, "The input's full scale, in volts,");
  const headroomDb = notNegative(wish.headroomDb, 'The headroom, in dB,');
  notNegative(wish.inputOhmsTolerance, "The tolerance of the input's impedance");
  positive(wish.inputOhms, "The input's impedance, in ohms,");
  return (fullScaleVolts * dbToRatio(-headroomDb)) / highestVolts;
}

function scoreOf(design: DividerDesign, wantedRatio: number): number {
  const spareDb = ratioToDb(wantedRatio / design.ratio);
  const largestWatts = Math.max(design.seriesRatedWatts, design.shuntRatedWatts);
  return spareDb + 2 * design.uncertaintyDb + 0.3 * Math.log2(largestWatts / 0.25);
}
