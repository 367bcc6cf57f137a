import type { ChannelChain, ChannelPlan, ChannelRating, PlanWarning, PlanWarningKind } from './chain.ts';
import { figure } from './figures.ts';
import { statedOhms } from './load/stated-ohms.ts';
import type { AmplifierPower } from './power/amplifier-power.ts';
import { ratioToDb } from './units/ratio.ts';

/** All that the warnings of one channel depend on. */
export interface WarningGround {
  chain: ChannelChain;
  /** The rating that applies; `null` where the channel is bridged and may not be. */
  rating: ChannelRating | null;
  amplifier: AmplifierPower;
  plan: Omit<ChannelPlan, 'warnings'>;
}

/** Supply differences below this change the clean voltage by less than a gain is set to. */
const SUPPLY_DIFFERENCE_DB = 0.25;

/** Powers this close (2 %, 0.09 dB) are one power: nobody needs to be told which is smaller. */
const SAME_POWER = 0.02;

/** Levels are typed to a tenth of a decibel at the finest. */
const SAME_LEVEL_DB = 0.01;

/** Every warning that applies, the ones that forbid the connection first. */
export function channelWarnings(ground: WarningGround): PlanWarning[] {
  return [bridging, minimumLoad, ratingAtLoad, powerMismatch, supply, summedInput, toneAgainstTarget]
    .map((warn) => warn(ground))
    .filter((warning) => warning !== null);
}

/** True where the load is under the amplifier's stated minimum. */
export function isUnderMinimum(rating: ChannelRating, loadOhms: number): boolean {
  return loadOhms < statedOhms(rating.minimumLoadOhms) * (1 - 1e-6);
}

function warning(kind: PlanWarningKind, sentence: string): PlanWarning {
  return { kind, sentence };
}

function bridging({ rating }: WarningGround): PlanWarning | null {
  if (rating !== null) return null;
  return warning(
    'bridging-not-allowed',
    'This amplifier may not be bridged, so there is no target; use its channels one by one.',
  );
}

function minimumLoad({ chain, rating, plan }: WarningGround): PlanWarning | null {
  if (rating === null || !isUnderMinimum(rating, plan.loadOhms)) return null;
  const half = chain.bridged ? ` (each of the two channels sees half of it)` : '';
  return warning(
    'load-under-minimum',
    `The load of ${figure(plan.loadOhms)} ohm${half} is under the amplifier's minimum of ${figure(statedOhms(rating.minimumLoadOhms))} ohm${chain.bridged ? ' bridged' : ''}: do not connect it; wire the drivers for a higher load.`,
  );
}

function ratingAtLoad({ rating, amplifier, plan }: WarningGround): PlanWarning | null {
  if (rating === null || isUnderMinimum(rating, plan.loadOhms)) return null;
  const load = `${figure(plan.loadOhms)} ohm`;
  switch (amplifier.basis) {
    case 'stated':
      return null;
    case 'interpolated': {
      const { low, high } = amplifier.boundsWatts ?? { low: Number.NaN, high: Number.NaN };
      return warning(
        'rating-interpolated',
        `No power is stated at ${load}: ${figure(amplifier.watts ?? Number.NaN, 3)} W is worked out from the stated loads on either side, which allow ${figure(low, 3)} to ${figure(high, 3)} W; let the knee decide.`,
      );
    }
    case 'at-least':
      return warning(
        'no-rating-at-load',
        `No power is stated at ${load} or above: the voltage of the highest stated load is taken, which is ${figure(amplifier.watts ?? Number.NaN, 3)} W here and a lower bound.`,
      );
    case 'none':
      return warning(
        'no-rating-at-load',
        `The amplifier's ratings say nothing about ${load}, so there is no target: look up its clean power at that load.`,
      );
  }
}

function powerMismatch({ chain, plan }: WarningGround): PlanWarning | null {
  const { amplifierWatts, driverWatts } = plan;
  if (amplifierWatts === null) return null;
  const unequal = chain.drivers.driverWiring.startsWith('one-in-')
    ? ' (the single driver takes 2/3 of the power)'
    : '';
  const drivers = `${figure(driverWatts)} W continuous${unequal}`;
  if (driverWatts < amplifierWatts * (1 - SAME_POWER)) {
    return warning(
      'drivers-rated-below-amplifier',
      `The drivers take ${drivers} and the amplifier gives ${figure(amplifierWatts)} W: the target is the drivers', and more gain than that burns coils.`,
    );
  }
  if (amplifierWatts < driverWatts * (1 - SAME_POWER)) {
    return warning(
      'amplifier-rated-below-drivers',
      `The amplifier gives ${figure(amplifierWatts)} W and the drivers take ${drivers}: the target is the amplifier's, and more gain than that only clips.`,
    );
  }
  return null;
}

function supply({ chain }: WarningGround): PlanWarning | null {
  const found = chain.supplyVolts;
  const rated = chain.amplifier.ratedSupplyVolts;
  if (found === null) return null;
  const differenceDb = ratioToDb(found / rated);
  if (Math.abs(differenceDb) < SUPPLY_DIFFERENCE_DB) return null;
  const effect =
    differenceDb < 0
      ? `may clip up to ${figure(-differenceDb, 2)} dB below the target`
      : `may stay clean up to ${figure(differenceDb, 2)} dB past the target, which is no reason to exceed it`;
  return warning(
    'supply-differs-from-rating',
    `The power is rated at a supply of ${figure(rated)} V and ${figure(found)} V was found: an amplifier without a regulated supply ${effect}.`,
  );
}

function summedInput({ chain }: WarningGround): PlanWarning | null {
  const { summedInputs, inputsWithTone } = chain;
  if (summedInputs === inputsWithTone) return null;
  const lossDb = ratioToDb(summedInputs / inputsWithTone);
  return warning(
    'tone-reads-low-on-summed-input',
    `The tone is on ${inputsWithTone} of ${summedInputs} summed inputs, so it reads ${lossDb.toFixed(2)} dB low, which the expected volts allow for; play it on all ${summedInputs} to be rid of that.`,
  );
}

function toneAgainstTarget({ plan }: WarningGround): PlanWarning | null {
  const { targetVolts, toneVolts } = plan;
  if (targetVolts === null || toneVolts === null) return null;
  const overDb = ratioToDb(toneVolts / targetVolts);
  if (overDb > SAME_LEVEL_DB) {
    return warning(
      'tone-past-target',
      `At the right gain this tone lies ${overDb.toFixed(1)} dB above the target and clips: set with a tone at ${figure(plan.toneDbfs - overDb)} dBFS or below.`,
    );
  }
  if (overDb < -SAME_LEVEL_DB) {
    return warning(
      'tone-never-reaches-target',
      `At the right gain this tone stays ${(-overDb).toFixed(1)} dB below the target: that spares coils and ears, but confirm the knee with a short tone at ${figure(Math.min(0, plan.toneDbfs - overDb))} dBFS.`,
    );
  }
  return null;
}
