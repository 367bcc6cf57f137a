import type { PinkTakeReading } from '../../take/pink-take.ts';
import type { CheckTask } from '../check.ts';
import { type Judgement, nothingSaid } from '../complaint.ts';
import type { PointFacts } from '../facts.ts';
import type { ReadPart } from '../read-parts.ts';
import { number, servedNames } from '../words.ts';

/**
 * One microphone stands nearer to one side: a seat is up to twice as far from one door as from the other, 6 dB in a
 * free field (inverse square). Only more than that is a fault; finer, the Balance station averages over places.
 */
const BY_PLACE_DB = 6;
const COVERAGE = 2;

/** By microphone: noise on the left against the same noise on the right. */
export function judgeCabinBalance(task: CheckTask, { point, read }: PointFacts): Judgement {
  const judgement = nothingSaid();
  if (point.at !== 'cabin') return judgement;
  const noises = read.flatMap((one) =>
    one.reading.kind === 'pink' ? [{ ...one, reading: one.reading }] : [],
  );
  for (const left of noises.filter(({ part }) => part.channels === 'left')) {
    const right = noises.find((one) => one.part.channels === 'right' && isAlike(left, one));
    if (right === undefined) continue;
    for (const one of [left, right]) judgement.limits.push({ read: one, limits: { balanceDb: BY_PLACE_DB } });
    const [a, b] = [left.reading.levels[0]!, right.reading.levels[0]!];
    if (a.levelDbfs === null || b.levelDbfs === null) continue;
    const differenceDb = a.levelDbfs - b.levelDbfs;
    const allowed = BY_PLACE_DB + COVERAGE * Math.hypot(a.uncertaintyDb, b.uncertaintyDb);
    if (Math.abs(differenceDb) <= allowed) continue;
    const low = differenceDb < 0 ? left : right;
    const name = servedNames(task, low.part.serves, low.part.channels);
    judgement.complaints.push({
      fault: differenceDb < 0 ? 'left-low' : 'right-low',
      channel: low.part.serves.join('+') || low.part.channels,
      sentence: `${name} ${low.part.serves.length > 1 ? 'play' : 'plays'} ${number(Math.abs(differenceDb), 1)} dB lower than the other side.`,
      evidence: `By microphone at one place: left against right ${number(differenceDb, 1)} dB; up to ${BY_PLACE_DB} dB may be the place.`,
      remedy:
        'Look for a gain control or a loose plug on the softer side, then match levels at the Balance station.',
      read: [low],
    });
  }
  return judgement;
}

function isAlike({ part: a }: ReadPart<PinkTakeReading>, { part: b }: ReadPart<PinkTakeReading>): boolean {
  return (
    a.kind === 'pink' &&
    b.kind === 'pink' &&
    a.lowHz === b.lowHz &&
    a.highHz === b.highHz &&
    a.levelDbfs === b.levelDbfs
  );
}
