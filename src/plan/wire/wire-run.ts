import { positive } from '../refused.ts';
import { resistivityOhmMetres, type WireMaterial, warming } from './material.ts';

/** One wire from end to end; for a pair of speaker wires the way out, and the way back is as long. */
export interface WireRun {
  metres: number;
  areaMm2: number;
  material: WireMaterial;
}

/**
 * Stranded cable against a solid wire of its nominal area, at most: the maxima
 * of IEC 60228 class 5 stand 10.4 % (70 mm²) to 14.9 % (4 mm²) above it.
 */
const STRANDED_MOST = 1.15;

/** Coldest and warmest at which somebody measures a vehicle (common practice). */
const COLD_CELSIUS = 0;
const WARM_CELSIUS = 50;

/**
 * Resistance of the wire alone, one way, ohms: R = ρ l / A, as a solid conductor of its nominal area.
 * @throws PlanRefused for a length or an area that is not above 0.
 */
export function runOhms(run: WireRun, celsius = 20): number {
  const metres = positive(run.metres, 'The length of a wire, in metres,');
  const areaMm2 = positive(run.areaMm2, 'The cross-section of a wire, in mm²,');
  return (resistivityOhmMetres(run.material, celsius) * metres) / (areaMm2 * 1e-6);
}

/** What such a wire may have, from solid and cold to stranded and warm. Joints are not in it. */
export function runOhmsBounds(run: WireRun): { low: number; high: number } {
  const solid = runOhms(run);
  return {
    low: solid * warming(COLD_CELSIUS),
    high: solid * STRANDED_MOST * warming(WARM_CELSIUS),
  };
}

/**
 * Thinnest area at which a current drops no more than allowed over a way, mm² (20 °C): A = ρ l I / ΔV.
 * @throws PlanRefused for figures that are not above 0.
 */
export function areaForDrop(way: {
  /** Way out and way back together, where both are of this wire. */
  metres: number;
  amperes: number;
  allowedVolts: number;
  material: WireMaterial;
}): number {
  const metres = positive(way.metres, 'The length of a wire, in metres,');
  const amperes = positive(way.amperes, 'The current, in amperes,');
  const allowedVolts = positive(way.allowedVolts, 'The allowed drop, in volts,');
  return (resistivityOhmMetres(way.material) * metres * amperes * 1e6) / allowedVolts;
}
