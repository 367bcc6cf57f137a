import { settingToneHz } from '../../plan/tone/setting-tone.ts';
import type { Job } from '../document.ts';
import type { Track } from '../manifest.ts';

/** A track before the set gives it a file. `Omit` would merge the kinds into one; this keeps them apart. */
export type Unfiled = Track extends infer T ? (T extends { file: string } ? Omit<T, 'file'> : never) : never;

type Side = 'left' | 'right' | 'both';

/** What the tone set needs to know of one channel. */
export interface TonedChannel {
  id: string;
  name: string;
  fedBy: Side;
  band: { highPassHz: number | null; lowPassHz: number | null };
  frequencyHz: number;
  levelDbfs: number;
  overlapDb: number;
  /** Empty for the general set: its tracks are for whoever is fed by that side. */
  serves: string[];
}

export function tonedChannels(job: Job): TonedChannel[] {
  return job.channels.map(({ id, name, fedBy, band, tone, overlapDb }) => ({
    id,
    name,
    fedBy,
    band,
    frequencyHz: tone.frequencyHz,
    levelDbfs: tone.levelDbfs,
    overlapDb,
    serves: [id],
  }));
}

function general(id: string, name: string, fedBy: Side, band: TonedChannel['band']): TonedChannel {
  return { id, name, fedBy, band, frequencyHz: settingToneHz(band), levelDbfs: -5, overlapDb: 5, serves: [] };
}

const DOORS = { highPassHz: 80, lowPassHz: null };

/** Without a job: both sides, and a bass channel that is fed from their sum. */
export const GENERAL_CHANNELS: readonly TonedChannel[] = [
  general('left', 'Left side', 'left', DOORS),
  general('right', 'Right side', 'right', DOORS),
  general('bass', 'Bass', 'both', { highPassHz: null, lowPassHz: 80 }),
];

/** Channels that are fed alike and pass the same band need one track between them. */
export function fedAlike(channels: readonly TonedChannel[]): TonedChannel[][] {
  const groups = new Map<string, TonedChannel[]>();
  for (const channel of channels) {
    const key = JSON.stringify([channel.fedBy, channel.band.highPassHz, channel.band.lowPassHz]);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [channel]);
    else group.push(channel);
  }
  return [...groups.values()];
}

export function namesOf(group: readonly TonedChannel[]): string {
  return group.map((channel) => channel.name.toLowerCase()).join(' and ');
}
