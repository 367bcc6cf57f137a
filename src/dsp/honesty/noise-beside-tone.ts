import { estimateFloor, type FloorEstimate } from '../noise/floor-estimate.ts';
import { DEEP, type PowerDensity, powerDensity } from '../noise/power-density.ts';
import { AUDIO_BAND } from '../reading.ts';
import { transformLength } from '../spectrum/real-fft.ts';
import type { Stretch } from './locate-steps.ts';

/** Noise of a stretch, whatever tone is in it taken out. */
export interface BesideTone {
  spectrum: PowerDensity;
  floor: FloorEstimate;
  /** Of the floor in 20 Hz to 20 kHz, sine convention; `null` for digital silence. */
  levelDbfs: number | null;
}

/** Bins of 6 Hz: the deep window's lobe then covers less than a tenth of what lies between harmonics of 1 kHz. */
const SEGMENT_SECONDS = 0.17;

/** A low tone needs finer bins, or its lobes cover the bottom of the spectrum: at most a quarter of what lies between. */
const SEGMENT_CYCLES = 60;

const LEAST_SEGMENT_FRAMES = 256;

/**
 * @param toneHz of the tone in the stretch, 40 Hz at least; `null` for a pause
 * @returns `null` for a stretch too short to tell lines from noise
 */
export function noiseBesideTone(
  samples: Float32Array | Float64Array,
  sampleRateHz: number,
  stretch: Stretch,
  toneHz: number | null,
): BesideTone | null {
  const frames = stretch.to - stretch.from;
  const seconds = Math.max(SEGMENT_SECONDS, toneHz === null ? 0 : SEGMENT_CYCLES / toneHz);
  const segment = transformLength(Math.min(seconds * sampleRateHz, frames / 2) / 2 + 1);
  if (segment < LEAST_SEGMENT_FRAMES || segment > frames) return null;
  const spectrum = powerDensity(samples.subarray(stretch.from, stretch.to), sampleRateHz, segment, DEEP);
  const floor = estimateFloor(spectrum);
  let power = 0;
  const last = Math.min(floor.values.length - 1, Math.floor(AUDIO_BAND.highHz / spectrum.binHz));
  for (let bin = Math.ceil(AUDIO_BAND.lowHz / spectrum.binHz); bin <= last; bin += 1) {
    power += floor.values[bin]! * spectrum.binHz;
  }
  return { spectrum, floor, levelDbfs: power > 0 ? 10 * Math.log10(2 * power) : null };
}
