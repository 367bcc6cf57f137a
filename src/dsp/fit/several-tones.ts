import { CoarseToneFinder } from './coarse-tone.ts';
import { type FittedLines, fitCombinations } from './sine-fit.ts';

/** Where a line is looked for about a residual's peak, bins. */
const OFFSETS_BINS = [0, -0.7, 0.7, -1.4, 1.4, -2.1, 2.1];

/**
 * Several tones of a record, each by frequency, level and phase, all fitted together: found one after
 * the other, strongest first, each in what the ones before leave (J. Li and P. Stoica, IEEE Trans. SP
 * 44(2) 1996), and refitted jointly each time. Tones of like level are told apart from 1.5 bins of the
 * sample rate over the number of samples; a weak tone beside a strong one is found where it rises above
 * the noise, since the strong one is taken out first.
 *
 * @param count how many tones are looked for, from 1 up
 * @returns by rising frequency; `null` where fewer can be found. Silence and NaN give `null`
 */
export function fitSeveralTones(
  samples: Float32Array | Float64Array,
  sampleRateHz: number,
  count: number,
): FittedLines | null {
  const finder = new CoarseToneFinder(samples.length, sampleRateHz);
  let fitted: FittedLines | null = null;
  for (let found = 0; found < count; found += 1) {
    const next = finder.find(fitted?.residual ?? samples, null);
    if (next === null) return null;
    const known: number[] = fitted?.lines.map((line) => line.frequencyHz) ?? [];
    fitted = withOneMore(samples, sampleRateHz, known, next.frequencyHz);
    if (fitted === null) return null;
  }
  fitted?.lines.sort((a, b) => a.frequencyHz - b.frequencyHz);
  return fitted;
}

/** Each line with a base of its own. */
function freeLines(count: number): number[][] {
  return Array.from({ length: count }, (_, k) => Array.from({ length: count }, (__, j) => (j === k ? 1 : 0)));
}

/**
 * All lines with a new one, from where it explains most. What stands highest in the residual may lie a bin
 * and more beside the line itself: the ones already fitted have taken their part of it.
 */
function withOneMore(
  samples: Float32Array | Float64Array,
  sampleRateHz: number,
  known: readonly number[],
  aboutHz: number,
): FittedLines | null {
  const offsets = known.length === 0 ? [0] : OFFSETS_BINS;
  let best: FittedLines | null = null;
  for (const away of offsets) {
    const starts = [...known, aboutHz + (away * sampleRateHz) / samples.length];
    const fit = fitCombinations(samples, sampleRateHz, starts, freeLines(starts.length));
    if (fit !== null && (best === null || fit.residualRms < best.residualRms)) best = fit;
  }
  return best;
}
