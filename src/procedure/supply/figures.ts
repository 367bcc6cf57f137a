import { combined, rectangular } from '../../plan/calibration/gum.ts';
import { drawRiseAmperes } from '../../plan/supply/draw.ts';
import {
  COVERAGE,
  judgeLeg,
  type LegJudgement,
  legOhms,
  type Measured,
  stepVolts,
} from '../../plan/supply/leg.ts';
import type { WireRun } from '../../plan/wire/wire-run.ts';
import type { MeterAccuracy, SupplyFigures, SupplyState, SupplyTask, VoltsPair } from './supply.ts';

/** A DC clamp: ±(2 % + 5 digits) (common practice). */
const CLAMP = { percentOfReading: 2, digits: 5 };

/** Real drivers against their nominal impedance, and outputs against the plan: ±25 % of the current (common practice). */
const LOAD_SHARE = 0.25;

type Typed = Pick<SupplyState, 'meter' | 'volts' | 'current' | 'task'>;

/** Everything that follows from what was typed so far. */
export function supplyFigures(typed: Typed): SupplyFigures {
  const { volts, meter, task } = typed;
  const riseAmperes = riseOf(typed);
  const groundStepVolts = volts['ground-leg'] && stepOf(upright(volts['ground-leg']), meter);
  const amplifierStep = volts.amplifier && stepOf(volts.amplifier, meter);
  const batteryStep = volts.battery && stepOf(volts.battery, meter);
  const positiveStepVolts =
    groundStepVolts && amplifierStep && batteryStep
      ? {
          // Battery, less what is left at the amplifier, less the ground's share.
          value: batteryStep.value - amplifierStep.value - groundStepVolts.value,
          uncertainty: combined([
            batteryStep.uncertainty,
            amplifierStep.uncertainty,
            groundStepVolts.uncertainty,
          ]),
        }
      : null;
  return {
    riseAmperes,
    groundStepVolts,
    positiveStepVolts,
    batterySagVolts: batteryStep && { ...batteryStep, value: -batteryStep.value },
    legs: {
      ground: legOf(groundStepVolts, riseAmperes, task.ground),
      positive: legOf(positiveStepVolts, riseAmperes, task.positive),
    },
  };
}

/** A drop read with the probes the other way round shows a minus; the amount stands. */
export function upright(pair: VoltsPair): VoltsPair {
  const { restVolts, toneVolts } = pair;
  return restVolts <= 0 && toneVolts <= 0 ? { ...pair, restVolts: -restVolts, toneVolts: -toneVolts } : pair;
}

function stepOf(pair: VoltsPair, meter: MeterAccuracy): Measured {
  return stepVolts(pair.restVolts, pair.toneVolts, { ...meter, voltsPerDigit: pair.voltsPerDigit });
}

function riseOf({ current, task }: Typed): Measured | null {
  if (current === null) return null;
  if (current.from === 'power') return riseFromPower(current.watts, task);
  const clamp = { ...CLAMP, voltsPerDigit: current.amperesPerDigit };
  return stepVolts(current.restAmperes, current.toneAmperes, clamp);
}

/** Limits, not a distribution: what the class spans, and what loads do. */
function riseFromPower(watts: number, task: SupplyTask): Measured {
  const { amperes, low, high } = drawRiseAmperes({
    outputWatts: watts,
    ratedWatts: task.ratedWatts,
    stage: task.stage ?? 'AB',
    supplyVolts: task.supplyVolts,
  });
  const span = rectangular((high - low) / 2);
  return { value: amperes, uncertainty: combined([span, rectangular(LOAD_SHARE * amperes)]) };
}

/** A step of current known no better than to half of itself says nothing that first order would hold for. */
const WIDEST_RISE = 0.5;

function legOf(drop: Measured | null, rise: Measured | null, run: WireRun | null): LegJudgement | null {
  if (drop === null || rise === null || !(rise.value > 0)) return null;
  const judged = judgeLeg(legOhms(drop, rise), run);
  const half = COVERAGE * rise.uncertainty;
  if (half <= WIDEST_RISE * rise.value) return judged;
  return {
    ...judged,
    verdict: 'cannot-tell',
    why: `The current rises by ${rise.value.toFixed(1)} ± ${half.toFixed(1)} A only, too little to tell: draw more current.`,
  };
}
