import type { FloorEstimate } from './floor-estimate.ts';
import type { PowerDensity } from './power-density.ts';

/** A line that stands over the floor for the whole record. */
export interface SpectralLine {
  frequencyHz: number;
  /** Sine convention. */
  levelDbfs: number;
  /** Over the floor in a third of an octave around it: what a listener's ear would weigh it against. */
  overFloorDb: number;
  /** Scatter of its frequency; 0 for a line that holds still as far as the record can tell. */
  wanderHz: number;
}

/** Half of a third of an octave. */
const HALF_BAND = 2 ** (1 / 6);

/** A line keeps this share of its power in the main lobe around its top unless it wanders. */
const SHARP_SHARE = 0.7;

/**
 * Every line of a spectrum between two frequencies, lowest first. Lines whose skirts meet (nearer than
 * about two main lobes) are one line, which wanders.
 */
export function spectralLines(
  spectrum: PowerDensity,
  floor: FloorEstimate,
  lowHz: number,
  highHz: number,
): SpectralLine[] {
  const lines: SpectralLine[] = [];
  const { covered } = floor;
  for (let bin = 1; bin < covered.length; bin += 1) {
    if (covered[bin] === 0) continue;
    const first = bin;
    while (bin + 1 < covered.length && covered[bin + 1] === 1) bin += 1;
    const line = lineOver(spectrum, floor, first, bin);
    if (line !== null && line.frequencyHz >= lowHz && line.frequencyHz <= highHz) lines.push(line);
  }
  return lines;
}

function lineOver(
  spectrum: PowerDensity,
  floor: FloorEstimate,
  first: number,
  last: number,
): SpectralLine | null {
  const { values, binHz, lobeBins } = spectrum;
  const over = (bin: number) => (values[bin]! - floor.values[bin]!) * binHz;
  let [meanSquare, moment, square, top] = [0, 0, 0, first];
  for (let bin = first; bin <= last; bin += 1) {
    meanSquare += over(bin);
    moment += bin * over(bin);
    if (values[bin]! > values[top]!) top = bin;
  }
  if (!(meanSquare > 0)) return null;
  let inLobe = 0;
  for (let bin = Math.max(first, top - lobeBins); bin <= Math.min(last, top + lobeBins); bin += 1)
    inLobe += over(bin);
  const sharp = inLobe >= SHARP_SHARE * meanSquare;
  const centre = sharp ? top + vertex(values, top) : moment / meanSquare;
  for (let bin = first; bin <= last; bin += 1) square += Math.max(0, over(bin)) * (bin - centre) ** 2;
  const frequencyHz = centre * binHz;
  return {
    frequencyHz,
    levelDbfs: 10 * Math.log10(2 * meanSquare),
    overFloorDb: overFloorDb(meanSquare, frequencyHz, spectrum, floor),
    wanderHz: sharp ? 0 : Math.sqrt(square / meanSquare) * binHz,
  };
}

function overFloorDb(
  meanSquare: number,
  frequencyHz: number,
  { binHz }: PowerDensity,
  { values }: FloorEstimate,
): number {
  const from = Math.max(1, Math.round(frequencyHz / HALF_BAND / binHz));
  const to = Math.min(values.length - 1, Math.round((frequencyHz * HALF_BAND) / binHz));
  let under = 0;
  for (let bin = from; bin <= to; bin += 1) under += values[bin]! * binHz;
  return 10 * Math.log10(meanSquare / under);
}

/** Top of the parabola through three bins in decibels, -0.5 to 0.5 of a bin from the middle one. */
function vertex(values: Float64Array, bin: number): number {
  const decibels = (at: number) => Math.log(Math.max(values[at] ?? 0, 1e-300));
  const [left, middle, right] = [decibels(bin - 1), decibels(bin), decibels(bin + 1)];
  const curvature = left - 2 * middle + right;
  return curvature < 0 ? Math.max(-0.5, Math.min(0.5, (left - right) / (2 * curvature))) : 0;
}
