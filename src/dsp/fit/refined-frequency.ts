import type { ToneBlocks } from './tone-blocks.ts';
import { fitTone } from './tone-fit.ts';

/**
 * Frequency near which a record should be demodulated: a fit over what is at hand, so that the moments
 * of every block have hardly anything left to make good.
 *
 * @param blocks used for the fit, to be begun again afterwards
 * @param coarse radians per frame, within half a bin
 * @returns radians per frame; `null` where no line is found
 */
export function refinedFrequency(
  blocks: ToneBlocks,
  samples: Float32Array | Float64Array,
  frames: number,
  coarse: number,
  blockFrames: number,
): number | null {
  blocks.begin(coarse, blockFrames);
  blocks.push(samples, 0, frames);
  blocks.close();
  return fitTone(blocks, 0, blocks.count, coarse, null)?.angularFrequency ?? null;
}
