import type { TonedChannel, Unfiled } from './channels.ts';

/** Long enough to turn a control by and let the reading rest; short enough to be repeated with pauses. */
const LEVEL_SECONDS = 30;
/** Above this a tone at set gain gives a tenth of the channel's power or more. */
const WARMING_DBFS = -15;

/** The setting tone of each channel, on the sides that feed it, at the level its plan counts on. */
export function levelTracks(channels: readonly TonedChannel[]): Unfiled[] {
  return channels.map((channel) => ({
    id: `${channel.id}-level`,
    kind: 'sine',
    channels: channel.fedBy,
    serves: channel.serves,
    purpose: `Sets the gain of ${channel.name.toLowerCase()}: the plan says how many volts this tone must read.`,
    caution:
      channel.levelDbfs > WARMING_DBFS
        ? 'At set gain this tone heats voice coils within seconds and harms hearing: unplug the drivers, or play it briefly.'
        : null,
    frequencyHz: channel.frequencyHz,
    levelDbfs: channel.levelDbfs,
    startSeconds: 0,
    durationSeconds: LEVEL_SECONDS,
  }));
}
