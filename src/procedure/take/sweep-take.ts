import { railOverloaded, railsOf } from '../../dsp/clipping/codes.ts';
import { type FilterFinding, findFilters } from '../../dsp/filters/filter-fit.ts';
import type { Filter } from '../../dsp/filters/filter-response.ts';
import { fitRegion } from '../../dsp/filters/fit-region.ts';
import { CodeCounter } from '../../dsp/level/code-counter.ts';
import type { FrequencyBand } from '../../dsp/response/channel-response.ts';
import { SweepDeconvolver } from '../../dsp/response/deconvolver.ts';
import { harmonicLevelsDb } from '../../dsp/response/harmonic-levels.ts';
import { slicedPoints } from '../../dsp/response/level-points.ts';
import { findCluster } from '../../dsp/response/locate.ts';
import { type PureDelay, pureDelay } from '../../dsp/response/pure-delay.ts';
import { type AnalysedSweep, analyseSweep, leadFrames } from '../../dsp/response/sweep-analysis.ts';
import { heldBand, sweepWindows } from '../../dsp/response/sweep-windows.ts';
import { dividedTransfer, type Transfer, transferOf, transferPoints } from '../../dsp/response/transfer.ts';
import type { SweepSpec } from '../../dsp/tones/spec.ts';
import { channelOfTake, factsOf, type Take, type TakeFacts } from './take.ts';

/** An exponential sweep was played, once, somewhere in the take. */
export interface SweepTakeRequest {
  kind: 'sweep';
  channelIndex: number;
  /** As it was played. */
  sweep: SweepSpec;
  /** What the same sweep read ahead of what is to be measured, divided out; `null` for nothing. */
  reference: Transfer | null;
}

export interface SweepResponse {
  /** Where the sweep begins in the take. */
  startSeconds: number;
  /** False where the recorder ran for a part of it only. */
  whole: boolean;
  transfer: Transfer;
  /** Whether a reference was divided out of it. */
  divided: boolean;
  /** 2nd and 3rd, for each frequency of `harmonicsAtHz` that was played; of the take itself, nothing divided. */
  harmonicsAtHz: number[];
  harmonics: { order: number; levelsDbc: (number | null)[] }[];
  /** The stretch that filters were looked for in; `null` where nothing stands out of the noise. */
  fitted: FrequencyBand | null;
  finding: FilterFinding | null;
  /** What the phase holds beyond the filters; `null` where they are not all known. */
  delay: PureDelay | null;
}

export interface SweepTakeReading extends TakeFacts {
  kind: 'sweep';
  /** `null` where the sweep is not in the take. */
  response: SweepResponse | null;
}

/** Filters are looked for up to here: above, converters and lossy coding cut off, steeper than any of them. */
const HIGHEST_FITTED_HZ = 15_000;
/** Nor at the very ends of the sweep, where its fades leave less of it. */
const END_SHARE = 1.02;
const LEAST_POINTS = 12;
const LISTED_HARMONICS = [2, 3];

interface FoundSweep {
  /** In the take; below 0 where its beginning was not recorded. */
  startFrame: number;
  analysed: AnalysedSweep;
}

/** `length` samples from `from` on; what lies outside the take is silence. */
function stretch(samples: Float32Array, from: number, length: number): Float64Array {
  const into = new Float64Array(length);
  const first = Math.max(0, from);
  const end = Math.min(samples.length, from + length);
  if (end > first) into.set(samples.subarray(first, end), first - from);
  return into;
}

function findSweep(deconvolver: SweepDeconvolver, samples: Float32Array): FoundSweep | null {
  const { length, sweepFrames, sampleRateHz } = deconvolver;
  const response = new Float64Array(length);
  let best: { startFrame: number; energy: number } | null = null;
  for (const window of sweepWindows(deconvolver, samples.length)) {
    deconvolver.matchedResponse(stretch(samples, window, length), response);
    const found = findCluster(response, length - sweepFrames, sampleRateHz);
    if (found === null || (best !== null && found.energy <= best.energy)) continue;
    best = { startFrame: window + found.delayFrames, energy: found.energy };
  }
  if (best === null) return null;
  const from = best.startFrame - leadFrames(sampleRateHz);
  const analysed = analyseSweep(deconvolver, stretch(samples, from, length));
  return analysed === null ? null : { startFrame: from + analysed.arrival, analysed };
}

