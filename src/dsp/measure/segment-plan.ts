import { ROOMY_SPACING_BINS } from '../distortion/kaiser-shelf.ts';
import { transformLength } from '../spectrum/real-fft.ts';

/** Long enough to keep DC's main lobe (6.4 bins) out of a band that begins at 20 Hz. */
const SHORTEST_SECONDS = 0.33;

/** Below this the segment no longer grows with the tone's period; its window narrows instead. */
const LOWEST_ROOMY_HZ = 20;

/** Segments overlap by three quarters: the deep Kaiser window hardly sees its outer parts. */
const HOPS_PER_SEGMENT = 4;

/** Block of the demodulated record, in parts of a segment. */
const BLOCKS_PER_SEGMENT = 16;

export interface SegmentPlan {
  segmentFrames: number;
  hopFrames: number;
  /** Of the demodulated record: never less than a cycle. */
  blockFrames: number;
}

/** Frames over which a tone is looked for, and the longest segment there is: 0.9 to 1.8 s. */
export function searchFrames(sampleRateHz: number): number {
  return transformLength((ROOMY_SPACING_BINS * sampleRateHz) / LOWEST_ROOMY_HZ);
}

/** @param framesAtHand a record shorter than the segment makes one segment of all it has */
export function segmentPlan(frequencyHz: number, sampleRateHz: number, framesAtHand: number): SegmentPlan {
  const framesPerCycle = sampleRateHz / frequencyHz;
  const wanted = Math.max(ROOMY_SPACING_BINS * framesPerCycle, SHORTEST_SECONDS * sampleRateHz);
  const segmentFrames = Math.min(transformLength(wanted), searchFrames(sampleRateHz), framesAtHand);
  return {
    segmentFrames,
    hopFrames: Math.max(1, Math.floor(segmentFrames / HOPS_PER_SEGMENT)),
    blockFrames: Math.ceil(Math.max(segmentFrames / BLOCKS_PER_SEGMENT, framesPerCycle)),
  };
}
