import { combined, rectangular } from '../calibration/gum.ts';
import { positive } from '../refused.ts';
import { ratioToDb, relativeToDb } from '../units/ratio.ts';

/**
 * A resistive divider ahead of an input. `seriesOhms` stands in each of
 * `legs` wires: one for an ordinary divider, two for a symmetrical one, where
 * neither terminal of the source meets the input's ground directly.
 */
export interface Divider {
  legs: 1 | 2;
  seriesOhms: number;
  shuntOhms: number;
  /** Impedance of the input across the shunt; `Infinity` for none. */
  inputOhms: number;
}

export interface DividerTolerances {
  /** Of each resistor, as a share: 0.01 for 1 %. */
  resistors: number;
  /** Of the input's impedance, as a share. */
  input: number;
}

export interface DividerFigures {
  /** Out over in, the input connected. */
  ratio: number;
  ratioDb: number;
  /** What connecting the input changes, dB; 0 or below. */
  loadingErrorDb: number;
  /** Source resistance that the input sees. */
  sourceOhms: number;
  /** Standard uncertainty of the ratio from the tolerances, dB. */
  uncertaintyDb: number;
}

/** Two resistances in parallel; either may be `Infinity`. */
export function parallelOhms(a: number, b: number): number {
  return 1 / (1 / a + 1 / b);
}

/**
 * ratio = R2' / (R1 + R2'), R2' = R2 parallel R_in, R1 all series resistance.
 * Each part's relative deviation enters the ratio times (1 - ratio), the shunt
 * and the input shared out by their part in R2'; each is rectangular.
 * @throws PlanRefused for a resistance not above 0.
 */
export function dividerFigures(divider: Divider, tolerances: DividerTolerances): DividerFigures {
  refuseBadParts(divider);
  const { shuntOhms, inputOhms, legs } = divider;
  const allSeriesOhms = legs * divider.seriesOhms;
  const loadedOhms = parallelOhms(shuntOhms, inputOhms);
  const ratio = loadedOhms / (allSeriesOhms + loadedOhms);
  const unloadedRatio = shuntOhms / (allSeriesOhms + shuntOhms);
  const shuntPart = loadedOhms / shuntOhms;
  const relative =
    (1 - ratio) *
    combined([
      rectangular(tolerances.resistors) / Math.sqrt(legs),
      rectangular(tolerances.resistors) * shuntPart,
      rectangular(tolerances.input) * (1 - shuntPart),
    ]);
  return {
    ratio,
    ratioDb: ratioToDb(ratio),
    loadingErrorDb: ratioToDb(ratio / unloadedRatio),
    sourceOhms: parallelOhms(allSeriesOhms, shuntOhms),
    uncertaintyDb: relativeToDb(relative),
  };
}

export interface DividerPower {
  /** In each series resistor, with the input connected. */
  seriesWatts: number;
  /** In the shunt, with the input pulled: the worse case for it. */
  shuntWatts: number;
}

/** Heat in the parts at `volts` RMS across the divider. @throws PlanRefused for a resistance not above 0. */
export function dividerPower(divider: Divider, volts: number): DividerPower {
  refuseBadParts(divider);
  const allSeriesOhms = divider.legs * divider.seriesOhms;
  const loadedOhms = parallelOhms(divider.shuntOhms, divider.inputOhms);
  const loadedAmperes = volts / (allSeriesOhms + loadedOhms);
  const unloadedAmperes = volts / (allSeriesOhms + divider.shuntOhms);
  return {
    seriesWatts: loadedAmperes ** 2 * divider.seriesOhms,
    shuntWatts: unloadedAmperes ** 2 * divider.shuntOhms,
  };
}

function refuseBadParts(divider: Divider): void {
  positive(divider.seriesOhms, "The divider's series resistor, in ohms,");
  positive(divider.shuntOhms, "The divider's shunt resistor, in ohms,");
  if (divider.inputOhms !== Number.POSITIVE_INFINITY) {
    positive(divider.inputOhms, "The input's impedance, in ohms,");
  }
}
