import type { CheckTask } from '../check.ts';
import { type Complaint, type Judgement, nothingSaid, together } from '../complaint.ts';
import { type HeardSine, isCut, type PointFacts, sameTone } from '../facts.ts';
import { number, pointName, servedNames } from '../words.ts';
import { isOnTarget } from './level.ts';
import { limitedByAir } from './limited-by-air.ts';

/** Distortion from which a wave that fits no ceiling is named all the same: an ideal one is 0.25 dB over (design, 5). */
const DISTORTED_PERCENT = 1;
/** A stage that distorts softly does so less at a hundredth of the power; less growth than this is the path's own. */
const GROWTH = 3;

/** Whether the tones came through whole, and at a microphone only what a driver does not make by itself. */
export function judgeClipping(task: CheckTask, facts: PointFacts): Judgement {
  const heard = facts.sines.filter(({ levelDbfs }) => levelDbfs !== null);
  return together(heard.map((sine) => judgeTone(task, sine, heard, facts)));
}

function judgeTone(
  task: CheckTask,
  sine: HeardSine,
  heard: readonly HeardSine[],
  { point }: PointFacts,
): Judgement {
  const { serves, channels } = sine.part;
  const isCabin = point.at === 'cabin';
  const name = isCabin ? servedNames(task, serves, channels) : pointName(point);
  const channel = isCabin ? serves.join('+') || channels : point.channelId;
  const about = { channel, read: [sine.read] };
  if (sine.clipping.verdict === 'input-overload') return blaming(overload(sine, about));
  const softer = heard.filter(
    (one) => sameTone(one.part, sine.part) && one.part.levelDbfs < sine.part.levelDbfs,
  );
  if (isCut(sine.clipping)) {
    // A driver or a room that looks like a ceiling does so at a hundredth of the power as well.
    const isPath = isCabin && softer.some((one) => isCut(one.clipping));
    if (isPath) return nothingSaid();
    const isGainRight = softer.some((one) => isOnTarget(one, point, task.voltsPerFs));
    return blaming(clipped(sine, name, about, isGainRight));
  }
  if (!isCabin) return blaming(...distorted(sine, softer, name, about));
  if (sine.clipping.verdict !== 'undecided') return nothingSaid();
  const limited = limitedByAir(sine, softer);
  if (limited?.isLimited === true) return blaming(clippedByAir(sine, name, about, limited.evidence));
  return untold(sine, limited?.evidence ?? 'No softer tone was heard to hold it against.');
}

function blaming(...complaints: Complaint[]): Judgement {
  return { ...nothingSaid(), complaints };
}

/** By microphone a tone may be bent by the driver alone: then nothing is said of it, not that it passed. */
function untold({ read }: HeardSine, evidence: string): Judgement {
  const why = `By microphone it cannot be told whether this is clipped. ${evidence}`;
  return { ...nothingSaid(), open: [{ read, why }] };
}

type About = Pick<Complaint, 'channel' | 'read'>;

function overload({ part, clipping }: HeardSine, about: About): Complaint {
  return {
    ...about,
    fault: 'input-overload',
    sentence: `The recording itself is overloaded by ${part.id}.`,
    evidence: clipping.evidence.join(' '),
    remedy: 'Turn the recorder down, or take a larger divider, and record the track again.',
  };
}

function clipped({ part, clipping }: HeardSine, name: string, about: About, isGainRight: boolean): Complaint {
  const { overdriveDb } = clipping;
  const by = overdriveDb === null ? '' : ` by ${number(overdriveDb, 1)} dB`;
  return {
    ...about,
    fault: 'clipped',
    sentence: `${name} clips${by} on a tone of ${number(part.levelDbfs, 0)} dBFS.`,
    evidence: clipping.evidence.join(' '),
    remedy: isGainRight ? `${CEILING_LOW} ${turnBack(overdriveDb)}` : turnBack(overdriveDb),
  };
}

/** One track does not tell which stage has the ceiling: the radio's is as flat as a supply's that sags. */
const CEILING_LOW =
  'The softer tone reads its target, so this gain is where it should be, and some ceiling is too low: look for a radio that is turned up too far (Source station) and for a supply or a ground that sags under load (Quiet station).';

function turnBack(overdriveDb: number | null): string {
  return overdriveDb === null
    ? 'Turn the gain or the volume down until the tone is whole, and check again.'
    : `Turn back by ${number(Math.ceil(10 * overdriveDb) / 10, 1)} dB, at the stage that clips, and check again.`;
}

function clippedByAir({ part }: HeardSine, name: string, about: About, evidence: string): Complaint {
  return {
    ...about,
    fault: 'clipped',
    sentence: `${name}: a tone of ${number(part.levelDbfs, 0)} dBFS is clipped.`,
    evidence,
    remedy: 'Turn the gain or the volume down, and check again at the terminals to see by how much.',
  };
}

function distorted(sine: HeardSine, softer: readonly HeardSine[], name: string, about: About): Complaint[] {
  const thdPercent = thdOf(sine);
  if (thdPercent === null || thdPercent < DISTORTED_PERCENT) return [];
  if (softer.some((one) => (thdOf(one) ?? 0) > thdPercent / GROWTH)) return [];
  return [
    {
      ...about,
      fault: 'distorted',
      sentence: `${name} distorts on a tone of ${number(sine.part.levelDbfs, 0)} dBFS.`,
      evidence: `Harmonics make ${number(thdPercent, 1)} %, in no pattern of a hard ceiling. ${sine.clipping.evidence.join(' ')}`,
      remedy: 'Turn the gain or the volume down until the tone is whole, and check again.',
    },
  ];
}

function thdOf({ read }: HeardSine): number | null {
  return read.reading.channel.tone?.thdPercent ?? null;
}
