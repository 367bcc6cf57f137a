import { findCorner } from './corner.ts';
import { FIRST_HIGH_ORDER, LAST_LISTED_ORDER } from './high-order.ts';
import { type ImpliedKnee, impliedKnee } from './implied-knee.ts';
import type { KneePoint } from './knee-point.ts';
import { limiterCurve } from './limiter-curve.ts';
import { cellsOf, isDot } from './trace-cells.ts';

/** Dots this far under the corner still point at it. */
const UNDER_CORNER_DB = 0.3;
/** A room and a driver lift or lower the high harmonics against the fundamental by this much (k = 1). */
const COLOUR_SIGMA_DB = 6;
const MOST_COLOUR_DB = 14;
const COLOUR_STEP_DB = 1;
/** A limit in a cabin is no ideal one seen through a filter: what its dots leave over, at best. */
const MODEL_SIGMA_DB = 0.1;
const LEAST_UNCERTAINTY_DB = 0.1;

export interface MicrophoneDot {
  levelDbfs: number;
  /** Content of order 4 and up against the fundamental, per cent (`highOrderPercent`). */
  highOrderPercent: number;
}

/**
 * The knee by microphone, from the harmonics of order 4 and up.
 *
 * Seen as a corner of that content against level, since a driver has its own distortion mostly below. Driver and
 * room are one linear filter to a steady tone: they lift or lower the content as a whole by a factor that stays
 * the same over the turn. That factor is found together with the knee: with the right one, dots at all
 * distortions point at one ceiling. It matters little, for the content grows so fast: 6 dB of it are 0.1 dB of
 * level.
 *
 * @returns `null` where no corner is seen, or the band ends below the 5th harmonic
 */
export function microphoneKnee(
  dots: readonly MicrophoneDot[],
  { highestOrder }: { highestOrder: number },
): ImpliedKnee | null {
  if (highestOrder < FIRST_HIGH_ORDER + 1) return null;
  const curve = limiterCurve({
    lowest: FIRST_HIGH_ORDER,
    highest: Math.min(highestOrder, LAST_LISTED_ORDER),
  });
  const points = dots.map(
    (dot): KneePoint => ({
      levelDbfs: dot.levelDbfs,
      thdPercent: dot.highOrderPercent,
      verdict: 'undecided',
    }),
  );
  const corner = findCorner(cellsOf(points));
  if (corner === null) return null;
  const told = points.filter((p) => isDot(p) && p.levelDbfs >= corner.levelDbfs - UNDER_CORNER_DB);
  const tried: { knee: ImpliedKnee; misfit: number }[] = [];
  for (let colourDb = -MOST_COLOUR_DB; colourDb <= MOST_COLOUR_DB; colourDb += COLOUR_STEP_DB) {
    const factor = 10 ** (-colourDb / 20);
    const uncoloured = told.map((p) => ({ ...p, thdPercent: p.thdPercent * factor }));
    const floor = { ...corner.floor, thdPercent: corner.floor.thdPercent * factor };
    const knee = impliedKnee(uncoloured, floor, curve);
    if (knee === null) continue;
    const misfit = (knee.softness / MODEL_SIGMA_DB) ** 2 + (colourDb / COLOUR_SIGMA_DB) ** 2;
    tried.push({ knee, misfit });
  }
  return averaged(tried);
}

/** Mean over the colours, each by its likelihood; their spread counts as uncertainty. */
function averaged(tried: readonly { knee: ImpliedKnee; misfit: number }[]): ImpliedKnee | null {
  if (tried.length === 0) return null;
  const least = Math.min(...tried.map(({ misfit }) => misfit));
  let [total, sum, squares, own, softness] = [0, 0, 0, 0, 0];
  for (const { knee, misfit } of tried) {
    const weight = Math.exp(-0.5 * (misfit - least));
    total += weight;
    sum += weight * knee.levelDbfs;
    squares += weight * knee.levelDbfs ** 2;
    own += weight * knee.uncertaintyDb ** 2;
    softness += weight * knee.softness;
  }
  const levelDbfs = sum / total;
  const spread = Math.max(0, squares / total - levelDbfs ** 2);
  return {
    levelDbfs,
    uncertaintyDb: Math.hypot(Math.sqrt(spread + own / total), LEAST_UNCERTAINTY_DB),
    softness: softness / total,
    dots: Math.max(...tried.map(({ knee }) => knee.dots)),
  };
}
