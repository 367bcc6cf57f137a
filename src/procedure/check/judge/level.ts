import { shelfLossDb } from '../../../dsp/filters/bass-shelf.ts';
import type { CheckPoint, CheckTask, TerminalsPoint } from '../check.ts';
import { type Complaint, type Judgement, nothingSaid } from '../complaint.ts';
import { gainDb, type HeardSine, isCut, type PointFacts, softest } from '../facts.ts';
import { number } from '../words.ts';
import type { BassCut } from './bass-cut.ts';

/** About 95 % (JCGM 100 6.2). */
const COVERAGE = 2;
/** Design, section 5: a step must read what was asked within this. */
const STEP_TOLERANCE_DB = 0.2;
/** What a tone on one of two summed inputs reads lower. */
const ONE_OF_TWO_DB = 20 * Math.log10(2);
const NEAR_DB = 0.5;

/** What the response at a point has already been found to do to levels there. */
export interface BentResponse {
  cut: BassCut | null;
  /** A filter was named. */
  isNamed: boolean;
}

/**
 * At terminals: volts against the target, where both are known; else the two sides of a pair against each other.
 *
 * @param bent levels follow a response that was named: no gain is blamed for what it takes away
 */
export function judgeLevels(
  task: CheckTask,
  all: readonly PointFacts[],
  bent: (facts: PointFacts) => BentResponse,
): Judgement {
  const judgement = nothingSaid();
  for (const facts of all) {
    if (facts.point.at !== 'terminals') continue;
    const { point } = facts;
    const { cut, isNamed } = bent(facts);
    const off = facts.sines.filter((sine) => {
      const expected = expectedVolts(sine, point);
      if (expected === null || task.voltsPerFs === null) return false;
      judgement.limits.push({
        read: sine.read,
        limits: { targetVolts: expected, toleranceDb: point.toleranceDb },
      });
      return isOff(sine, expected, task.voltsPerFs, point);
    });
    const byBass = off.filter((sine) => cut !== null && isByBass(sine, cut, point, task.voltsPerFs!));
    judgement.open.push(...byBass.map(({ read }) => ({ read, why: BY_BASS })));
    const rest = off.filter((sine) => !byBass.includes(sine));
    if (rest.length > 0) judgement.complaints.push(levelOff(rest, point, task.voltsPerFs!, isNamed));
    else judgement.complaints.push(...squeezed(facts, point));
  }
  const isNamed = (channelId: string) => judgement.complaints.some(({ channel }) => channel === channelId);
  for (const [facts, partner] of pairsOf(all)) {
    const limits = { balanceDb: task.limits.balanceDb };
    for (const { sines } of [facts, partner]) {
      for (const { read } of sines) judgement.limits.push({ read, limits });
    }
    const uneven = unevenPair(facts, partner, task.limits.balanceDb);
    if (uneven !== null && !isNamed(idOf(facts)) && !isNamed(idOf(partner))) {
      judgement.complaints.push(uneven);
    }
  }
  return judgement;
}

function idOf({ point }: PointFacts): string {
  return point.at === 'terminals' ? point.channelId : 'cabin';
}

/** Volts RMS that a tone should read: the target counts for a tone at minus the overlap. */
function expectedVolts({ part }: Pick<HeardSine, 'part'>, point: TerminalsPoint): number | null {
  return point.targetVolts === null
    ? null
    : point.targetVolts * 10 ** ((part.levelDbfs + point.overlapDb) / 20);
}

export function voltsOf(levelDbfs: number | null, voltsPerFs: number | null): number | null {
  return levelDbfs === null || voltsPerFs === null ? null : voltsPerFs * 10 ** (levelDbfs / 20);
}

function errorDb({ levelDbfs }: HeardSine, expected: number, voltsPerFs: number): number {
  return 20 * Math.log10(voltsOf(levelDbfs, voltsPerFs)! / expected);
}

/** A clipped tone's level is the ceiling's, and named as such. */
function isOff(
  sine: HeardSine,
  expected: number,
  voltsPerFs: number,
  { toleranceDb }: TerminalsPoint,
): boolean {
  if (sine.levelDbfs === null || isCut(sine.clipping)) return false;
  return Math.abs(errorDb(sine, expected, voltsPerFs)) > toleranceDb + COVERAGE * sine.uncertaintyDb;
}

const BY_BASS =
  'It reads low by what the missing bass takes away at its frequency, so nothing is said of the gain: mend that first.';

/** Whether a level is where it should be but for the bass that is missing ahead of the channel. */
function isByBass(sine: HeardSine, { shelf }: BassCut, point: TerminalsPoint, voltsPerFs: number): boolean {
  const lossDb = shelfLossDb(shelf, sine.part.frequencyHz);
  return !isOff(sine, expectedVolts(sine, point)! * 10 ** (-lossDb / 20), voltsPerFs, point);
}

/** Whether a whole tone reads what is wanted; false where nothing says what that is. */
export function isOnTarget(sine: HeardSine, point: CheckPoint, voltsPerFs: number | null): boolean {
  if (point.at !== 'terminals' || voltsPerFs === null || isCut(sine.clipping)) return false;
  const expected = expectedVolts(sine, point);
  return expected !== null && sine.levelDbfs !== null && !isOff(sine, expected, voltsPerFs, point);
}

