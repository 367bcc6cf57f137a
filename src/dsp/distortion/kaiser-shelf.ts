import { kaiserBetaForMainLobe, kaiserMainLobeBins, kaiserWindow } from '../spectrum/kaiser.ts';

/** Side lobes at -155 dB: a line's leak stays under the floor of 24-bit and Float32 data. */
const DEEPEST_BETA = 20;

/** Part of the way to the next harmonic that a main lobe may cover; the rest shows the noise between. */
const SHARE_OF_SPACING = 0.36;

/** Each shelf's main lobe is this much narrower than the one before. */
const NARROWER = 0.85;

export interface FittedWindow {
  beta: number;
  /** Half the main lobe, bins of 1/frames. */
  mainLobeBins: number;
  samples: Float64Array;
  sum: number;
  sumOfSquares: number;
}

/**
 * Kaiser windows of one length, from -155 dB side lobes down to rectangular: the deepest one whose main
 * lobe still leaves room between two harmonics is the right one. All that may be asked for are made at
 * once, so that choosing one allocates nothing.
 */
export class KaiserShelf {
  readonly #windows: FittedWindow[] = [];

  /** @param leastSpacingBins smallest spacing that will be asked for */
  constructor(frames: number, leastSpacingBins: number) {
    const widest = kaiserMainLobeBins(DEEPEST_BETA);
    for (let bins = widest; ; bins *= NARROWER) {
      this.#windows.push(fittedWindow(kaiserBetaForMainLobe(bins), frames));
      if (bins <= Math.max(1, SHARE_OF_SPACING * leastSpacingBins)) return;
    }
  }

  /** @param spacingBins from one harmonic to the next: how many cycles of the tone the window holds */
  pick(spacingBins: number): FittedWindow {
    const room = SHARE_OF_SPACING * spacingBins;
    return this.#windows.find((window) => window.mainLobeBins <= room) ?? this.#windows.at(-1)!;
  }
}

/** Bins between harmonics from which on the deepest window fits. */
export const ROOMY_SPACING_BINS = kaiserMainLobeBins(DEEPEST_BETA) / SHARE_OF_SPACING;

function fittedWindow(beta: number, frames: number): FittedWindow {
  const samples = kaiserWindow(beta, frames);
  let sum = 0;
  let sumOfSquares = 0;
  for (const value of samples) {
    sum += value;
    sumOfSquares += value * value;
  }
  return { beta, mainLobeBins: kaiserMainLobeBins(beta), samples, sum, sumOfSquares };
}
