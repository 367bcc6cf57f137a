import { overlapVariance } from '../distortion/overlap.ts';
import { AveragedSpectrum } from '../spectrum/averaged-spectrum.ts';
import { type WindowShape, windowOfShape } from '../spectrum/window-shape.ts';

/** Power density of a stretch of samples, averaged over segments. */
export interface PowerDensity {
  binHz: number;
  /** One-sided, full scale 1.0 squared per hertz, bins 0 to half the segment's length. */
  values: Float64Array;
  /** How many independent spectra the average is worth; a bin of white noise is gamma distributed with this shape. */
  averages: number;
  /** Half of what a line covers: the window's main lobe, bins. */
  lobeBins: number;
}

export interface DensityWindow {
  shape: WindowShape;
  /** Of the main lobe, from its top to the first null. */
  lobeBins: number;
}

/** Keeps a line out of a floor 92 dB lower (density against its top), four bins away. */
const NARROW: DensityWindow = { shape: { kind: 'blackman-harris' }, lobeBins: 4 };

/** Keeps the strongest tone out of any floor: side lobes at -155 dB, for a lobe of seven bins. */
export const DEEP: DensityWindow = { shape: { kind: 'kaiser', beta: 20 }, lobeBins: 7 };

/** What these windows leave of a segment's ends is made good by the next one. */
const OVERLAP = 2 / 3;

/**
 * @param segmentFrames a power of two, at most the number of samples; the record's mean is taken out first
 */
export function powerDensity(
  samples: Float32Array | Float64Array,
  sampleRateHz: number,
  segmentFrames: number,
  { shape, lobeBins }: DensityWindow = NARROW,
): PowerDensity {
  const averaged = new AveragedSpectrum({
    sampleRateHz,
    segmentFrames,
    overlap: OVERLAP,
    window: shape,
    averaging: { kind: 'linear' },
  });
  let mean = 0;
  for (const value of samples) mean += value;
  mean /= samples.length;
  averaged.push(
    Float64Array.from(samples, (value) => value - mean),
    0,
    samples.length,
  );
  const values = new Float64Array(averaged.binCount);
  averaged.read('density', values);
  const window = windowOfShape(shape, segmentFrames);
  const hopFrames = Math.round(segmentFrames * (1 - OVERLAP));
  return {
    binHz: averaged.binHz,
    values,
    averages: 1 / overlapVariance(window, hopFrames, averaged.segments),
    lobeBins,
  };
}
