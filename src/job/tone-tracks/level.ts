import { BURST_SECONDS, PAUSE_PER_BURST } from '../../procedure/gain/burst/burst.ts';
import { burstTonesAt } from '../../procedure/gain/burst/burst-plan.ts';
import { REDUCED_BY_DB } from '../../procedure/gain/tone-level.ts';
import type { TonedChannel, Unfiled } from './channels.ts';

/** Long enough to turn a control by and let the reading rest; short enough to be repeated with pauses. */
const LEVEL_SECONDS = 30;
/** Above this a tone at set gain gives a tenth of the channel's power or more. */
const WARMING_DBFS = -15;
const WARMS =
  'At set gain this tone heats voice coils within seconds and harms hearing: unplug the drivers, or play it briefly.';

/** The setting tone of each channel, on the sides that feed it, at the level its plan counts on. */
export function levelTracks(channels: readonly TonedChannel[]): Unfiled[] {
  return channels.map((channel) => ({
    id: `${channel.id}-level`,
    purpose: `Sets the gain of ${channel.name.toLowerCase()}: the plan says how many volts this tone must read.`,
    ...steady(channel, channel.levelDbfs),
  }));
}

/** The same tones 20 dB under minus the overlap: a hundredth of the power while the control is turned. */
export function reducedTracks(channels: readonly TonedChannel[]): Unfiled[] {
  return channels.map((channel) => ({
    id: `${channel.id}-reduced`,
    purpose: `Sets the gain of ${channel.name.toLowerCase()} at a hundredth of the power; the bursts confirm it.`,
    ...steady(channel, -channel.overlapDb - REDUCED_BY_DB),
  }));
}

/** Bursts of a second with pauses between: short of the target, at it, and above where there is room. */
export function burstTracks(channels: readonly TonedChannel[]): Unfiled[] {
  return channels.map((channel) => {
    const levelsDbfs = burstTonesAt(-channel.overlapDb);
    const pauseSeconds = PAUSE_PER_BURST * BURST_SECONDS;
    return {
      id: `${channel.id}-bursts`,
      kind: 'steps',
      channels: channel.fedBy,
      serves: channel.serves,
      purpose: `Confirms the gain of ${channel.name.toLowerCase()}, once it is set with the reduced tone, at full level.`,
      caution: 'At set gain each burst carries full power for a second: play it once, never on repeat.',
      frequencyHz: channel.frequencyHz,
      levelsDbfs,
      stepSeconds: BURST_SECONDS,
      pauseSeconds,
      startSeconds: 0,
      durationSeconds: levelsDbfs.length * BURST_SECONDS + (levelsDbfs.length - 1) * pauseSeconds,
    };
  });
}

function steady(channel: TonedChannel, levelDbfs: number) {
  return {
    kind: 'sine',
    channels: channel.fedBy,
    serves: channel.serves,
    caution: levelDbfs > WARMING_DBFS ? WARMS : null,
    frequencyHz: channel.frequencyHz,
    levelDbfs,
    startSeconds: 0,
    durationSeconds: LEVEL_SECONDS,
  } as const;
}
