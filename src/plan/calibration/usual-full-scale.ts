import { ratioToDb } from '../units/ratio.ts';
import { rectangular } from './gum.ts';
import type { InputFullScale } from './volts-per-full-scale.ts';

/**
 * Full scale of an input nobody has measured. Every figure here is common
 * practice, not a standard and not this input's: the interface standard for
 * consumer audio excludes vehicles, and makers differ (references, item 14).
 */
export interface UsualInput {
  id: 'line' | 'balanced-line' | 'microphone' | 'headset-microphone';
  name: string;
  /** Volts RMS of a full-scale sine: the range met in practice. */
  lowVolts: number;
  highVolts: number;
  /** Input impedance a divider is designed for, and how far off it may be (0.5: half to one and a half). */
  inputOhms: number;
  inputOhmsTolerance: number;
  provenance: 'common practice';
}

export const USUAL_INPUTS: readonly UsualInput[] = [
  {
    id: 'line',
    name: 'Line input (2 V RMS)',
    lowVolts: 1,
    highVolts: 4,
    inputOhms: 10_000,
    inputOhmsTolerance: 0.3,
    provenance: 'common practice',
  },
  {
    id: 'balanced-line',
    name: 'Balanced line input (+16 to +24 dBu)',
    lowVolts: 4.887,
    highVolts: 12.28,
    inputOhms: 10_000,
    inputOhmsTolerance: 0.3,
    provenance: 'common practice',
  },
  {
    id: 'microphone',
    name: 'Microphone input (5 to 50 mV)',
    lowVolts: 0.005,
    highVolts: 0.05,
    inputOhms: 3000,
    inputOhmsTolerance: 0.6,
    provenance: 'common practice',
  },
  {
    id: 'headset-microphone',
    name: 'Headset socket (5 to 50 mV)',
    lowVolts: 0.005,
    highVolts: 0.05,
    inputOhms: 10_000,
    inputOhmsTolerance: 0.6,
    provenance: 'common practice',
  },
];

/** The table's entry. Every id is in the table, so nothing is thrown for one the type allows. */
export function usualInput(id: UsualInput['id']): UsualInput {
  const found = USUAL_INPUTS.find((input) => input.id === id);
  if (found === undefined) throw new RangeError(`no usual input is called ${id}`);
  return found;
}

/** Geometric middle of the range, the range itself taken as rectangular in dB. Never `measured`. */
export function usualFullScale(input: UsualInput): InputFullScale {
  return {
    volts: Math.sqrt(input.lowVolts * input.highVolts),
    uncertaintyDb: rectangular(ratioToDb(input.highVolts / input.lowVolts) / 2),
    measured: false,
  };
}
