import type { Complaint } from '../complaint.ts';
import { gainDb, type PointFacts, UNHEARD_DB } from '../facts.ts';
import type { ReadPart } from '../read-parts.ts';

export interface About {
  channel: string;
  name: string;
}

/** The beeps and tones for a point that were not heard there. */
function unheard({ point, sines, read }: PointFacts): ReadPart[] {
  if (point.at !== 'terminals') return [];
  const chainDb = Math.max(...sines.map(gainDb));
  const beeps = read.filter(({ part, reading }) => {
    if (part.kind !== 'identification' || reading.kind !== 'identification') return false;
    const isOwn = part.channels === point.fedBy;
    return isOwn && (reading.loudestDbfs ?? Number.NEGATIVE_INFINITY) - part.levelDbfs < chainDb - UNHEARD_DB;
  });
  return [...beeps, ...sines.filter(({ levelDbfs }) => levelDbfs === null).map((sine) => sine.read)];
}

/** At terminals: what was lost while the same channel plays later, and what it plays no more. */
export function lostTones(facts: PointFacts): Complaint[] {
  const { point, sines } = facts;
  if (point.at !== 'terminals') return [];
  const heard = sines.filter(({ levelDbfs }) => levelDbfs !== null);
  const isBack = ({ part }: ReadPart) => heard.some((later) => later.part.startSeconds > part.startSeconds);
  const all = unheard(facts);
  const [asleep, gone] = [all.filter(isBack), all.filter((one) => !isBack(one))];
  const about = { channel: point.channelId, name: point.name };
  return [
    ...(asleep.length === 0 ? [] : [wasAsleep(about, asleep)]),
    ...(gone.length === 0 ? [] : [fellSilent(about, gone)]),
  ];
}

function notHeardWords(read: readonly ReadPart[]): string {
  return `${read.map(({ part }) => part.id).join(', ')} ${read.length === 1 ? 'was' : 'were'} not heard.`;
}

function wasAsleep({ channel, name }: About, read: ReadPart[]): Complaint {
  return {
    fault: 'converter-asleep',
    channel,
    sentence: `${name} was silent at first and plays later: something ahead of it was asleep.`,
    evidence: notHeardWords(read),
    remedy:
      'Wake the converter by a remote wire, or let its sensing find more level, and record the track again.',
    read,
  };
}

/** Heard once, and later no more. */
export function fellSilent({ channel, name }: About, read: ReadPart[]): Complaint {
  return {
    fault: 'fell-silent',
    channel,
    sentence: `${name}: played at first, and then fell silent.`,
    evidence: notHeardWords(read),
    remedy:
      'Look for an amplifier that protects itself at full power, a converter that fell asleep in a pause, or a lead that came off, and record the track again.',
    read,
  };
}
