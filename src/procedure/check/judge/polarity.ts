import type { HeardPulses, PulseTakeReading } from '../../take/pulse-take.ts';
import type { CheckTask } from '../check.ts';
import { type Complaint, type Judgement, nothingSaid } from '../complaint.ts';
import type { PointFacts } from '../facts.ts';
import { type ReadPart, sweepAt } from '../read-parts.ts';
import { inText, number, servedNames } from '../words.ts';

interface Subject {
  read: ReadPart<PulseTakeReading>;
  channel: string;
  name: string;
  /** By microphone: several channels that play these pulses together. */
  isGroup: boolean;
  polarity: HeardPulses['polarity'];
  confidence: number;
}

/**
 * Which channels are the wrong way round. A recorder, a microphone or a radio may turn everything over, all channels
 * alike: where most read upside down, the odd ones are the reversed ones. Where it stands even, or one channel was
 * recorded alone, the reading is taken as it is.
 */
export function judgePolarity(task: CheckTask, all: readonly PointFacts[]): Judgement {
  const judgement = nothingSaid();
  const terminals = all.filter(({ point }) => point.at === 'terminals');
  const groups = [terminals, ...all.filter(({ point }) => point.at === 'cabin').map((one) => [one])];
  for (const group of groups) {
    const subjects = group.flatMap((facts) => subjectsOf(task, facts));
    const inCompany = subjects.filter(({ read }) => playsInCompany(read, task));
    for (const { read } of inCompany) judgement.open.push({ read, why: IN_COMPANY });
    judgeGroup(
      subjects.filter((one) => !inCompany.includes(one)),
      judgement,
    );
  }
  return judgement;
}

/** The -6 dB band of a pulse, against its centre (`dsp/tones/polarity.ts`). */
const PULSE_BAND = { low: 0.33, high: 3.3 };

const IN_COMPANY =
  'Other channels play these pulses as well, so a microphone cannot tell this one’s polarity: record at its terminals, or alone at the Balance station.';

/** By microphone, whether channels that a part is not for are heard in it too. */
function playsInCompany({ part, point }: ReadPart, { channels, run }: CheckTask): boolean {
  if (point.at !== 'cabin' || part.kind !== 'polarity') return false;
  // Without a job: what plays on both sides is heard with whatever has a part of its own on one of them.
  if (channels.length === 0) {
    return (
      part.channels === 'both' && run.parts.some((one) => one.kind === 'polarity' && one.channels !== 'both')
    );
  }
  const centresHz = [part.frequencyHz, ...(part.furtherHz ?? [])];
  const lowHz = PULSE_BAND.low * Math.min(...centresHz);
  const highHz = PULSE_BAND.high * Math.max(...centresHz);
  return channels.some(({ channelId, fedBy, band }) => {
    const reached = part.channels === 'both' || fedBy === 'both' || fedBy === part.channels;
    const overlaps = (band.highPassHz ?? 0) < highHz && (band.lowPassHz ?? Number.POSITIVE_INFINITY) > lowHz;
    return reached && overlaps && !part.serves.includes(channelId);
  });
}

function judgeGroup(subjects: readonly Subject[], into: Judgement): void {
  const count = (polarity: string) => subjects.filter((one) => one.polarity === polarity).length;
  const turnedOver = subjects.length > 1 && count('inverted') > count('upright');
  const wrong = turnedOver ? 'upright' : 'inverted';
  for (const subject of subjects) {
    const { read, polarity } = subject;
    if (polarity === 'undecided') {
      const why =
        read.reading.heard === null
          ? 'No regular pulses were heard, so polarity cannot be told.'
          : `Polarity cannot be told: ${number(100 * subject.confidence, 0)} % for the likelier way.`;
      into.open.push({ read, why });
    } else if (polarity === wrong) into.complaints.push(reversed(subject, subjects, turnedOver));
    else if (subject.isGroup) into.open.push({ read, why: togetherWords(subject) });
    else if (turnedOver) {
      into.open.push({
        read,
        why: 'Most channels read upside down, and so does this one: the recorder or the radio turns everything over, and the channels agree.',
      });
    }
  }
}

/** The louder one at the microphone decides how the pulses read: another beside it may be either way round. */
function togetherWords({ name }: Subject): string {
  return `${name} were heard together and are not the wrong way round as a whole; whether each of them is right, only its terminals show, or the Balance station with one playing alone.`;
}

function subjectsOf(task: CheckTask, { point, read, recordedChannel }: PointFacts): Subject[] {
  return read.flatMap((one): Subject[] => {
    const { part, reading } = one;
    if (reading.kind !== 'pulses') return [];
    const pulses = { ...one, reading };
    const decided = decidedPolarity(reading, sweepAt(read, recordedChannel)?.delay?.inverted ?? null);
    if (point.at === 'terminals') {
      return [{ read: pulses, channel: point.channelId, name: point.name, isGroup: false, ...decided }];
    }
    const { serves, channels } = part;
    const name = servedNames(task, serves, channels);
    return [
      { read: pulses, channel: serves.join('+') || channels, name, isGroup: serves.length > 1, ...decided },
    ];
  });
}

/** By the pulses; where they do not decide, by the phase of the sweep; where the two differ, by neither. */
function decidedPolarity(
  { heard }: PulseTakeReading,
  sweepInverted: boolean | null,
): Pick<Subject, 'polarity' | 'confidence'> {
  const bySweep = sweepInverted === null ? null : sweepInverted ? 'inverted' : 'upright';
  const confidence = heard?.confidence ?? 0.5;
  const byPulses = heard?.polarity ?? 'undecided';
  if (byPulses === 'undecided') return { polarity: bySweep ?? 'undecided', confidence };
  return { polarity: bySweep === null || bySweep === byPulses ? byPulses : 'undecided', confidence };
}

function reversed(subject: Subject, subjects: readonly Subject[], turnedOver: boolean): Complaint {
  const others = subjects.filter((one) => one !== subject && one.polarity !== 'undecided');
  const opposite = others.filter((one) => one.polarity !== subject.polarity).length;
  const beside =
    others.length === 0
      ? '; it was recorded alone, so the recorder’s own leads may be the wrong way round'
      : `, while ${opposite} of ${others.length} other channels ${opposite === 1 ? 'does' : 'do'} the opposite`;
  const way = turnedOver ? 'push where most pull' : 'pull where they should push';
  const { channel, name, isGroup, read } = subject;
  return {
    fault: 'channel-reversed',
    channel,
    sentence: isGroup
      ? `Of ${inText(name)} one or more are the wrong way round.`
      : `${name} is the wrong way round.`,
    evidence: `${isGroup ? 'The pulses heard of them together' : 'Its pulses'} ${way}${beside}.`,
    remedy: isGroup
      ? 'Find out which, at the terminals of each or at the Balance station with one playing alone; then swap its two leads, and check again.'
      : `Swap the two leads of ${inText(name)}, and check again.`,
    read: [read],
  };
}
