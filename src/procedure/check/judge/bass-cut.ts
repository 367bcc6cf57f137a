import {
  type BassShelf,
  findBassShelf,
  type KnownFilter,
  type KnownFilters,
  shelfLossDb,
} from '../../../dsp/filters/bass-shelf.ts';
import { slicedPoints } from '../../../dsp/response/level-points.ts';
import { transferPoints } from '../../../dsp/response/transfer.ts';
import { hertz } from '../../crossover/words.ts';
import { BASS_CUT_DB } from '../../source/response.ts';
import type { SweepResponse, SweepTakeReading } from '../../take/sweep-take.ts';
import type { CheckTask, TerminalsPoint } from '../check.ts';
import type { Complaint } from '../complaint.ts';
import type { PointFacts } from '../facts.ts';
import type { ReadPart } from '../read-parts.ts';
import { number } from '../words.ts';

type Wanted = NonNullable<TerminalsPoint['wanted']>;

/** Bass that is missing ahead of a channel's filters, which are as wanted. */
export interface BassCut {
  read: ReadPart<SweepTakeReading>;
  shelf: BassShelf;
  /** Lowest frequency at which the response was seen, and what is missing there. */
  lowestHz: number;
  missingDb: number;
}

/** At terminals, where the job says which filters are wanted; `null` where no bass is missing, or filters say it as well. */
export function bassCutAt({ limits }: CheckTask, { point, read }: PointFacts): BassCut | null {
  if (point.at !== 'terminals' || point.wanted === null) return null;
  for (const one of read) {
    if (one.reading.kind !== 'sweep' || one.reading.response === null) continue;
    const sweep = { ...one, reading: one.reading };
    const shelf = shelfIn(one.reading.response, point.wanted, limits.cornerPercent);
    const lowestHz = one.reading.response.fitted?.lowHz ?? Number.NaN;
    if (shelf === null) continue;
    const missingDb = shelfLossDb(shelf, lowestHz);
    if (missingDb > BASS_CUT_DB) return { read: sweep, shelf, lowestHz, missingDb };
  }
  return null;
}

function shelfIn(
  { transfer, fitted, finding }: SweepResponse,
  wanted: Wanted,
  cornerPercent: number,
): BassShelf | null {
  const known = knownFilters(wanted);
  if (fitted === null || finding === null || known === null) return null;
  const points = transferPoints(transfer);
  const inside = slicedPoints(
    points,
    points.frequenciesHz.findIndex((frequencyHz) => frequencyHz >= fitted.lowHz),
    points.frequenciesHz.findLastIndex((frequencyHz) => frequencyHz <= fitted.highHz) + 1,
  );
  const shelf = findBassShelf(inside, known, finding.residualDb);
  if (shelf === null) return null;
  const isAsWanted = (filter: KnownFilter | null, foundHz: number | null) =>
    filter === null || Math.abs(100 * (foundHz! / filter.cutoffHz - 1)) <= cornerPercent;
  const areAsWanted =
    isAsWanted(known.highPass, shelf.highPassHz) && isAsWanted(known.lowPass, shelf.lowPassHz);
  return areAsWanted ? shelf : null;
}

/** `null` where a corner is wanted and any slope will do. */
function knownFilters({ band, slopes }: Wanted): KnownFilters | null {
  const isOpen =
    (band.highPassHz !== null && slopes.highPass === null) ||
    (band.lowPassHz !== null && slopes.lowPass === null);
  if (isOpen) return null;
  const known = (cutoffHz: number | null, slope: Wanted['slopes']['highPass']) =>
    cutoffHz === null || slope === null ? null : { ...slope, cutoffHz };
  return {
    highPass: known(band.highPassHz, slopes.highPass),
    lowPass: known(band.lowPassHz, slopes.lowPass),
  };
}

export function bassCutComplaint(
  { read, shelf, lowestHz, missingDb }: BassCut,
  { channelId, name }: TerminalsPoint,
): Complaint {
  const filters = read.reading.response?.finding?.residualDb ?? Number.NaN;
  return {
    fault: 'bass-cut',
    channel: channelId,
    sentence: `${name} gets less bass than its filters let through: ${number(missingDb, 1)} dB are missing at ${hertz(lowestHz)}.`,
    evidence: `The filters stand as wanted behind a shelf of ${number(-shelf.lossDb, 1)} dB around ${hertz(shelf.cornerHz)}, which leaves ${number(shelf.residualDb, 2)} dB rms; filters alone leave ${number(filters, 2)} dB.`,
    remedy:
      'Leave the filters as they are, and look ahead of them: a radio that takes bass away as it goes up or misses its load resistors (the Source station tells), bass and loudness controls, an equaliser.',
    read: [read],
  };
}
