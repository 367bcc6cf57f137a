import type { RigChannelConfig } from './rig.ts';

/**
 * An audio taper: equal turns of the control are equal steps in dB.
 * `gainSetting` is its inverse.
 *
 * @param setting 0 (fully down) to 1 (fully up); beyond either end the stop holds
 */
export function amplifierGainDb(channel: RigChannelConfig, setting: number): number {
  const turned = Math.min(1, Math.max(0, setting));
  return channel.lowestGainDb + turned * (channel.highestGainDb - channel.lowestGainDb);
}

/** Setting of the control for a gain; inverse of `amplifierGainDb`. Outside 0 to 1 the control cannot reach it. */
export function gainSetting(channel: RigChannelConfig, gainDb: number): number {
  return (gainDb - channel.lowestGainDb) / (channel.highestGainDb - channel.lowestGainDb);
}
