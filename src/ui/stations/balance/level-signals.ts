/** What plays for a level, what it is read for, and which track of the tone set that is. */
import type { Job } from '../../../job/document.ts';
import { toneSet } from '../../../job/tone-set.ts';
import { ambientBands, type LevelPurpose, type LevelState } from '../../../procedure/level/level.ts';
import type { TakeRequest } from '../../../procedure/take/read-take.ts';
import { toneFrequency, toneLevel } from '../../format/tone-frequency.ts';
import { TONE_SET_FORM } from '../../session/level-track.ts';
import type { Signal } from '../../signal/signal.ts';

/** RMS of the noise; the track's own. */
const NOISE_DBFS = -20;
const NOISE_SECONDS = 20;

const SIDE_WORDS = { left: 'on the left', right: 'on the right', both: 'on both sides' } as const;

/** `null` where nothing is to sound: the cabin itself is heard. */
export function levelSignal(job: Job, { task }: LevelState, purpose: LevelPurpose): Signal | null {
  if (purpose.what === 'ambient') return null;
  const channel = task.channels.find((one) => one.channelId === purpose.channelId);
  const side = job.channels.find((one) => one.id === purpose.channelId)?.fedBy;
  if (channel === undefined || side === undefined) return null;
  if (task.way === 'wire') {
    const { toneHz: frequencyHz, toneDbfs: levelDbfs } = channel;
    return {
      spec: { kind: 'sine', frequencyHz, levelDbfs, durationSeconds: 30 },
      channels: side,
      description: `${toneFrequency(frequencyHz)} at ${toneLevel(levelDbfs)} ${SIDE_WORDS[side]}`,
      loop: true,
    };
  }
  return {
    spec: { kind: 'pink', ...channel.band, levelDbfs: NOISE_DBFS, durationSeconds: NOISE_SECONDS, seed: 1 },
    channels: side,
    description: `pink noise ${Math.round(channel.band.lowHz)} to ${Math.round(channel.band.highHz)} Hz ${SIDE_WORDS[side]}`,
    loop: true,
  };
}

export function levelRequest({ task }: LevelState, purpose: LevelPurpose, channelIndex: number): TakeRequest {
  const noise = {
    kind: 'pink',
    channelIndex,
    weighting: task.weighting,
    ...(task.microphone === undefined ? {} : { microphone: task.microphone.curve }),
  } as const;
  if (purpose.what === 'ambient') return { ...noise, bands: ambientBands(task) };
  const channel = task.channels.find((one) => one.channelId === purpose.channelId);
  if (channel === undefined) throw new RangeError(`This task has no channel "${purpose.channelId}".`);
  if (task.way === 'wire') return { kind: 'tone', channelIndex, frequencyHz: channel.toneHz };
  return { ...noise, bands: [channel.band] };
}

/** File of the tone set that holds it; `null` where nothing plays or the set has none. */
export function levelTrack(job: Job, way: LevelState['task']['way'], purpose: LevelPurpose): string | null {
  if (purpose.what === 'ambient') return null;
  const kind = way === 'wire' ? 'sine' : 'pink';
  return trackServing(job, kind, purpose.channelId);
}

export function arrivalTrack(job: Job): string | null {
  return trackOf(job, (track) => track.id === 'arrival');
}

function trackServing(job: Job, kind: string, channelId: string): string | null {
  return trackOf(job, (track) => track.kind === kind && track.serves.includes(channelId));
}

function trackOf(job: Job, wanted: (track: ReturnType<typeof toneSet>['tracks'][number]) => boolean) {
  try {
    return toneSet(job, TONE_SET_FORM).tracks.find(wanted)?.file ?? null;
  } catch (fault) {
    if (fault instanceof RangeError) return null;
    throw fault;
  }
}
