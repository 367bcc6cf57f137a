import { CoarseToneFinder } from './coarse-tone.ts';
import { type FittedLines, fitCombinations } from './sine-fit.ts';

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
    const starts = [...(fitted?.lines.map((line) => line.frequencyHz) ?? []), next.frequencyHz];
    const orders = starts.map((_, k) => starts.map((__, j) => (j === k ? 1 : 0)));
    fitted = fitCombinations(samples, sampleRateHz, starts, orders);
    if (fitted === null) return null;
  }
  fitted?.lines.sort((a, b) => a.frequencyHz - b.frequencyHz);
  return fitted;
}
