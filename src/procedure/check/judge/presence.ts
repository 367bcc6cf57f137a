import type { CheckTask } from '../check.ts';
import { type Complaint, type Judgement, nothingSaid } from '../complaint.ts';
import { beepsDbfs, gainDb, type HeardSine, type PointFacts, UNHEARD_DB } from '../facts.ts';
import { number, servedNames } from '../words.ts';

/** Louder by this on the other side than on its own: connected to the wrong side. */
const WRONG_SIDE_DB = 6;
/** Sides that come through to each other by more than this are mixed somewhere. Common practice. */
const SEPARATION_DB = 20;

export interface Presence extends Judgement {
  /** Nothing else can be said of this channel. */
  isSilent: boolean;
}

/** Whether a point hears what it should: nothing, the other side, both sides, or only the later part. */
export function judgePresence(task: CheckTask, facts: PointFacts): Presence {
  const { point } = facts;
  if (point.at === 'cabin') {
    return { ...nothingSaid(), complaints: deadByAir(task, facts), isSilent: false };
  }
  const wrong = wrongSide(facts);
  if (wrong !== null) return { ...nothingSaid(), complaints: [wrong], isSilent: true };
  const { sines } = facts;
  const isSilent = sines.length > 0 && sines.every(({ levelDbfs }) => levelDbfs === null);
  if (isSilent) return { ...nothingSaid(), complaints: [dead(point.channelId, point.name, facts)], isSilent };
  return { ...nothingSaid(), complaints: [...mixed(facts), ...asleep(facts)], isSilent };
}

function dead(channel: string, name: string, { read }: PointFacts): Complaint {
  return {
    fault: 'dead-channel',
    channel,
    sentence: `${name} plays nothing.`,
    evidence: 'None of the tones that are for it was heard, while the track itself was found.',
    remedy: `Look at the plugs, the fuse and the inputs of ${name.toLowerCase()}, and whether the recorder's lead is on.`,
    read: read.filter(({ reading }) => reading.kind !== 'identification'),
  };
}

/** By air, each group of channels that plays together: what none of its tones comes out of. */
function deadByAir(task: CheckTask, { sines }: PointFacts): Complaint[] {
  const groups = new Map<string, HeardSine[]>();
  for (const sine of sines) {
    const key = `${sine.part.serves.join('+')}|${sine.part.channels}`;
    groups.set(key, [...(groups.get(key) ?? []), sine]);
  }
  return [...groups.values()].flatMap((group) => {
    if (group.some(({ levelDbfs }) => levelDbfs !== null)) return [];
    const { serves, channels } = group[0]!.part;
    const name = servedNames(task, serves, channels);
    return [
      {
        fault: 'dead-channel',
        channel: serves.join('+') || channels,
        sentence: `${name} ${serves.length > 1 ? 'play' : 'plays'} nothing that a microphone hears.`,
        evidence: 'None of the tones for it stands out of the noise, while others were heard.',
        remedy: 'Look at its plugs and inputs, and record at its terminals.',
        read: group.map(({ read }) => read),
      },
    ];
  });
}

function wrongSide(facts: PointFacts): Complaint | null {
  const { point } = facts;
  if (point.at !== 'terminals' || point.fedBy === 'both') return null;
  const other = point.fedBy === 'left' ? 'right' : 'left';
  const ownDbfs = beepsDbfs(facts, point.fedBy);
  const otherDbfs = beepsDbfs(facts, other);
  if (otherDbfs === null || (ownDbfs ?? Number.NEGATIVE_INFINITY) > otherDbfs - WRONG_SIDE_DB) return null;
  if (facts.sines.some(({ levelDbfs }) => levelDbfs !== null && levelDbfs > otherDbfs)) return null;
  const beside = ownDbfs === null ? 'alone' : `${number(otherDbfs - ownDbfs, 0)} dB louder than its own`;
  return {
    fault: 'wrong-side',
    channel: point.channelId,
    sentence: `${point.name} plays the ${other} side.`,
    evidence: `The beeps of the ${other} side were heard ${beside}.`,
    remedy: `Swap the two sides ahead of ${point.name.toLowerCase()}, or note in the job which side feeds it.`,
    read: facts.read.filter(({ reading }) => reading.kind !== 'noise'),
  };
}

function mixed(facts: PointFacts): Complaint[] {
  const { point } = facts;
  if (point.at !== 'terminals' || point.fedBy === 'both') return [];
  const other = point.fedBy === 'left' ? 'right' : 'left';
  const ownDbfs = beepsDbfs(facts, point.fedBy);
  const otherDbfs = beepsDbfs(facts, other);
  if (ownDbfs === null || otherDbfs === null || ownDbfs - otherDbfs > SEPARATION_DB) return [];
  return [
    {
      fault: 'sides-mixed',
      channel: point.channelId,
      sentence: `${point.name} plays the ${other} side as well.`,
      evidence: `The ${other} side comes through ${number(ownDbfs - otherDbfs, 0)} dB below its own; at least ${SEPARATION_DB} dB are common practice.`,
      remedy: 'Look for a mono switch, a bridged input, or the sides joined in a lead.',
      read: facts.read.filter(({ reading }) => reading.kind === 'identification'),
    },
  ];
}

/** What was lost while the same channel plays later: something ahead of it was asleep. */
function asleep({ point, sines, read }: PointFacts): Complaint[] {
  if (point.at !== 'terminals') return [];
  const heard = sines.filter(({ levelDbfs }) => levelDbfs !== null);
  const chainDb = Math.max(...heard.map(gainDb));
  const beeps = read.filter(({ part, reading }) => {
    if (part.kind !== 'identification' || reading.kind !== 'identification') return false;
    const isOwn = part.channels === point.fedBy;
    return isOwn && (reading.loudestDbfs ?? Number.NEGATIVE_INFINITY) - part.levelDbfs < chainDb - UNHEARD_DB;
  });
  const tones = sines.filter(({ levelDbfs }) => levelDbfs === null).map((sine) => sine.read);
  const lost = [...beeps, ...tones].filter(({ part }) =>
    heard.some((later) => later.part.startSeconds > part.startSeconds),
  );
  if (lost.length === 0) return [];
  return [
    {
      fault: 'converter-asleep',
      channel: point.channelId,
      sentence: `${point.name} was silent at first and plays later: something ahead of it was asleep.`,
      evidence: `${lost.map(({ part }) => part.id).join(', ')} ${lost.length === 1 ? 'was' : 'were'} not heard.`,
      remedy:
        'Wake the converter by a remote wire, or let its sensing find more level, and record the track again.',
      read: lost,
    },
  ];
}
