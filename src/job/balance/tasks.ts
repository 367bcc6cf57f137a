/** The Balance station's tasks, from the job. */
import type { ArrivalTask } from '../../procedure/arrival/arrival.ts';
import { type ArrivalTrain, arrivalTrain } from '../../procedure/arrival/train.ts';
import type { LevelPlace, LevelTask } from '../../procedure/level/level.ts';
import type { PolarityTask } from '../../procedure/polarity/polarity.ts';
import type { PulseChannel } from '../../procedure/pulses/pulse-channel.ts';
import type { Job, JobChannel } from '../document.ts';
import { balanceBand } from '../tone-tracks/balance.ts';
import { expectedBands } from './expected-bands.ts';
import { pairsOf } from './pairs.ts';
import { roomDb } from './room.ts';

/** As many on the left as on the right, so that neither side is nearer in the mean. */
const PLACES: readonly LevelPlace[] = [
  { placeId: 'front-left-seat', name: 'the front left seat', side: 'left' },
  { placeId: 'front-right-seat', name: 'the front right seat', side: 'right' },
  { placeId: 'rear-left-seat', name: 'the rear left seat', side: 'left' },
  { placeId: 'rear-right-seat', name: 'the rear right seat', side: 'right' },
];

/** Whatever the rate of this page's sound, the noise is that of a track at this rate. */
const TRACK_RATE_HZ = 44_100;

/**
 * By wire: the channels that have a partner, both read with the left one's tone. By microphone: all channels.
 *
 * @throws JobRefused where a channel's chain cannot exist
 */
export function levelTask(
  job: Job,
  way: LevelTask['way'],
  scale: Pick<LevelTask, 'weighting' | 'voltsPerFs' | 'microphone'>,
): LevelTask {
  const pairs = pairsOf(job);
  const byWire = pairs.flatMap(({ leftId, rightId }) => [leftId, rightId]);
  const tones = new Map(pairs.map(({ leftId, rightId }) => [rightId, leftId]));
  const channels = job.channels
    .filter((channel) => way === 'microphone' || byWire.includes(channel.id))
    .map((channel) => {
      const { tone } = job.channels.find((one) => one.id === tones.get(channel.id)) ?? channel;
      return {
        channelId: channel.id,
        name: channel.name,
        toneHz: tone.frequencyHz,
        toneDbfs: tone.levelDbfs,
        band: balanceBand(channel.band, TRACK_RATE_HZ),
        roomDb: roomDb(job, channel.id),
      };
    });
  return {
    way,
    channels,
    pairs,
    places: way === 'wire' ? [] : [...PLACES],
    toleranceDb: job.tolerances.balanceDb,
    ...scale,
  };
}

/** The train that polarity and arrival are heard by; it plays on both sides. */
export function trainOf(job: Job): ArrivalTrain {
  return arrivalTrain(job.channels.map(toned), TRACK_RATE_HZ);
}

function toned({ id, tone }: JobChannel) {
  return { id, frequencyHz: tone.frequencyHz };
}

function pulseChannels(job: Job): PulseChannel[] {
  return trainOf(job).pulses.map(({ channelId, frequencyHz, place }) => {
    const channel = job.channels.find((one) => one.id === channelId) as JobChannel;
    return { channelId, name: channel.name, frequencyHz, place, bands: expectedBands(channel, job.records) };
  });
}

export function polarityTask(job: Job): PolarityTask {
  return { channels: pulseChannels(job), everySeconds: trainOf(job).spec.everySeconds };
}

export function arrivalTask(job: Job): ArrivalTask {
  return { ...polarityTask(job), toleranceMs: job.tolerances.arrivalMs };
}
