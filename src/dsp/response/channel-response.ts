/** Everything that one channel's recorded sweep tells: curve, phase, harmonics, filters. */

import { type FilterFinding, findFilters } from '../filters/filter-fit.ts';
import type { Filter } from '../filters/filter-response.ts';
import { fitRegion } from '../filters/fit-region.ts';
import { curveFrequencies, curvePoint, smoothedLevelDb } from './curve.ts';
import type { SweepDeconvolver } from './deconvolver.ts';
import { type ExcessPhase, excessPhase, phaseDeg } from './excess-phase.ts';
import { HIGHEST_LISTED_HARMONIC, harmonicLevelsDb } from './harmonic-levels.ts';
import { levelPoints, slicedPoints } from './level-points.ts';
import { dividedBy, type ResponseSpectrum } from './response-spectrum.ts';
import type { AnalysedSweep } from './sweep-analysis.ts';
import { growthSeconds } from './sweep-law.ts';

export interface FrequencyBand {
  lowHz: number;
  highHz: number;
}

export interface ChannelResponse {
  frequenciesHz: number[];
  magnitudesDb: (number | null)[];
  uncertaintiesDb: (number | null)[];
  /** Delay and clock skew taken off. */
  phasesDeg: (number | null)[];
  /** Delay of the response from where the sweep was taken to begin, that has been taken off; `null` if unknown. */
  delaySeconds: number | null;
  /** Recorder's clock over player's; `null` where phase does not tell, or was not asked. */
  clockSkewPpm: number | null;
  thirdOctaves: { frequencyHz: number; levelDb: number | null }[];
  harmonics: { order: number; levelsDbc: (number | null)[] }[];
  /** The stretch that filters were looked for in; `null` where nothing stands out of the noise. */
  fitted: FrequencyBand | null;
  finding: FilterFinding | null;
}

/**
 * Filters are looked for up to here. Vehicles' crossovers lie lower; above, converters and lossy coding cut off,
 * steeper than any of them.
 */
const HIGHEST_FITTED_HZ = 15_000;
/** Nor at the very ends of the sweep, where its fades and its sudden start leave less of it. */
const END_SHARE = 1.02;
const LEAST_POINTS = 12;
/** Third octaves of the table: every eighth of the curve's 24 per octave. */
const CURVE_POINTS_PER_THIRD = 8;

interface Fitted {
  fitted: FrequencyBand | null;
  finding: FilterFinding | null;
}

function findIn(spectrum: ResponseSpectrum, held: FrequencyBand): Fitted {
  const highHz = Math.min(HIGHEST_FITTED_HZ, held.highHz / END_SHARE);
  const points = levelPoints(spectrum, held.lowHz * END_SHARE, highHz);
  const { from, to } = fitRegion(points);
  if (to - from < LEAST_POINTS) return { fitted: null, finding: null };
  const { frequenciesHz, levelsDb, sigmasDb } = slicedPoints(points, from, to);
  return {
    fitted: { lowHz: frequenciesHz[0]!, highHz: frequenciesHz.at(-1)! },
    finding: findFilters(frequenciesHz, levelsDb, sigmasDb),
  };
}

/** What is known whole, for its phase; a filter whose alignment is open has none. */
function wholeFilters(finding: FilterFinding | null): Filter[] {
  return (finding?.filters ?? []).flatMap(({ kind, alignment, order, cutoffHz }) =>
    alignment === null || order === null ? [] : [{ kind, alignment, order, cutoffHz }],
  );
}

function excessOf(
  spectrum: ResponseSpectrum,
  { fitted, finding }: Fitted,
  timing: { startHz: number; growthSeconds: number },
  divided: boolean,
): { excess: ExcessPhase | null; withSkew: boolean } {
  if (fitted === null || finding === null) return { excess: null, withSkew: false };
  const filters = wholeFilters(finding);
  const explained = finding.verdict !== 'none of these' && filters.length === finding.filters.length;
  const withSkew = explained && !divided;
  return { excess: excessPhase(spectrum, filters, fitted, timing, withSkew), withSkew };
}

/**
 * @param deconvolver what analysed the sweep
 * @param reference the sweep recorded ahead of what is to be measured, divided out; `null` for none
 * @param held the part of the sweep's band that the recording holds
 */
export function channelResponse(
  deconvolver: SweepDeconvolver,
  analysed: AnalysedSweep,
  reference: AnalysedSweep | null,
  held: FrequencyBand,
): ChannelResponse {
  const { spec } = deconvolver;
  const spectrum = reference === null ? analysed.spectrum : dividedBy(analysed.spectrum, reference.spectrum);
  const frequenciesHz = curveFrequencies(held.lowHz, held.highHz);
  const curve = frequenciesHz.map((frequencyHz) => curvePoint(spectrum, frequencyHz));
  const found = findIn(spectrum, held);
  const timing = { startHz: spec.startHz, growthSeconds: growthSeconds(spec) };
  const { excess, withSkew } = excessOf(spectrum, found, timing, reference !== null);
  const thirds = curveFrequencies(held.lowHz, held.highHz).filter(
    (hertz) => Math.round(80 * Math.log10(hertz / 1000)) % CURVE_POINTS_PER_THIRD === 0,
  );
  const orders = Array.from({ length: HIGHEST_LISTED_HARMONIC - 1 }, (_, i) => i + 2);
  return {
    frequenciesHz,
    magnitudesDb: curve.map((point) => point.magnitudeDb),
    uncertaintiesDb: curve.map((point) => point.uncertaintyDb),
    phasesDeg: frequenciesHz.map((frequencyHz) =>
      excess === null ? null : phaseDeg(spectrum, frequencyHz, excess, timing),
    ),
    delaySeconds: excess?.delaySeconds ?? null,
    clockSkewPpm: withSkew && excess !== null ? 1e6 * excess.clockSkew : null,
    thirdOctaves: thirds.map((frequencyHz) => ({
      frequencyHz,
      levelDb: smoothedLevelDb(spectrum, frequencyHz, 1 / 3),
    })),
    harmonics: orders.map((order) => ({
      order,
      levelsDbc: harmonicLevelsDb(deconvolver, analysed, order, frequenciesHz),
    })),
    ...found,
  };
}
