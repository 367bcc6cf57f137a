import { type LimitedSine, limitedHarmonic } from '../limited-sine.ts';
import { angleOfOverdrive } from '../overdrive.ts';
import type { ShapeFamily, ShapePattern } from './shape-family.ts';

/**
 * A limit on current into a load that is not a plain resistance: the current is a limited sine, and the
 * voltage, which is what we read, is that current through the load. With `q` the reactance against the
 * resistance at the fundamental, a voice coil (q > 0) has Z(n) = 1 + j*n*q, a load with a series capacitor
 * (q < 0) Z(n) = 1 + j*q/n. The wave is then cut beside its crest, by `atan(q)`, after it for a coil.
 * Into a plain resistance (q = 0) nothing tells this limit from a voltage ceiling, save another load.
 */
function currentPattern([lnOverdriveDb, q]: readonly number[], highestOrder: number): ShapePattern {
  const angle = angleOfOverdrive(Math.exp(lnOverdriveDb!));
  const wave: LimitedSine = { amplitude: 1, highAngle: angle, lowAngle: angle };
  const share = limitedHarmonic(wave, 1);
  const cosine = new Float64Array(highestOrder - 1);
  const sine = new Float64Array(highestOrder - 1);
  const own = Math.atan(q!);
  for (let order = 3; order <= highestOrder; order += 2) {
    const reactance = q! > 0 ? order * q! : q! / order;
    const ratio = (limitedHarmonic(wave, order) / share) * (Math.hypot(1, reactance) / Math.hypot(1, q!));
    // Advanced by the impedance's angle, counted from the voltage's own crest.
    const turn = Math.atan(reactance) - order * own;
    cosine[order - 2] = ratio * Math.cos(turn);
    sine[order - 2] = -ratio * Math.sin(turn);
  }
  return { cosine, sine, share };
}

const OVERDRIVES_DB = [0.05, 0.1, 0.2, 0.35, 0.6, 1, 1.6, 2.5, 4, 6, 9, 13];
const REACTANCES = [0.15, 0.3, 0.5, 0.75, 1.1, 1.6, 2.5];

export const CURRENT: ShapeFamily = {
  shape: 'current',
  starts: OVERDRIVES_DB.flatMap((overdriveDb) =>
    [...REACTANCES, ...REACTANCES.map((q) => -q)].map((q) => [Math.log(overdriveDb), q]),
  ),
  least: [Math.log(0.01), -4],
  most: [Math.log(20), 4],
  step: [0.01, 0.005],
  pattern: currentPattern,
  overdriveDb: ([lnOverdriveDb]) => Math.exp(lnOverdriveDb!),
};
