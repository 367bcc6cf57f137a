/** The practice rig's multimeter and clamp: what they show at rest and while the tone plays. */
import type { SupplyCurrent, SupplyPoint, VoltsPair } from '../../procedure/supply/supply.ts';
import { type MultimeterPoint, rigMultimeter } from '../../rig/multimeter.ts';
import type { RigSineTone } from '../../rig/rig.ts';
import { rigSupply } from '../../rig/supply.ts';
import { rigConfig, rigControls } from './rig-session.ts';

/** A multimeter shows two decimals from two volts up, three below. */
const COARSE_FROM_VOLTS = 2;
const CLAMP_DIGIT_AMPERES = 0.1;

const LEADS: Record<SupplyPoint, MultimeterPoint> = {
  'ground-leg': 'ground-leg',
  amplifier: 'amplifier-supply',
  battery: 'battery',
};

const silent = (tone: RigSineTone): RigSineTone => ({ ...tone, kind: 'silence' });

export function practiceVolts(point: SupplyPoint, tone: RigSineTone): VoltsPair {
  const shown = (now: RigSineTone) => rigMultimeter(rigConfig.get(), rigControls.get(), now, LEADS[point]);
  const restVolts = shown(silent(tone));
  const toneVolts = shown(tone);
  const isCoarse = Math.max(Math.abs(restVolts), Math.abs(toneVolts)) >= COARSE_FROM_VOLTS;
  return { restVolts, toneVolts, voltsPerDigit: isCoarse ? 0.01 : 0.001 };
}

export function practiceClamp(tone: RigSineTone): SupplyCurrent {
  const shown = (now: RigSineTone) => {
    const { amperes } = rigSupply(rigConfig.get(), rigControls.get(), now);
    return Math.round(amperes / CLAMP_DIGIT_AMPERES) / Math.round(1 / CLAMP_DIGIT_AMPERES);
  };
  return {
    from: 'clamp',
    restAmperes: shown(silent(tone)),
    toneAmperes: shown(tone),
    amperesPerDigit: CLAMP_DIGIT_AMPERES,
  };
}
