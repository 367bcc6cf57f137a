import { fractionalOctaveBands } from '../bands/fractional-octave.ts';
import { AUDIO_BAND, type Band } from '../reading.ts';
import { transformLength } from '../spectrum/real-fft.ts';
import { weightingPower } from '../weighting/curves.ts';
import { estimateFloor, type FloorEstimate } from './floor-estimate.ts';
import { type PowerDensity, powerDensity } from './power-density.ts';
import { type SpectralLine, spectralLines } from './spectral-lines.ts';

/** One octave of the floor, as in IEC 61260-1. */
interface OctaveNoise {
  /** Nominal: 31.5 to 16000, as far as half the sample rate holds the octave. */
  nominalHz: number;
  /** Everything in the octave, lines included. `null` for digital silence. */
  levelDbfs: number | null;
  /** Lines taken out. */
  floorDbfs: number | null;
  /** Standard uncertainty by the length of the record alone: 4.34/sqrt(B T) dB. */
  uncertaintyDb: number;
}

/** What is heard while the source is muted. Levels in the sine convention (a full-scale sine is 0 dBFS). */
export interface NoiseFloor {
  band: Band;
  /** Everything in the band, lines included. `null` for digital silence. */
  levelDbfs: number | null;
  /** Lines taken out, the floor under them left in. */
  floorDbfs: number | null;
  /** A-weighted, lines included, over the same band. */
  aWeightedDbfs: number | null;
  aWeightedFloorDbfs: number | null;
  octaves: OctaveNoise[];
  /** Steady lines, lowest frequency first. */
  lines: SpectralLine[];
}

export interface AnalysedNoise {
  floor: NoiseFloor;
  spectrum: PowerDensity;
  estimate: FloorEstimate;
}

/** Fine enough to tell 50 from 60 Hz and to leave most of the bins between mains lines free. */
const LONGEST_SEGMENT_SECONDS = 1.4;

/** A record is cut into at least so many segments' lengths; with their overlap that is worth some seven averages. */
const LEAST_SEGMENTS = 4;

const A_WEIGHTING = (frequencyHz: number) => weightingPower('A', frequencyHz);

/** Least record in which a floor is told from its lines. */
const LEAST_NOISE_SECONDS = 1;

/**
 * Noise of a stretch of samples: total, per octave, A-weighted, and which lines stand over it.
 *
 * Allocates; meant for a stretch of seconds to minutes, not for the live path. A sound that moves (an
 * engine being revved) counts as floor where it passes: see `engine-comb.ts`.
 *
 * @param samples one channel, full scale 1.0, recorded while the source is muted
 * @throws RangeError where the stretch is shorter than a second or holds what is not a number
 */
export function analyseNoise(
  samples: Float32Array | Float64Array,
  sampleRateHz: number,
  band: Band = AUDIO_BAND,
): AnalysedNoise {
  const seconds = samples.length / sampleRateHz;
  if (!(seconds >= LEAST_NOISE_SECONDS)) {
    throw new RangeError(`Noise was recorded for ${seconds} s; at least ${LEAST_NOISE_SECONDS} s is needed.`);
  }
  if (samples.some((value) => !Number.isFinite(value))) {
    throw new RangeError('The noise record holds samples that are not numbers: it cannot be measured.');
  }
  const longest = Math.min(LONGEST_SEGMENT_SECONDS * sampleRateHz, samples.length / LEAST_SEGMENTS);
  const spectrum = powerDensity(samples, sampleRateHz, transformLength(longest / 2 + 1));
  const estimate = estimateFloor(spectrum);
  const level = (values: Float64Array, weight: ((frequencyHz: number) => number) | null, within: Band) =>
    levelDbfs(values, spectrum.binHz, within, weight);
  return {
    spectrum,
    estimate,
    floor: {
      band,
      levelDbfs: level(spectrum.values, null, band),
      floorDbfs: level(estimate.values, null, band),
      aWeightedDbfs: level(spectrum.values, A_WEIGHTING, band),
      aWeightedFloorDbfs: level(estimate.values, A_WEIGHTING, band),
      octaves: octaves(spectrum, estimate, seconds),
      lines: spectralLines(spectrum, estimate, band.lowHz, band.highHz),
    },
  };
}

function octaves(spectrum: PowerDensity, estimate: FloorEstimate, seconds: number): OctaveNoise[] {
  const highestHz = (spectrum.values.length - 1) * spectrum.binHz;
  return fractionalOctaveBands(1, 31.5, 16_000)
    .filter((octave) => octave.highHz <= highestHz)
    .map((octave) => ({
      nominalHz: octave.nominalHz,
      levelDbfs: levelDbfs(spectrum.values, spectrum.binHz, octave, null),
      floorDbfs: levelDbfs(estimate.values, spectrum.binHz, octave, null),
      uncertaintyDb: 10 / Math.LN10 / Math.sqrt((octave.highHz - octave.lowHz) * seconds),
    }));
}

/** Bins at the ends of the band count by the share of them that lies inside. */
function levelDbfs(
  values: Float64Array,
  binHz: number,
  band: Band,
  weight: ((frequencyHz: number) => number) | null,
): number | null {
  let sum = 0;
  const last = Math.min(values.length - 1, Math.ceil(band.highHz / binHz));
  for (let bin = Math.max(1, Math.floor(band.lowHz / binHz)); bin <= last; bin += 1) {
    const from = Math.max(band.lowHz, (bin - 0.5) * binHz);
    const to = Math.min(band.highHz, (bin + 0.5) * binHz);
    if (to > from) sum += values[bin]! * (to - from) * (weight === null ? 1 : weight(bin * binHz));
  }
  return sum > 0 ? 10 * Math.log10(2 * sum) : null;
}
