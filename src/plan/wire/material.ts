export type WireMaterial = 'copper' | 'copper-clad-aluminium';

/** Annealed copper of 100 % IACS at 20 °C, ohm metres: 1/58 ohm mm² per metre (NBS Handbook 100, 1966). */
const COPPER_OHM_METRES = 1e-6 / 58;

/**
 * Conductivity against annealed copper (IACS). Copper-clad aluminium is taken
 * at the least that ASTM B566 allows with a tenth of its volume copper, the
 * usual grade: the share is not printed on the cable.
 */
const CONDUCTIVITY: Record<WireMaterial, number> = { copper: 1, 'copper-clad-aluminium': 0.629 };

/**
 * Per kelvin, at 20 °C (NBS Handbook 100). Aluminium's is 0.00403 from memory:
 * over 30 K that is 0.3 % of the resistance, so copper's serves for both.
 */
const PER_KELVIN = 0.003_93;

/** Resistance against that at 20 °C: 1 + 0.00393 (T - 20). NaN in, NaN out. */
export function warming(celsius: number): number {
  return 1 + PER_KELVIN * (celsius - 20);
}

/** Ohm metres of a solid conductor. */
export function resistivityOhmMetres(material: WireMaterial, celsius = 20): number {
  return (COPPER_OHM_METRES / CONDUCTIVITY[material]) * warming(celsius);
}

export const MATERIAL_WORDS: Record<WireMaterial, string> = {
  copper: 'copper',
  'copper-clad-aluminium': 'copper-clad aluminium',
};
