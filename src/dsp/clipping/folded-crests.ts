import { couplingTurn } from './coupling.ts';
import type { HarmonicRatios } from './harmonic-ratios.ts';

const POINTS = 256;
/** How far below its top a crest still counts as top, against the fundamental's amplitude. */
const TOP_DEPTH = 0.03;

/** Share of the time that a whole sine spends that close to one crest: `acos(0.97)/pi`, 7.8 %. */
export const SINE_TOP_SHARE = Math.acos(1 - TOP_DEPTH) / Math.PI;

export interface Crest {
  /** Height over the mean, against the fundamental's amplitude: 1 for a sine, less where it is cut. */
  height: number;
  /** Share of the period within 3 % of the top. */
  topShare: number;
}

/**
 * One period of the wave, rebuilt from the harmonics up to `highestOrder`, with the turn of an
 * alternating-current coupling taken back so that a tilted top lies flat again.
 */
export function foldedPeriod(ratios: HarmonicRatios, highestOrder: number, couplingRatio = 0): Float64Array {
  const period = Float64Array.from({ length: POINTS }, (_, at) => Math.cos((2 * Math.PI * at) / POINTS));
  const unit = period.slice();
  for (let order = 2; order <= Math.min(highestOrder, ratios.highestOrder); order++) {
    const turn = couplingTurn(order, couplingRatio);
    const [along, across] = [Math.cos(turn.angle) / turn.gain, Math.sin(turn.angle) / turn.gain];
    const [rawCosine, rawSine] = [ratios.cosine[order - 2]!, ratios.sine[order - 2]!];
    const cosine = rawCosine * along - rawSine * across;
    const sine = rawSine * along + rawCosine * across;
    for (let at = 0; at < POINTS; at++) {
      const phase = order * at;
      period[at]! += cosine * unit[phase % POINTS]! + sine * unit[(phase + 0.75 * POINTS) % POINTS]!;
    }
  }
  return period;
}

/** Height and flatness of the upper and the lower crest of a folded period. */
export function crestsOf(period: Float64Array): { high: Crest; low: Crest } {
  const crest = (values: Float64Array): Crest => {
    const height = values.reduce((most, value) => Math.max(most, value), Number.NEGATIVE_INFINITY);
    const top = values.reduce((count, value) => (value > height - TOP_DEPTH ? count + 1 : count), 0);
    return { height, topShare: top / values.length };
  };
  return { high: crest(period), low: crest(period.map((value) => -value)) };
}
