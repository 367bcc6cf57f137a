import type { Filter } from '../../dsp/filters/filter-response.ts';
import { withoutDelay } from '../../dsp/response/transfer.ts';
import type { CrossoverChannel, MeasuredChannel, NeighbourSum } from './crossover.ts';
import { type Branch, branchSum, handoverOf, type SumPoint } from './sum.ts';

/** Wanted corners further apart than this do not hand over to each other. */
const FURTHEST_APART = 2;
/** The sum is looked at so far on either side of where the bands meet. */
const OCTAVES_AROUND = 1;

export interface NeighbourPair {
  lower: CrossoverChannel;
  upper: CrossoverChannel;
  meetHz: number;
}

/** Every pair of which one channel is the given one, and whose bands meet. */
export function pairsOf(channels: readonly CrossoverChannel[], channelId: string): NeighbourPair[] {
  return channels.flatMap((lower) =>
    channels.flatMap((upper) => {
      const { lowPassHz } = lower.band;
      const { highPassHz } = upper.band;
      if (lowPassHz === null || highPassHz === null) return [];
      if (lower.id !== channelId && upper.id !== channelId) return [];
      const ratio = Math.max(lowPassHz / highPassHz, highPassHz / lowPassHz);
      if (lower.id === upper.id || ratio > FURTHEST_APART) return [];
      return [{ lower, upper, meetHz: Math.sqrt(lowPassHz * highPassHz) }];
    }),
  );
}

/** `null` where the phase is not known: without its filters, a delay cannot be told from them. */
function branchOf(measured: MeasuredChannel | undefined, facing: Filter['kind']): Branch | null {
  if (measured === undefined) return null;
  const { transfer, delay, finding } = measured.response;
  if (delay === null || finding === null) return null;
  const filters = finding.filters.flatMap(({ kind, alignment, order, cutoffHz }) =>
    alignment === null || order === null ? [] : [{ kind, alignment, order, cutoffHz }],
  );
  if (!filters.some(({ kind }) => kind === facing)) return null;
  return { transfer: withoutDelay(transfer, delay.delaySeconds), filters, facing };
}

/**
 * The sum of two neighbours, point by point; `null` where one of them was not measured, or its phase is not known.
 *
 * @param turned one of the two turned over
 */
export function neighbourCurve(
  { lower, upper, meetHz }: NeighbourPair,
  measured: Readonly<Record<string, MeasuredChannel>>,
  turned: boolean,
): SumPoint[] | null {
  const below = branchOf(measured[lower.id], 'low-pass');
  const above = branchOf(measured[upper.id], 'high-pass');
  if (below === null || above === null) return null;
  const around = { lowHz: meetHz / 2 ** OCTAVES_AROUND, highHz: meetHz * 2 ** OCTAVES_AROUND };
  const points = branchSum(below, above, turned, around);
  return points.length === 0 ? null : points;
}

/** The sums of a channel with its neighbours, where both were measured. */
export function sumsOf(
  channels: readonly CrossoverChannel[],
  channelId: string,
  measured: Readonly<Record<string, MeasuredChannel>>,
): NeighbourSum[] {
  return pairsOf(channels, channelId).flatMap((pair) => {
    const asWired = neighbourCurve(pair, measured, false);
    const turned = neighbourCurve(pair, measured, true);
    if (asWired === null || turned === null) return [];
    return [
      {
        lowerId: pair.lower.id,
        upperId: pair.upper.id,
        meetHz: pair.meetHz,
        asWired: handoverOf(asWired),
        turned: handoverOf(turned),
      },
    ];
  });
}
