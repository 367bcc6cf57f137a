import type { FittedFilter } from '../../dsp/filters/filter-fit.ts';
import type { ExpectedFilter } from '../../dsp/time/expected-band.ts';
import type { SoundPath } from '../../dsp/time/fit-covariance.ts';
import type { SweepResponse } from '../take/sweep-take.ts';
import type { CheckPoint, CheckTask, RunPart, TerminalsPoint } from './check.ts';

/** What pulses are expected to pass on their way. */
export interface ExpectedPath {
  path: SoundPath;
  /** Each as likely as the others. */
  bands: ExpectedFilter[][];
}

/** A coupling capacitor passes all but the lowest (common practice: a few hertz). */
const COUPLED: ExpectedFilter = { kind: 'high-pass', alignment: 'butterworth', order: 1, cutoffHz: 3 };
/** Where a driver of which nothing is known rolls off, share of the pulse's centre (common practice). */
const ROLL_OFF_SHARES = [0.15, 0.5];

/** By wire: the filters that the sweep found at this point, else the job's. By air: the job's, and the driver's roll-off. */
export function expectedPath(
  point: CheckPoint,
  part: RunPart & { kind: 'polarity' },
  task: CheckTask,
  sweep: SweepResponse | null,
): ExpectedPath {
  if (point.at === 'terminals') return { path: 'wire', bands: [[COUPLED, ...filtersAt(point, sweep)]] };
  const heard = task.channels.filter(({ channelId }) => part.serves.includes(channelId));
  const [first] = heard;
  if (first !== undefined) return { path: 'cabin', bands: first.bands };
  return {
    path: 'cabin',
    bands: ROLL_OFF_SHARES.map((share) => [
      { kind: 'high-pass', alignment: 'butterworth', order: 2, cutoffHz: share * part.frequencyHz },
    ]),
  };
}

function filtersAt({ wanted }: TerminalsPoint, sweep: SweepResponse | null): ExpectedFilter[] {
  const finding = sweep?.finding ?? null;
  if (finding !== null && finding.verdict !== 'none of these') {
    const found = finding.filters.map(expected);
    if (found.every((one) => one !== null)) return found;
  }
  if (wanted === null) return [];
  const { band, slopes } = wanted;
  const sides = [
    { kind: 'high-pass', cutoffHz: band.highPassHz, slope: slopes.highPass },
    { kind: 'low-pass', cutoffHz: band.lowPassHz, slope: slopes.lowPass },
  ] as const;
  return sides.flatMap(({ kind, cutoffHz, slope }) => {
    const known = expected({ kind, cutoffHz: cutoffHz ?? 0, ...(slope ?? USUAL_SLOPE) });
    return cutoffHz === null || known === null ? [] : [known];
  });
}

/** Where the job asks for no slope (common practice). */
const USUAL_SLOPE = { alignment: 'linkwitz-riley', order: 4 } as const;

/** A Bessel is taken for the Butterworth of its order, which it resembles within the band. */
function expected({
  kind,
  alignment,
  order,
  cutoffHz,
}: Pick<FittedFilter, 'kind' | 'alignment' | 'order' | 'cutoffHz'>): ExpectedFilter | null {
  if (alignment === null || order === null || order > 8) return null;
  const isPair = alignment === 'linkwitz-riley' && order % 2 === 0;
  return { kind, alignment: isPair ? 'linkwitz-riley' : 'butterworth', order, cutoffHz };
}