/** What is known whole, for its phase; a filter whose alignment or order is open has none. */
function wholeFilters(finding: FilterFinding): Filter[] | null {
  const whole = finding.filters.flatMap(({ kind, alignment, order, cutoffHz }) =>
    alignment === null || order === null ? [] : [{ kind, alignment, order, cutoffHz }],
  );
  return finding.verdict === 'none of these' || whole.length < finding.filters.length ? null : whole;
}

function filtersIn(transfer: Transfer): Pick<SweepResponse, 'fitted' | 'finding' | 'delay'> {
  const points = transferPoints(transfer);
  const { from, to } = fitRegion(points);
  if (to - from < LEAST_POINTS) return { fitted: null, finding: null, delay: null };
  const { frequenciesHz, levelsDb, sigmasDb } = slicedPoints(points, from, to);
  const fitted = { lowHz: frequenciesHz[0]!, highHz: frequenciesHz.at(-1)! };
  const finding = findFilters(frequenciesHz, levelsDb, sigmasDb);
  const filters = wholeFilters(finding);
  return { fitted, finding, delay: filters === null ? null : pureDelay(transfer, filters, fitted) };
}

function within(transfer: Transfer, band: FrequencyBand): Transfer {
  const inside = transfer.frequenciesHz.map((hertz) => hertz >= band.lowHz && hertz <= band.highHz);
  const kept = <T>(list: readonly T[]) => list.filter((_, index) => inside[index]);
  return {
    frequenciesHz: kept(transfer.frequenciesHz),
    magnitudesDb: kept(transfer.magnitudesDb),
    phasesDeg: kept(transfer.phasesDeg),
    uncertaintiesDb: kept(transfer.uncertaintiesDb),
    snrDb: kept(transfer.snrDb),
  };
}

function isOverloaded(samples: Float32Array): boolean {
  const counter = new CodeCounter();
  counter.push(samples, 0, samples.length);
  const { high, low } = railsOf(counter.facts);
  return railOverloaded(high, null) || railOverloaded(low, null);
}

function responseIn(
  request: SweepTakeRequest,
  deconvolver: SweepDeconvolver,
  { startFrame, analysed }: FoundSweep,
  frames: number,
): SweepResponse {
  const { sampleRateHz, sweepFrames } = deconvolver;
  const held = heldBand(deconvolver, startFrame, frames);
  const band = { lowHz: held.lowHz * END_SHARE, highHz: held.highHz / END_SHARE };
  const own = transferOf(analysed.spectrum, band);
  const transfer = request.reference === null ? own : dividedTransfer(own, request.reference);
  return {
    startSeconds: startFrame / sampleRateHz,
    whole: startFrame >= 0 && startFrame + sweepFrames <= frames,
    transfer,
    divided: request.reference !== null,
    harmonicsAtHz: own.frequenciesHz,
    harmonics: LISTED_HARMONICS.map((order) => ({
      order,
      levelsDbc: harmonicLevelsDb(deconvolver, analysed, order, own.frequenciesHz),
    })),
    ...filtersIn(within(transfer, { lowHz: band.lowHz, highHz: HIGHEST_FITTED_HZ })),
  };
}

/**
 * Finds the sweep in the take, and in its response the filters.
 *
 * @throws RangeError where the take has no such channel, or its rate cannot hold the sweep
 */
export function readSweepTake(request: SweepTakeRequest, take: Take): SweepTakeReading {
  const samples = channelOfTake(take, request.channelIndex);
  const deconvolver = new SweepDeconvolver(request.sweep, take.sampleRateHz);
  const found = findSweep(deconvolver, samples);
  return {
    kind: 'sweep',
    ...factsOf(take, isOverloaded(samples) ? ['input-overload'] : []),
    response: found === null ? null : responseIn(request, deconvolver, found, samples.length),
  };
}
