import type { ExpectedFilter } from '../../dsp/time/expected-band.ts';
import { doubtSentence } from '../gain/doubts.ts';
import type { PulseTakeReading, PulseTakeRequest } from '../take/pulse-take.ts';

/** One channel as a train of pulses hears it; what polarity and arrival have in common. */
export interface PulseChannel {
  channelId: string;
  name: string;
  /** Centre of the pulse that it answers, and where that begins in each interval (`arrivalTrain`). */
  frequencyHz: number;
  place: number;
  /** What it may pass, each as likely as the others. */
  bands: ExpectedFilter[][];
}

/** What a take of this channel alone is read for, by a microphone in the cabin. */
export function pulseRequest(
  channel: PulseChannel,
  everySeconds: number,
  channelIndex: number,
): PulseTakeRequest {
  const { frequencyHz, place, bands } = channel;
  return { kind: 'pulses', channelIndex, frequencyHz, place, everySeconds, path: 'cabin', bands };
}

/** @throws RangeError where the task has no such channel */
export function pulseChannel(channels: readonly PulseChannel[], channelId: string): PulseChannel {
  const found = channels.find((one) => one.channelId === channelId);
  if (found !== undefined) return found;
  const known = channels.map((one) => one.channelId).join(', ');
  throw new RangeError(`Channel "${channelId}" is not part of this task, which has ${known}.`);
}

/** @throws RangeError for a task that nothing can be heard with */
export function checkPulseChannels(channels: readonly PulseChannel[]): void {
  if (channels.length === 0) throw new RangeError('There is no channel to listen to.');
  const bare = channels.find((channel) => channel.bands.length === 0);
  if (bare !== undefined) throw new RangeError(`No band is expected of channel ${bare.channelId}.`);
}

/** Why a recording says nothing about the pulses: one sentence, or `null` where it does. */
export function whyNotPulses(reading: PulseTakeReading, name: string): string | null {
  if (reading.grade === 'invalid') {
    const [worst] = reading.doubts;
    return `${worst === undefined ? 'The recording is of no use.' : doubtSentence(worst)} Record it again.`;
  }
  if (reading.heard !== null) return null;
  return `No regular pulses were heard from ${name.toLowerCase()}: see that the train plays, that only this channel is connected, and that the cabin is quiet.`;
}
