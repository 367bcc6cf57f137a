import { fitLine } from './line-fit.ts';
import type { AnalysedNoise } from './noise-floor.ts';
import type { SpectralLine } from './spectral-lines.ts';

/** A fundamental and its multiples. */
export interface Comb {
  fundamentalHz: number;
  /** All its lines together, sine convention. */
  levelDbfs: number;
  /** The line that stands out most, over the floor in a third of an octave around it. */
  overFloorDb: number;
  lines: CombLine[];
}

export interface CombLine extends SpectralLine {
  /** 1 for the fundamental. */
  order: number;
}

/** A comb that stays on the mains' frequency. */
export interface MainsComb extends Comb {
  nominalHz: 50 | 60;
  /** Standard uncertainty by the noise; the recorder's clock (100 ppm is 0.005 Hz) comes on top. */
  uncertaintyHz: number;
}

/** EN 50160, as remembered: 99.5 % of a year within 1 % of nominal, where a grid is interconnected. */
const DRIFT = 0.01;

/** Multiples looked at. Ripple of lighting and chargers hardly reaches beyond 2 kHz. */
const HIGHEST_ORDER = 40;

/** A fundamental is guessed from lines up to this order; beyond, other combs' lines fit by chance. */
const HIGHEST_SEED_ORDER = 8;

/** A line alone is called mains only where a drift this small explains it: grids usually hold 0.4 %. */
const DRIFT_ALONE = 0.004;

interface Guess {
  nominalHz: 50 | 60;
  fundamentalHz: number;
  lines: CombLine[];
}

/**
 * The mains comb among the steady lines. Two lines of a common fundamental within 1 % of 50 or 60 Hz make
 * one, or a single line at the fundamental or its double. Lines whose orders share a factor above 2 are
 * another machine's: 1200, 2400, 3600 Hz is no comb of 50 Hz.
 *
 * @returns `null` where there is none
 */
export function findMainsComb(
  noise: AnalysedNoise,
  samples: Float32Array | Float64Array,
  sampleRateHz: number,
): MainsComb | null {
  let best: Guess | null = null;
  for (const nominalHz of [50, 60] as const) {
    for (const guess of guesses(noise.floor.lines, nominalHz, noise.spectrum.binHz)) {
      if (plausible(guess) && (best === null || weightOf(guess) > weightOf(best))) best = guess;
    }
  }
  return best === null ? null : refined(best, noise, samples, sampleRateHz);
}

function guesses(lines: readonly SpectralLine[], nominalHz: 50 | 60, binHz: number): Guess[] {
  const found: Guess[] = [];
  for (const line of lines) {
    const order = Math.round(line.frequencyHz / nominalHz);
    if (order < 1 || order > HIGHEST_SEED_ORDER) continue;
    const fundamentalHz = line.frequencyHz / order;
    // Half a bin: what the parabola through three bins may be off where lines are weak.
    if (Math.abs(fundamentalHz - nominalHz) > DRIFT * nominalHz + binHz / 2 / order) continue;
    found.push({ nominalHz, fundamentalHz, lines: members(lines, fundamentalHz, order, binHz) });
  }
  return found;
}

/** Lines at multiples; what the guess may be off grows with the order. */
function members(
  lines: readonly SpectralLine[],
  fundamentalHz: number,
  seedOrder: number,
  binHz: number,
): CombLine[] {
  return lines.flatMap((line) => {
    const order = Math.round(line.frequencyHz / fundamentalHz);
    const within = binHz * (0.5 + Math.min(1, (0.25 * order) / seedOrder));
    const fits = Math.abs(line.frequencyHz - order * fundamentalHz) <= within;
    return fits && order >= 1 && order <= HIGHEST_ORDER ? [{ ...line, order }] : [];
  });
}

function plausible({ lines, fundamentalHz, nominalHz }: Guess): boolean {
  const shared = lines.reduce((divisor, line) => commonDivisor(divisor, line.order), 0);
  if (shared > 2) return false;
  if (lines.length > 1) return true;
  return Math.abs(fundamentalHz / nominalHz - 1) <= DRIFT_ALONE;
}

/** Low orders weigh more: a comb shows itself there. */
function weightOf({ lines }: Guess): number {
  return lines.reduce((sum, line) => sum + 1 + 1 / line.order, 0);
}

function refined(
  guess: Guess,
  noise: AnalysedNoise,
  samples: Float32Array | Float64Array,
  sampleRateHz: number,
): MainsComb {
  const { binHz } = noise.spectrum;
  let weighted = 0;
  let weights = 0;
  for (const line of guess.lines) {
    const density = noise.estimate.values[Math.round(line.frequencyHz / binHz)]!;
    const fit = fitLine(samples, sampleRateHz, line.frequencyHz, binHz / 2, density);
    if (fit === null || Math.abs(fit.frequencyHz - line.frequencyHz) > binHz) continue;
    line.frequencyHz = fit.frequencyHz;
    const weight = (line.order / fit.uncertaintyHz) ** 2;
    weighted += (weight * fit.frequencyHz) / line.order;
    weights += weight;
  }
  const fundamentalHz = weights > 0 ? weighted / weights : guess.fundamentalHz;
  return {
    ...combOf(fundamentalHz, guess.lines),
    nominalHz: guess.nominalHz,
    uncertaintyHz: weights > 0 ? 1 / Math.sqrt(weights) : binHz / 2,
  };
}

export function combOf(fundamentalHz: number, lines: CombLine[]): Comb {
  return {
    fundamentalHz,
    levelDbfs: 10 * Math.log10(lines.reduce((sum, line) => sum + 10 ** (line.levelDbfs / 10), 0)),
    overFloorDb: Math.max(...lines.map((line) => line.overFloorDb)),
    lines,
  };
}

function commonDivisor(a: number, b: number): number {
  return b === 0 ? a : commonDivisor(b, a % b);
}
