import { curvePoint } from './curve.ts';
import type { SweepDeconvolver } from './deconvolver.ts';
import { responseSpectrum } from './response-spectrum.ts';
import type { AnalysedSweep } from './sweep-analysis.ts';
import { gateFor } from './sweep-analysis.ts';
import { harmonicLeadSeconds } from './sweep-law.ts';

export const HIGHEST_LISTED_HARMONIC = 5;

/** Enough to say whether noise hides a harmonic. */
const NOISE_GATES = 2;

/**
 * Level of one harmonic against the fundamental, for each frequency that was played: the harmonic's own response,
 * cut out of the impulse response `L ln N` ahead of the linear one (Farina 2000), read at N times the frequency.
 *
 * @returns dB against the fundamental; `null` where noise hides it, or where it lies past the sweep's end
 */
export function harmonicLevelsDb(
  deconvolver: SweepDeconvolver,
  analysed: AnalysedSweep,
  order: number,
  frequenciesHz: readonly number[],
): (number | null)[] {
  const { sampleRateHz, spec } = deconvolver;
  const lead = harmonicLeadSeconds(spec, order);
  const toPrevious = lead - harmonicLeadSeconds(spec, order - 1);
  const toNext = harmonicLeadSeconds(spec, order + 1) - lead;
  const whole = gateFor(deconvolver);
  const gate = {
    before: Math.min(whole.before, Math.round(0.45 * toNext * sampleRateHz)),
    after: Math.min(whole.after, Math.round(0.5 * toPrevious * sampleRateHz)),
  };
  const { arrival, response, quiet } = analysed;
  const place = arrival - Math.round(lead * sampleRateHz);
  const spectrum = responseSpectrum(response, sampleRateHz, place, gate, quiet, NOISE_GATES);
  return frequenciesHz.map((frequencyHz) => {
    if (order * frequencyHz > spec.endHz) return null;
    const harmonic = curvePoint(spectrum, order * frequencyHz).magnitudeDb;
    const fundamental = curvePoint(analysed.spectrum, frequencyHz).magnitudeDb;
    return harmonic === null || fundamental === null ? null : harmonic - fundamental;
  });
}
