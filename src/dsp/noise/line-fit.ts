import { ToneBlocks } from '../fit/tone-blocks.ts';
import { cramerRao, fitTone } from '../fit/tone-fit.ts';

export interface FittedLine {
  frequencyHz: number;
  /** Peak, full scale 1.0. */
  amplitude: number;
  /** Standard uncertainty of the frequency by the noise beside it. */
  uncertaintyHz: number;
}

const BLOCKS = 512;

/**
 * One line by least squares over the whole record.
 *
 * @param coarseHz within half of 1/duration for a sharp answer; the record is cut down to what allows it
 * @param coarseErrorHz how far off `coarseHz` may be
 * @param density of the noise beside the line, full scale squared per Hz
 * @returns `null` where the line does not hold still over the stretch
 */
export function fitLine(
  samples: Float32Array | Float64Array,
  sampleRateHz: number,
  coarseHz: number,
  coarseErrorHz: number,
  density: number,
): FittedLine | null {
  let frames = Math.min(samples.length, Math.floor((0.4 * sampleRateHz) / coarseErrorHz));
  let w = (2 * Math.PI * coarseHz) / sampleRateHz;
  const blocks = new ToneBlocks(BLOCKS);
  let found: FittedLine | null = null;
  for (;;) {
    blocks.begin(w, Math.ceil(Math.max(frames / (BLOCKS - 2), sampleRateHz / coarseHz)));
    blocks.push(samples, 0, frames);
    blocks.close();
    const tone = fitTone(blocks, 0, blocks.count, w, null);
    if (tone === null) return found;
    w = tone.angularFrequency;
    const bound = cramerRao(tone.amplitude, (density * sampleRateHz) / 2, frames);
    found = {
      frequencyHz: (w * sampleRateHz) / (2 * Math.PI),
      amplitude: tone.amplitude,
      uncertaintyHz: (bound.angularFrequency * sampleRateHz) / (2 * Math.PI),
    };
    if (frames === samples.length) return found;
    frames = Math.min(samples.length, frames * 4);
  }
}
