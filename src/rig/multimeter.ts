import type { RigConfig, RigControls, RigTone } from './rig.ts';
import { rigSupply } from './supply.ts';

/** Where the practice multimeter's two leads may be put. */
export const MULTIMETER_POINTS = [
  /** Across the battery. */
  'battery',
  /** Across the amplifiers' supply terminals. */
  'amplifier-supply',
  /** From the battery's minus to the amplifiers' plus terminal. */
  'amplifier-plus',
  /** From the battery's plus to the amplifiers' plus terminal. */
  'plus-leg',
  /** From the battery's minus to the amplifiers' ground terminal. */
  'ground-leg',
] as const;

export type MultimeterPoint = (typeof MULTIMETER_POINTS)[number];

/** Steps of the display, volts, below and above two volts. */
const FINE_STEP_VOLTS = 0.001;
const COARSE_STEP_VOLTS = 0.01;

/** Direct volts on the practice multimeter's display, while the tone plays on. @throws RangeError as `PracticeRig` does */
export function rigMultimeter(
  config: RigConfig,
  controls: RigControls,
  tone: RigTone,
  point: MultimeterPoint,
): number {
  const { batteryVolts, amperes, amplifierVolts } = rigSupply(config, controls, tone);
  const volts = {
    battery: batteryVolts,
    'amplifier-supply': amplifierVolts,
    'amplifier-plus': batteryVolts - amperes * config.supplyPath.plusLegOhms,
    'plus-leg': amperes * config.supplyPath.plusLegOhms,
    'ground-leg': amperes * config.supplyPath.groundLegOhms,
  }[point];
  const step = Math.abs(volts) < 2 ? FINE_STEP_VOLTS : COARSE_STEP_VOLTS;
  // Divided by a whole number, so that what is shown has no stray digits.
  return Math.round(volts / step) / Math.round(1 / step);
}
