/** What two neighbouring channels add up to, from their measured responses. */
import { type Filter, filterResponse } from '../../dsp/filters/filter-response.ts';
import type { Transfer } from '../../dsp/response/transfer.ts';
import { median } from '../../dsp/statistics/median.ts';
import type { Handover } from './crossover.ts';

/** What a sum of two measured channels takes for granted. */
export const SUM_ASSUMES =
  'Taken for granted: both channels reach the seat at the same time and equally loud (the Balance station sees to that), and the drivers add nothing of their own.';

/** One channel's part in a sum. */
export interface Branch {
  /** Its delay taken off; upside down where the channel is. */
  transfer: Transfer;
  /** All its filters, whole. */
  filters: readonly Filter[];
  /** Which of them meets the neighbour's. */
  facing: Filter['kind'];
}

export interface SumPoint {
  frequencyHz: number;
  /** Of both together; 0 dB is what a handover without loss gives there. */
  levelDb: number;
}

function gainOf(filters: readonly Filter[], frequencyHz: number): number {
  return filters.reduce((product, filter) => {
    const { re, im } = filterResponse(filter, frequencyHz);
    return product * Math.hypot(re, im);
  }, 1);
}

/** Where a filter has fallen so far, what it leaves says little of the pass band. */
const LEAST_LEFT = 0.1;

/** The level of the pass band: what is left of a response once its filters are taken off. */
export function passLevelDb(
  response: {
    frequenciesHz: readonly number[];
    magnitudesDb: readonly (number | null)[];
  },
  filters: readonly Filter[],
): number {
  const rests = response.magnitudesDb.flatMap((level, index) => {
    const left = gainOf(filters, response.frequenciesHz[index]!);
    return level === null || left < LEAST_LEFT ? [] : [level - 20 * Math.log10(left)];
  });
  return median(rests);
}

interface Phasor {
  re: number;
  im: number;
}

/** Pass band at 1; nothing where noise hides it. */
function phasors(branch: Branch): Map<number, Phasor> {
  const { transfer } = branch;
  const passDb = passLevelDb(transfer, branch.filters);
  return new Map(
    transfer.frequenciesHz.map((hertz, index) => {
      const level = transfer.magnitudesDb[index];
      const degrees = transfer.phasesDeg[index];
      if (level == null || degrees == null) return [hertz, { re: 0, im: 0 }];
      const size = 10 ** ((level - passDb) / 20);
      const turn = (degrees * Math.PI) / 180;
      return [hertz, { re: size * Math.cos(turn), im: size * Math.sin(turn) }];
    }),
  );
}

/**
 * Complex sum of two channels, each with its pass band at 0 dB, at the frequencies of a band that both have. What the
 * filters at the far ends of the two bands take is no loss of the handover and is taken off.
 *
 * @param turned one of the two turned over
 */
export function branchSum(
  lower: Branch,
  upper: Branch,
  turned: boolean,
  band: { lowHz: number; highHz: number },
): SumPoint[] {
  const ofUpper = phasors(upper);
  const sign = turned ? -1 : 1;
  const outer = [lower, upper].flatMap(({ filters, facing }) =>
    filters.filter((filter) => filter.kind !== facing),
  );
  return [...phasors(lower)].flatMap(([frequencyHz, one]) => {
    const other = ofUpper.get(frequencyHz);
    if (other === undefined || frequencyHz < band.lowHz || frequencyHz > band.highHz) return [];
    const size = Math.hypot(one.re + sign * other.re, one.im + sign * other.im);
    const due = gainOf(outer, frequencyHz);
    return [{ frequencyHz, levelDb: 20 * Math.log10(Math.max(size / due, LEAST)) }];
  });
}

/** A null that is deeper than this (-120 dB) is no longer told from none. */
const LEAST = 1e-6;

/** The extremes of a sum. @throws RangeError for an empty one */
export function handoverOf(points: readonly SumPoint[]): Handover {
  const [first] = points;
  if (first === undefined) throw new RangeError('A sum without a point has no extremes.');
  const deepest = points.reduce((low, point) => (point.levelDb < low.levelDb ? point : low), first);
  const highest = points.reduce((high, point) => (point.levelDb > high.levelDb ? point : high), first);
  return {
    deepestDb: deepest.levelDb,
    deepestHz: deepest.frequencyHz,
    highestDb: highest.levelDb,
    highestHz: highest.frequencyHz,
  };
}
