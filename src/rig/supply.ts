import { channelDrive, channelVolts } from './channel-drive.ts';
import type { RigChannelConfig, RigConfig, RigControls, RigTone } from './rig.ts';
import { loadingSine } from './tone.ts';

/** Supply at which a ceiling is stated where the config says nothing (CTA-2006). */
const RATED_SUPPLY_VOLTS = 14.4;

/** Supply sinks, ceilings sink, current sinks: settled to a microvolt after so many rounds. */
const ROUNDS = 40;

export function ratedSupplyVolts(config: RigConfig): number {
  return config.ratedSupplyVolts ?? RATED_SUPPLY_VOLTS;
}

/** What holds the supply up, as a voltage across the battery. */
function batteryVolts(config: RigConfig, controls: RigControls): number {
  if (controls.engine === undefined) return controls.supplyVolts ?? ratedSupplyVolts(config);
  return controls.engine === 'off' ? config.supplyPath.batteryVolts : config.supplyPath.chargingVolts;
}

/**
 * Ceiling at the terminals, peak volts: in proportion to the supply, and
 * divided between load and output resistance while the load is connected.
 */
export function amplifierCeiling(
  config: RigConfig,
  channel: RigChannelConfig,
  supplyVolts: number,
  isLoaded: boolean,
): number {
  const sag = isLoaded ? channel.loadOhms / (channel.loadOhms + channel.outputOhms) : 1;
  return (channel.ceilingPeakVolts * supplyVolts * sag) / ratedSupplyVolts(config);
}

export interface RigSupply {
  batteryVolts: number;
  amperes: number;
  /** At the amplifiers' supply terminals. */
  amplifierVolts: number;
  /** What the ceilings follow: less than the battery's by what the channels' `outputOhms` do not hold already. */
  ceilingVolts: number;
}

/** Supply as it settles under a steady tone. */
export function rigSupply(config: RigConfig, controls: RigControls, tone: RigTone): RigSupply {
  const { plusLegOhms, groundLegOhms, countedOhms, idleAmperes } = config.supplyPath;
  const battery = batteryVolts(config, controls);
  const extraOhms = Math.max(0, plusLegOhms + groundLegOhms - countedOhms);
  const drives = config.channels.map((channel) =>
    channelDrive(config, controls, channel, loadingSine(tone, channel)),
  );
  let amperes = idleAmperes;
  for (let round = 0; round < ROUNDS; round += 1) {
    const ceilingVolts = Math.max(1, battery - amperes * extraOhms);
    let watts = 0;
    for (const [index, channel] of config.channels.entries()) {
      if (!controls.loaded) break;
      const ceiling = amplifierCeiling(config, channel, ceilingVolts, true);
      watts += channelVolts(config, drives[index]!, ceiling) ** 2 / channel.loadOhms / channel.efficiency;
    }
    const drawn = idleAmperes + watts / Math.max(1, battery - amperes * (plusLegOhms + groundLegOhms));
    // Half way each round: clipping makes the whole way swing to and fro.
    amperes += 0.5 * (drawn - amperes);
  }
  return {
    batteryVolts: battery,
    amperes,
    amplifierVolts: battery - amperes * (plusLegOhms + groundLegOhms),
    ceilingVolts: Math.max(1, battery - amperes * extraOhms),
  };
}
