import type { CheckTask } from '../check.ts';
import { type Complaint, type Judgement, nothingSaid } from '../complaint.ts';
import { beepsDbfs, type PointFacts } from '../facts.ts';
import { number } from '../words.ts';
import { lostTones } from './lost-tones.ts';
import { presenceByAir } from './presence-by-air.ts';

/** Louder by this on the other side than on its own: connected to the wrong side. */
const WRONG_SIDE_DB = 6;
/** Sides that come through to each other by more than this are mixed somewhere. Common practice. */
const SEPARATION_DB = 20;

export interface Presence extends Judgement {
  /** Nothing else can be said of this channel. */
  isSilent: boolean;
}

/** Whether a point hears what it should: nothing, the other side, both sides, or only a part of it. */
export function judgePresence(task: CheckTask, facts: PointFacts): Presence {
  const { point } = facts;
  if (point.at === 'cabin') {
    return { ...presenceByAir(task, facts), isSilent: false };
  }
  const wrong = wrongSide(facts);
  if (wrong !== null) return { ...nothingSaid(), complaints: [wrong], isSilent: true };
  const { sines } = facts;
  const isSilent = sines.length > 0 && sines.every(({ levelDbfs }) => levelDbfs === null);
  if (isSilent) return { ...nothingSaid(), complaints: [dead(point.channelId, point.name, facts)], isSilent };
  return { ...nothingSaid(), complaints: [...mixed(facts), ...lostTones(facts)], isSilent };
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
