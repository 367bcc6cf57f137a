import { REDUCED_BY_DB } from '../../procedure/gain/tone-level.ts';
import { type RunTiming, steadyToneSeconds } from '../../procedure/run-track/timing.ts';
import { namesOf, type TonedChannel } from '../tone-tracks/channels.ts';
import type { LoudPart, Unplaced } from './unplaced.ts';

const FULL_POWER =
  'For most of a second this tone carries full power at the volume and gains that were set: never on repeat.';

/** Channels that are fed alike and set with the same tone are read from one part. */
function tonedAlike(channels: readonly TonedChannel[]): TonedChannel[][] {
  const groups = new Map<string, TonedChannel[]>();
  for (const channel of channels) {
    const key = JSON.stringify([channel.fedBy, channel.frequencyHz, channel.overlapDb]);
    groups.set(key, [...(groups.get(key) ?? []), channel]);
  }
  return [...groups.values()];
}

/** The setting tones a hundredth of the power down. */
export function reducedParts(channels: readonly TonedChannel[], timing: RunTiming): Unplaced[] {
  return tonedAlike(channels).map((group) => ({
    id: `${group[0]!.id}-reduced`,
    purpose: `Level of ${namesOf(group)} at a hundredth of the power: what the full tone is compared with.`,
    caution: null,
    ...tone(group, -group[0]!.overlapDb - REDUCED_BY_DB, timing),
  }));
}

/** The setting tones at the level that reaches the target, as briefly as they can be read. */
export function fullParts(channels: readonly TonedChannel[], timing: RunTiming): LoudPart[] {
  return tonedAlike(channels).map((group) => {
    const [first] = group as [TonedChannel];
    return {
      part: {
        id: `${first.id}-level`,
        purpose: `Level and clipping of ${namesOf(group)} where the plan wants the target voltage.`,
        caution: FULL_POWER,
        ...tone(group, -first.overlapDb, timing),
      },
      drives: channels.filter((one) => isDriven(one, first)).map(({ id }) => id),
    };
  });
}

function tone(group: readonly TonedChannel[], levelDbfs: number, timing: RunTiming) {
  const { fedBy, frequencyHz } = group[0]!;
  return {
    kind: 'sine',
    channels: fedBy,
    serves: group.flatMap(({ serves }) => serves),
    frequencyHz,
    levelDbfs,
    durationSeconds: steadyToneSeconds(frequencyHz, timing),
  } as const;
}

/** Whether a tone on the sides of one channel, in its band, reaches the coils of another. */
function isDriven(channel: TonedChannel, { fedBy, frequencyHz }: TonedChannel): boolean {
  const { highPassHz, lowPassHz } = channel.band;
  const isFed = channel.fedBy === fedBy || channel.fedBy === 'both' || fedBy === 'both';
  return isFed && frequencyHz >= (highPassHz ?? 0) && frequencyHz <= (lowPassHz ?? Number.POSITIVE_INFINITY);
}
