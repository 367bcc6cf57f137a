import type { ChannelChain, ChannelPlan } from './chain.ts';
import { channelWarnings, isUnderMinimum } from './channel-warnings.ts';
import { driverGroupLoadOhms, driverGroupWatts } from './load/driver-group.ts';
import { type AmplifierPower, amplifierPower } from './power/amplifier-power.ts';
import { notNegative, positive } from './refused.ts';
import { planTarget, summingLossDb, toneLevel } from './target.ts';
import { dbToRatio } from './units/ratio.ts';

const UNKNOWN_POWER: AmplifierPower = { basis: 'none', watts: null, boundsWatts: null };

/**
 * What one channel should read, and what to be warned of.
 *
 * Clean power is the smaller of the amplifier's at the wired load and the
 * drivers'; a bridged channel uses the bridged rating, its load being the one
 * across the bridged pair. No target is given where the maker allows no such
 * connection (load under the minimum, bridging forbidden) or where no rating
 * covers the load.
 *
 * @throws PlanRefused where the chain cannot exist: impossible wiring, figures that are not above 0,
 * a tone above full scale, more inputs with the tone than inputs.
 */
export function planChannel(chain: ChannelChain): ChannelPlan {
  if (chain.supplyVolts !== null) positive(chain.supplyVolts, 'The supply found, in volts,');
  positive(chain.amplifier.ratedSupplyVolts, "The rating's supply, in volts,");
  const overlapDb = notNegative(chain.overlapDb, 'The overlap, in dB,');
  const toneDbfs = toneLevel(chain.toneDbfs);
  const lossDb = summingLossDb(chain.summedInputs, chain.inputsWithTone);

  const loadOhms = driverGroupLoadOhms(chain.drivers);
  const driverWatts = driverGroupWatts(chain.drivers);
  const rating = chain.bridged ? chain.amplifier.bridged : chain.amplifier.perChannel;
  if (rating !== null) positive(rating.minimumLoadOhms, "The amplifier's minimum load, in ohms,");
  const allowed = rating !== null && !isUnderMinimum(rating, loadOhms);
  const amplifier = allowed ? amplifierPower(rating, loadOhms) : UNKNOWN_POWER;
  const cleanWatts = amplifier.watts === null ? null : Math.min(amplifier.watts, driverWatts);
  const target =
    cleanWatts === null ? null : planTarget({ watts: cleanWatts, ohms: loadOhms, overlapDb, toneDbfs });

  const plan = {
    loadOhms,
    amplifierWatts: amplifier.watts,
    driverWatts,
    cleanWatts,
    limitedBy: limit(amplifier.watts, driverWatts),
    targetVolts: target?.targetVolts ?? null,
    targetPeakVolts: target?.targetPeakVolts ?? null,
    targetDbv: target?.targetDbv ?? null,
    overlapDb,
    toneDbfs,
    toneVolts: target === null ? null : target.toneVolts * dbToRatio(lossDb),
  };
  return { ...plan, warnings: channelWarnings({ chain, rating, amplifier, plan }) };
}

function limit(amplifierWatts: number | null, driverWatts: number): ChannelPlan['limitedBy'] {
  if (amplifierWatts === null) return null;
  return amplifierWatts < driverWatts ? 'amplifier' : 'drivers';
}
