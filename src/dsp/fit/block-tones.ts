import { type Companions, removeLeakage } from './companions.ts';
import { dirichlet } from './dirichlet.ts';
import { emptyLineSums, type ToneBlocks } from './tone-blocks.ts';
import { amplitudeFromSums, type FittedTone } from './tone-fit.ts';
import { wrappedPhase } from './wrapped-phase.ts';

/** The tone in each block by itself, to see whether it held still. */
export interface BlockTones {
  count: number;
  /** Peak, full scale 1.0. */
  amplitude: Float64Array;
  /** Against the fitted tone carried on to this block, -pi to pi. */
  phaseAway: Float64Array;
  /** By how much noise weighs more here than in a block of full length: 1, more in a record's short last block. */
  noiseWeight: Float64Array;
}

export function blockTonesOf(capacity: number): BlockTones {
  return {
    count: 0,
    amplitude: new Float64Array(capacity),
    phaseAway: new Float64Array(capacity),
    noiseWeight: new Float64Array(capacity),
  };
}

/** @param companions taken out of every block, the harmonics in proportion to the block's own tone */
export function readBlockTones(
  blocks: ToneBlocks,
  tone: FittedTone,
  companions: Companions,
  into: BlockTones,
): BlockTones {
  const w = tone.angularFrequency;
  const sums = emptyLineSums();
  into.count = blocks.count;
  for (let block = 0; block < blocks.count; block += 1) {
    blocks.sums(w, block, block + 1, sums);
    sums.re -= companions.dc * dirichlet(sums.frames, w);
    const plain = amplitudeFromSums(sums, w);
    sums.re += companions.dc * dirichlet(sums.frames, w);
    const scale = Math.hypot(plain.re, plain.im) / tone.amplitude;
    removeLeakage(sums, w, Math.atan2(plain.im, plain.re), companions, scale);
    const { re, im } = amplitudeFromSums(sums, w);
    into.amplitude[block] = Math.hypot(re, im);
    const carried = Math.atan2(tone.im, tone.re) + w * (sums.centreFrame - tone.centreFrame);
    into.noiseWeight[block] = Math.max(1, Math.sqrt(blocks.blockFrames / sums.frames));
    into.phaseAway[block] = wrappedPhase(Math.atan2(im, re) - carried);
  }
  return into;
}
