import { positive } from '../refused.ts';
import { resistivityOhmMetres, type WireMaterial } from './material.ts';

/*
 * Heat balance of one wire in still air: what its surface gives off at its
 * insulation's limit is the current it carries for good, I² R' = h π D ΔT.
 * The four figures below are from memory and on the cautious side: the result
 * stands at 0.7 to 0.8 of the marine table for 105 °C insulation in open air
 * (ABYC E-11, also from memory). A cable maker's own figure goes first.
 */
const SURFACE_WATTS_PER_M2_KELVIN = 12;
/** Lowest class of vehicle cable (ISO 6722 class A), °C. */
const INSULATION_CELSIUS = 85;
/** Under the carpet of a warm vehicle, °C. */
const SURROUNDING_CELSIUS = 40;
/** Strands fill about three quarters of their circle, and the insulation is about a millimetre thick. */
const STRANDED_DIAMETER = 1.155;
const WALL_MM = 1;

/**
 * Current that a wire carries for good without harm to its insulation, amperes.
 * @throws PlanRefused for an area that is not above 0.
 */
export function wireCapacityAmperes(areaMm2: number, material: WireMaterial): number {
  const area = positive(areaMm2, 'The cross-section of a wire, in mm²,');
  const diameterMm = Math.sqrt((4 * area) / Math.PI) * STRANDED_DIAMETER + 2 * WALL_MM;
  const wattsPerMetre =
    SURFACE_WATTS_PER_M2_KELVIN * Math.PI * (diameterMm / 1000) * (INSULATION_CELSIUS - SURROUNDING_CELSIUS);
  const ohmsPerMetre = resistivityOhmMetres(material, INSULATION_CELSIUS) / (area * 1e-6);
  return Math.sqrt(wattsPerMetre / ohmsPerMetre);
}
