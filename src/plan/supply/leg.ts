/**
 * One leg of the supply, from the battery to the amplifier: its resistance
 * from two pairs of readings, at rest and under the tone, against what its
 * wire explains.
 */
import { combined, rectangular } from '../calibration/gum.ts';
import { figure } from '../figures.ts';
import { runOhmsBounds, type WireRun } from '../wire/wire-run.ts';

/** A figure with its standard uncertainty (k = 1), in the same unit. */
export interface Measured {
  value: number;
  uncertainty: number;
}

/** A multimeter on DC volts: "±(0.5 % + 3 digits)" and what its last digit is worth on the range in use. */
export interface DcMeter {
  percentOfReading: number;
  digits: number;
  voltsPerDigit: number;
}

type LegVerdict = 'good' | 'poor' | 'cannot-tell';

export interface LegJudgement {
  ohms: Measured;
  /** What the wire explains, from solid and cold to stranded and warm; `null` where the wire is not noted. */
  wireOhms: { low: number; high: number } | null;
  /** What the wire does not explain, against its upper bound and never below 0; `null` without a wire. */
  restOhms: number | null;
  verdict: LegVerdict;
  /** One sentence. */
  why: string;
}

/** Lugs, bolts, fuse holder and bare metal of one sound leg take less (common practice). */
const JOINTS_OHMS = 0.005;

/** About 95 % of a normal distribution (JCGM 100, 6.2). */
export const COVERAGE = 2;

/**
 * Under-tone reading less the one at rest, on one range: the percentage goes
 * with the step, the digits with either reading.
 */
export function stepVolts(restVolts: number, toneVolts: number, meter: DcMeter): Measured {
  const value = toneVolts - restVolts;
  const digits = rectangular(meter.digits * meter.voltsPerDigit);
  const gain = rectangular((meter.percentOfReading / 100) * Math.abs(value));
  return { value, uncertainty: combined([gain, digits, digits]) };
}

/** Resistance from a step of drop over a step of current, first order as in the GUM. NaN where the current did not move. */
export function legOhms(drop: Measured, current: Measured): Measured {
  const value = drop.value / current.value;
  return {
    value,
    uncertainty: combined([drop.uncertainty / current.value, (value * current.uncertainty) / current.value]),
  };
}

const milliohms = (ohms: number) => `${figure(ohms * 1000, 2)} mΩ`;

/**
 * Whether a leg is worse than its wire and sound joints explain. `poor` and
 * `good` are said only where the whole interval (k = 2) lies on one side.
 */
export function judgeLeg(ohms: Measured, run: WireRun | null): LegJudgement {
  if (run === null) {
    return {
      ohms,
      wireOhms: null,
      restOhms: null,
      verdict: 'cannot-tell',
      why: `The leg has ${milliohms(ohms.value)}; note its wire's length and gauge on the Plan station to tell whether that explains it.`,
    };
  }
  const wireOhms = runOhmsBounds(run);
  const judged = {
    ohms,
    wireOhms,
    restOhms: Math.max(0, ohms.value - wireOhms.high),
  };
  return { ...judged, ...verdictOf(ohms, wireOhms) };
}

function verdictOf(
  ohms: Measured,
  wire: { low: number; high: number },
): Pick<LegJudgement, 'verdict' | 'why'> {
  const half = COVERAGE * ohms.uncertainty;
  const most = wire.high + JOINTS_OHMS;
  const found = `${milliohms(Math.max(0, ohms.value))} ± ${milliohms(half)}`;
  const explained = `its wire explains ${milliohms(wire.high)}`;
  if (ohms.value + half < wire.low) {
    return {
      verdict: 'cannot-tell',
      why: `The leg reads ${found}, less than its wire alone must have (${milliohms(wire.low)}): check where the probes stood, the current, and the wire's length and gauge.`,
    };
  }
  if (ohms.value - half > most) {
    return {
      verdict: 'poor',
      why: `The leg has ${found} and ${explained}: the other ${milliohms(ohms.value - wire.high)} sit in a joint, under a bolt or on paint.`,
    };
  }
  if (ohms.value + half <= most) {
    return {
      verdict: 'good',
      why: `The leg has ${found} and ${explained}; the rest is what sound joints take.`,
    };
  }
  return {
    verdict: 'cannot-tell',
    why: `The leg reads ${found}, too wide to tell from the ${milliohms(most)} that wire and sound joints take: draw more current, or take a finer range.`,
  };
}