function levelOff(
  off: readonly HeardSine[],
  point: TerminalsPoint,
  voltsPerFs: number,
  isBent: boolean,
): Complaint {
  const worst = off[0]!;
  const expected = expectedVolts(worst, point)!;
  const byDb = errorDb(worst, expected, voltsPerFs);
  const way = byDb < 0 ? 'below' : 'above';
  const isHalf = Math.abs(byDb + ONE_OF_TWO_DB) < NEAR_DB && point.fedBy === 'both';
  return {
    fault: 'level-off',
    channel: point.channelId,
    sentence: `${point.name} reads ${number(Math.abs(byDb), 1)} dB ${way} its target.`,
    evidence: `${worst.part.id}: ${voltsOf(worst.levelDbfs, voltsPerFs)!.toPrecision(3)} V where ${expected.toPrecision(3)} V are wanted, ±${number(point.toleranceDb, 1)} dB allowed.`,
    remedy: levelRemedy(byDb, isHalf, isBent),
    read: off.map(({ read }) => read),
  };
}

function levelRemedy(byDb: number, isHalf: boolean, isBent: boolean): string {
  if (isBent)
    return 'Mend the response first, for the level follows it, and check again before a gain is touched.';
  return isHalf
    ? 'That is what a sum reads with the tone on one of its two inputs: see that both sides reach it.'
    : `See that the volume is where the gains were set; then turn the gain ${byDb < 0 ? 'up' : 'down'} by ${number(Math.abs(byDb), 1)} dB.`;
}

/** Louder tones that come back softer than asked, whole as they are: something follows the level. */
function squeezed({ sines }: PointFacts, { channelId, name }: TerminalsPoint): Complaint[] {
  const base = softest(sines);
  if (base === null) return [];
  const bent = sines.filter((sine) => {
    if (sine.levelDbfs === null || isCut(sine.clipping) || sine.part.frequencyHz !== base.part.frequencyHz) {
      return false;
    }
    const allowed = STEP_TOLERANCE_DB + COVERAGE * Math.hypot(sine.uncertaintyDb, base.uncertaintyDb);
    return Math.abs(gainDb(sine) - gainDb(base)) > allowed;
  });
  if (bent.length === 0) return [];
  const worst = bent[0]!;
  const byDb = gainDb(worst) - gainDb(base);
  return [
    {
      fault: 'level-not-kept',
      channel: channelId,
      sentence: `${name} does not follow the level: a louder tone comes out ${number(Math.abs(byDb), 1)} dB ${byDb < 0 ? 'softer' : 'louder'} than it should.`,
      evidence: `${worst.part.id} against ${base.part.id}: ${number(worst.part.levelDbfs - base.part.levelDbfs, 0)} dB were played, ${number(worst.levelDbfs! - base.levelDbfs!, 2)} dB came back; the wave is whole.`,
      remedy: 'Look for automatic gain in the recorder, or a limiter or loudness contour in the chain.',
      read: bent.map(({ read }) => read),
    },
  ];
}

/** Each pair once, the left one first. */
function pairsOf(all: readonly PointFacts[]): [PointFacts, PointFacts][] {
  return all.flatMap((facts): [PointFacts, PointFacts][] => {
    const { point } = facts;
    if (point.at !== 'terminals' || point.fedBy !== 'left') return [];
    const partner = all.find(
      (one) => one.point.at === 'terminals' && one.point.channelId === point.partnerId,
    );
    return partner === undefined ? [] : [[facts, partner]];
  });
}

function unevenPair(left: PointFacts, right: PointFacts, balanceDb: number): Complaint | null {
  const [a, b] = [softest(left.sines), softest(right.sines)];
  if (a === null || b === null || left.point.at !== 'terminals' || right.point.at !== 'terminals')
    return null;
  const differenceDb = gainDb(a) - gainDb(b);
  const allowed = balanceDb + COVERAGE * Math.hypot(a.uncertaintyDb, b.uncertaintyDb);
  if (Math.abs(differenceDb) <= allowed) return null;
  const [low, high] = differenceDb < 0 ? [left, right] : [right, left];
  const [lowPoint, highPoint] = [low.point as TerminalsPoint, high.point as TerminalsPoint];
  return {
    fault: differenceDb < 0 ? 'left-low' : 'right-low',
    channel: lowPoint.channelId,
    sentence: `${lowPoint.name} plays ${number(Math.abs(differenceDb), 1)} dB lower than ${highPoint.name.toLowerCase()}.`,
    evidence: `Left against right ${number(differenceDb, 2)} dB, where ±${number(balanceDb, 1)} dB is allowed; both leads of the recorder are taken to be alike.`,
    remedy: 'Turn the louder one down, or the softer one up to its recorded ceiling at most.',
    read: low.sines.filter(({ levelDbfs }) => levelDbfs !== null).map(({ read }) => read),
  };
}
