import type { Finding } from '../procedure.ts';
import type { ChannelPolarity, PolarityState } from './polarity.ts';

type Heard = Pick<PolarityState, 'task' | 'heard'>;

/**
 * What each channel is, in the task's order. A microphone, an input or a radio may turn everything over; it does so
 * to all channels alike, so where most read upside down the odd ones are the reversed ones. Where it stands even,
 * the reading is taken as it is.
 */
export function verdictsOf({ task, heard }: Heard): Pick<PolarityState, 'channels' | 'turnedOver'> {
  const read = task.channels.flatMap(({ channelId }) => {
    const one = heard[channelId];
    return one === undefined ? [] : [{ channelId, ...one }];
  });
  const count = (polarity: string) => read.filter((one) => one.pulses.polarity === polarity).length;
  const turnedOver = count('inverted') > count('upright');
  const upright = turnedOver ? 'inverted' : 'upright';
  const channels = read.map(({ channelId, pulses, signalToNoiseDb }): ChannelPolarity => {
    const { polarity, confidence } = pulses;
    const verdict = polarity === 'undecided' ? 'cannot-tell' : polarity === upright ? 'normal' : 'reversed';
    return { channelId, verdict, read: polarity, confidence, signalToNoiseDb };
  });
  return { channels, turnedOver };
}

export function findingsOf(facts: Pick<PolarityState, 'task' | 'channels' | 'turnedOver'>): Finding[] {
  const reversed = facts.channels.filter((channel) => channel.verdict === 'reversed');
  return [...reversed.map((channel) => reversal(channel, facts)), ...turnedOver(facts)];
}

function nameOf({ task }: Pick<PolarityState, 'task'>, channelId: string): string {
  return task.channels.find((channel) => channel.channelId === channelId)?.name ?? channelId;
}

function reversal(channel: ChannelPolarity, facts: Pick<PolarityState, 'task' | 'channels'>): Finding {
  const name = nameOf(facts, channel.channelId);
  const others = facts.channels.filter((one) => one.verdict === 'normal').length;
  const beside =
    others === 0
      ? ''
      : `, while ${others === 1 ? 'one other channel does' : `${others} others do`} the opposite`;
  const chance = Math.min(99.9, 100 * channel.confidence).toFixed(1);
  return {
    fault: 'channel-reversed',
    sentence: `${name} is the wrong way round.`,
    evidence: `Its pulses pull where they should push, with ${chance} % confidence${beside}.`,
    remedy: `Swap the two leads of ${name.toLowerCase()}, at the driver or at the amplifier, and record it again.`,
  };
}

/** Told only where it is sure: several channels, and most of them. */
function turnedOver(facts: Pick<PolarityState, 'channels' | 'turnedOver'>): Finding[] {
  if (!facts.turnedOver || facts.channels.length < 2) return [];
  const count = facts.channels.filter((channel) => channel.read === 'inverted').length;
  return [
    {
      fault: 'all-turned-over',
      sentence:
        'Nearly everything reads upside down, so the radio, the microphone or its input turns the signal over.',
      evidence: `${count} of ${facts.channels.length} channels read inverted.`,
      remedy:
        'Nothing is heard of that: channels that agree with each other are right; only the odd ones are to be swapped.',
    },
  ];
}
