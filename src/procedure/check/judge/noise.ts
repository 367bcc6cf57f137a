import type { NoiseTakeReading } from '../../take/noise-take.ts';
import type { CheckTask, TerminalsPoint } from '../check.ts';
import { type Judgement, nothingSaid } from '../complaint.ts';
import { type PointFacts, softest } from '../facts.ts';
import { number } from '../words.ts';

/** At terminals, against the target; in a cabin there is no telling the chain's noise from the street's. */
export function judgeNoise(task: CheckTask, facts: PointFacts): Judgement {
  const judgement = nothingSaid();
  const { point } = facts;
  for (const read of facts.read) {
    const { reading } = read;
    if (reading.kind !== 'noise') continue;
    if (point.at === 'cabin') {
      judgement.open.push({ read, why: 'By microphone the surroundings are heard as well.' });
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
    judgement.complaints.push({
      fault: 'noise-high',
      channel: point.channelId,
      sentence: `The noise at ${point.name.toLowerCase()} lies only ${number(belowDb, 0)} dB below the target level.`,
      evidence: `${number(reading.floor.levelDbfs!, 1)} dBFS while nothing plays${kindWords(reading)}; at least ${number(noiseDb, 0)} dB below are wanted.`,
      remedy:
        'Look for its cause at the Quiet station: leads, grounds, and gains that are too high late in the chain.',
      read: [read],
    });
  }
  return judgement;
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

function kindWords({ engine, mains, steady }: NoiseTakeReading): string {
  const kinds = [
    engine === null ? [] : ['a whine that moves'],
    mains === null ? [] : [`a hum of ${number(mains.fundamentalHz, 0)} Hz`],
    steady === null ? [] : [`a steady tone of ${number(steady.fundamentalHz, 0)} Hz`],
  ].flat();
  return kinds.length === 0 ? '' : `, with ${kinds.join(' and ')}`;
}
