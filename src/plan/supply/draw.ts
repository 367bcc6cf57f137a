import { notNegative, positive } from '../refused.ts';

/** Output stage of an amplifier, for what it draws. */
export type AmplifierClass = 'AB' | 'D';

export interface Draw {
  amperes: number;
  /** What amplifiers of this class span. */
  low: number;
  high: number;
}

/**
 * Output against input at a sine of rated power, voltage converter included
 * (common practice). Class B alone reaches pi/4 = 0.785 at most (textbook).
 */
const EFFICIENCY: Record<AmplifierClass, { typical: number; worst: number; best: number }> = {
  AB: { typical: 0.6, worst: 0.5, best: 0.7 },
  D: { typical: 0.85, worst: 0.75, best: 0.92 },
};

/** Share of a class D amplifier's rated input that it takes at any level: leaves 75 % at an eighth of the power (common practice). */
const CLASS_D_FIXED_SHARE = 0.019;

/** Long-term power of loud music against the rated sine: the eighth that amplifiers are tested at (IEC 60065, from memory). */
export const MUSIC_SHARE = 1 / 8;

/**
 * Supply power over that at rest, for a sine of `outputWatts`, against the
 * rated one: class AB conducts half-waves from a fixed rail, so its current
 * follows the output voltage; class D's follows the output power.
 */
function riseShare(stage: AmplifierClass, share: number): number {
  return stage === 'AB' ? Math.sqrt(share) : (1 - CLASS_D_FIXED_SHARE) * share;
}

function restShare(stage: AmplifierClass): number {
  return stage === 'AB' ? 0 : CLASS_D_FIXED_SHARE;
}

interface Output {
  outputWatts: number;
  /** All channels at their clean power. */
  ratedWatts: number;
  stage: AmplifierClass;
  supplyVolts: number;
}

function drawOf({ ratedWatts, stage, supplyVolts }: Output, share: number): Draw {
  const rated = positive(ratedWatts, "The amplifier's power, in watts,");
  const volts = positive(supplyVolts, 'The supply, in volts,');
  const { typical, worst, best } = EFFICIENCY[stage];
  const at = (efficiency: number) => (rated * share) / (efficiency * volts);
  return { amperes: at(typical), low: at(best), high: at(worst) };
}

/**
 * Current from the supply while a sine of `outputWatts` leaves the amplifier.
 * What an amplifier of class AB takes at rest is not in it.
 * @throws PlanRefused for a negative output, or a rated power or supply that is not above 0.
 */
export function drawAmperes(output: Output): Draw {
  const share = notNegative(output.outputWatts, 'The output, in watts,') / output.ratedWatts;
  return drawOf(output, riseShare(output.stage, share) + restShare(output.stage));
}

/** As {@link drawAmperes}, less what is drawn at rest: the step that a tone makes. */
export function drawRiseAmperes(output: Output): Draw {
  const share = notNegative(output.outputWatts, 'The output, in watts,') / output.ratedWatts;
  return drawOf(output, riseShare(output.stage, share));
}
