import type { Comb } from '../../../dsp/noise/mains-comb.ts';
import { movingComb } from '../../noise/ripple.ts';
import type { NoiseTakeReading } from '../../take/noise-take.ts';
import type { CheckTask, TerminalsPoint } from '../check.ts';
import { type Judgement, nothingSaid } from '../complaint.ts';
import { type PointFacts, softest } from '../facts.ts';
import { number } from '../words.ts';
import { combWords, highNoise, type LoudComb, loudComb } from './noise-words.ts';

/** At terminals, against the target; in a cabin there is no telling the chain's noise from the street's. */
export function judgeNoise(task: CheckTask, facts: PointFacts): Judgement {
  const judgement = nothingSaid();
  const { point } = facts;
  for (const read of facts.read) {
    const { reading } = read;
    if (reading.kind !== 'noise') continue;
    if (point.at === 'cabin') {
      judgement.open.push({
        read,
        why: `By microphone the surroundings are heard as well.${inTheAir(reading)}`,
      });
      continue;
    }
    const referenceDbfs = targetDbfs(facts, point, task);
    if (referenceDbfs === null) {
      judgement.open.push({ read, why: 'No tone was heard at this point to hold the noise against.' });
      continue;
    }
    const { noiseDb } = task.limits;
    judgement.limits.push({ read, limits: { leastBelowTargetDb: noiseDb } });
    const belowDb = belowTargetDb(reading, referenceDbfs);
    if (belowDb === null || belowDb >= noiseDb) continue;
    const about = { name: point.name.toLowerCase(), referenceDbfs, noiseDb };
    const loud = combsIn(reading).filter(
      (one) => referenceDbfs - one.comb.levelDbfs < noiseDb && outweighs(one, reading),
    );
    const findings = loud.map((one) => loudComb(one, about));
    if (loud.length === 0 || isFloorHigh(reading, referenceDbfs - noiseDb)) {
      findings.push(highNoise(reading.floor.levelDbfs!, belowDb, combsIn(reading), about));
    }
    judgement.complaints.push(
      ...findings.map((finding) => ({ ...finding, channel: point.channelId, read: [read] })),
    );
  }
  return judgement;
}

/** What stands out of the noise, by what it does: nobody says here whether the engine ran. */
function combsIn(reading: NoiseTakeReading): LoudComb[] {
  const { mains, steady } = reading;
  const of = (kind: LoudComb['kind'], comb: Comb | null) => (comb === null ? [] : [{ kind, comb }]);
  return [...of('moving', movingComb(reading)), ...of('mains', mains), ...of('steady', steady)];
}

/**
 * Whether it outweighs all that is no line: what lossy coding makes of hiss has lines as well, far below it. A whine
 * that moves is itself counted with that, so half of it is enough.
 */
function outweighs({ kind, comb }: LoudComb, { floor }: NoiseTakeReading): boolean {
  const share = kind === 'moving' ? 0.5 : 1;
  return floor.floorDbfs === null || comb.levelDbfs > floor.floorDbfs + 10 * Math.log10(share);
}

/** Whether there is too much without the lines; a whine that moves counts as floor wherever it passes. */
function isFloorHigh(reading: NoiseTakeReading, limitDbfs: number): boolean {
  const { floorDbfs } = reading.floor;
  return movingComb(reading) === null && floorDbfs !== null && floorDbfs > limitDbfs;
}

function inTheAir(reading: NoiseTakeReading): string {
  const combs = combsIn(reading);
  if (combs.length === 0) return '';
  const all = combs.map((one) => `${combWords(one)}, ${number(one.comb.overFloorDb, 0)} dB over the rest`);
  return ` There is ${all.join(', and ')}: the Quiet station tells where such a thing comes from.`;
}

/** dB by which the noise lies below; `null` for digital silence. */
export function belowTargetDb({ floor }: NoiseTakeReading, referenceDbfs: number | null): number | null {
  return floor.levelDbfs === null || referenceDbfs === null ? null : referenceDbfs - floor.levelDbfs;
}

/** The target in the recording: by the volts where known, else where a tone at minus the overlap would be. */
export function targetDbfs(facts: PointFacts, point: TerminalsPoint, task: CheckTask): number | null {
  if (point.targetVolts !== null && task.voltsPerFs !== null) {
    return 20 * Math.log10(point.targetVolts / task.voltsPerFs);
  }
  const base = softest(facts.sines);
  return base === null ? null : base.levelDbfs! - base.part.levelDbfs - point.overlapDb;
}
