/** Octaves are cut from here up; lower bins go with the first, because DC leaks into them. */
const FIRST_BIN = 4;

/**
 * The large shape of a spectrum: a low quantile of every octave, joined by straight lines in decibels
 * against octaves. Divided by it, a floor that falls by 6 dB per octave is level enough for regions to be
 * compared; lines do not reach the quantile. No estimate of the floor by itself. Zeros stay zero.
 *
 * @param quantile 0 to 1
 */
export function spectralSlope(values: Float64Array, quantile: number): Float64Array {
  const anchors: { octave: number; level: number }[] = [];
  for (let from = FIRST_BIN; from < values.length - 1; from *= 2) {
    const sorted = values.slice(from, Math.min(2 * from, values.length - 1)).sort();
    const power = sorted[Math.floor(quantile * sorted.length)]!;
    anchors.push({ octave: Math.log2(from) + 0.5, level: Math.log2(Math.max(power, Number.MIN_VALUE)) });
  }
  const slope = new Float64Array(values.length);
  let at = 0;
  for (let bin = 1; bin < values.length; bin += 1) {
    const octave = Math.log2(bin);
    while (at + 2 < anchors.length && octave > anchors[at + 1]!.octave) at += 1;
    const [low, high] = [anchors[at]!, anchors[at + 1] ?? anchors[at]!];
    const part = Math.max(0, Math.min(1, (octave - low.octave) / Math.max(high.octave - low.octave, 1)));
    slope[bin] = 2 ** (low.level + part * (high.level - low.level));
  }
  slope[0] = slope[1]!;
  return slope;
}
