import type { Band } from '../reading.ts';
import { transformLength } from '../spectrum/real-fft.ts';
import { withoutLines } from './comb-removal.ts';
import { type EngineComb, findEngineComb } from './engine-comb.ts';
import { type Comb, findMainsComb, type MainsComb } from './mains-comb.ts';
import { type NoiseCurve, noiseCurve } from './noise-curve.ts';
import { analyseNoise, type NoiseFloor } from './noise-floor.ts';
import { type OtherSound, programmeHeard } from './other-sound.ts';
import { medianPowerAround, type ShortTimePower, shortTimePower } from './short-time-power.ts';
import type { SpectralLine } from './spectral-lines.ts';
import { findSteadyComb } from './steady-comb.ts';

/**
 * Everything the Quiet station asks of one channel's noise, as a plain record. A comb that was not found is
 * `null`. While a programme is heard no comb is named at all: tunes move, and their lines fit any
 * fundamental by chance; `otherSound` says so.
 *
 * False alarms: none of any kind in 600 records of 4 s of white, pink and brown noise.
 */
export interface NoiseReading {
  seconds: number;
  floor: NoiseFloor;
  /** Spacing of the spectrum in which lines were sought: two of them nearer than about eight times this are one. */
  resolutionHz: number;
  curve: NoiseCurve;
  /** Stays within 1 % of 50 or 60 Hz. */
  mains: MainsComb | null;
  /** Moves: follows the engine. */
  engine: EngineComb | null;
  /** Neither moves nor sits on the mains' frequency: an engine held at one speed, a fan, a tone. */
  steady: Comb | null;
  otherSound: OtherSound | null;
}

/** Frames of about this length follow 240 Hz/s (an engine revved from idle to 3000 rpm in ten seconds) best. */
const FRAME_SECONDS = 0.085;

/** Free of a line that Hann's window spreads over three bins, and near enough for the same floor. */
const BESIDE_BINS = 6;

/** Share of the whole power from which a steady tone is the sound and the noise only its background. */
const TONE_SHARE = 0.5;

/** A tone this far over its surroundings was put there on purpose. */
const TONE_OVER_FLOOR_DB = 30;

/**
 * @param samples one channel, full scale 1.0, while the source is muted: two seconds at least for combs,
 *   ten or more while the engine's speed is changed; all of it is held in memory
 * @throws RangeError as `analyseNoise` does
 */
export function readNoise(
  samples: Float32Array | Float64Array,
  sampleRateHz: number,
  band?: Band,
): NoiseReading {
  const noise = analyseNoise(samples, sampleRateHz, band);
  const { lines } = noise.floor;
  const mains = findMainsComb(noise, samples, sampleRateHz);
  const others = mains === null ? lines : lines.filter((line) => !belongs(line, mains, noise.spectrum.binHz));
  const rest = withoutLines(
    samples,
    sampleRateHz,
    mains === null ? [] : mains.lines.map((line) => line.order * mains.fundamentalHz),
  );
  const frame = transformLength((FRAME_SECONDS * sampleRateHz) / Math.SQRT2);
  const spectra = shortTimePower(rest, sampleRateHz, frame);
  const moving = findEngineComb(spectra);
  const steady = findSteadyComb(
    moving === null ? others : others.filter((line) => holdsStill(line, moving, spectra)),
    noise.spectrum.binHz,
  );
  const programme = programmeHeard(spectra, moving?.trackHz ?? null);
  return {
    seconds: samples.length / sampleRateHz,
    floor: noise.floor,
    resolutionHz: noise.spectrum.binHz,
    curve: noiseCurve(noise.spectrum),
    mains: programme === null ? mains : null,
    engine: programme === null ? moving : null,
    steady: programme === null ? steady : null,
    otherSound: programme ?? toneHeard(steady, noise.floor),
  };
}

/** Whether a line within the moving comb's range is one of its own, or the place where that turned round. */
function holdsStill(line: SpectralLine, moving: EngineComb, spectra: ShortTimePower): boolean {
  const passes = moving.lines.some(
    ({ order }) =>
      line.frequencyHz > 0.97 * order * moving.lowestHz && line.frequencyHz < 1.03 * order * moving.highestHz,
  );
  if (!passes) return true;
  const bin = Math.round(line.frequencyHz / spectra.binHz);
  const beside =
    medianPowerAround(spectra, bin - BESIDE_BINS) + medianPowerAround(spectra, bin + BESIDE_BINS);
  return medianPowerAround(spectra, bin) - beside / 2 >= 0.25 * 10 ** (line.levelDbfs / 10);
}

function belongs(line: SpectralLine, mains: MainsComb, binHz: number): boolean {
  return mains.lines.some((held) => Math.abs(held.frequencyHz - line.frequencyHz) <= 2 * binHz);
}

function toneHeard(steady: Comb | null, floor: NoiseFloor): OtherSound | null {
  if (steady === null || floor.levelDbfs === null) return null;
  const share = 10 ** ((steady.levelDbfs - floor.levelDbfs) / 10);
  if (share < TONE_SHARE || steady.overFloorDb < TONE_OVER_FLOOR_DB) return null;
  return {
    kind: 'tone',
    evidence: `A steady tone of ${steady.fundamentalHz.toFixed(1)} Hz at ${steady.levelDbfs.toFixed(1)} dBFS outweighs the noise: the source is not muted, or a machine hums at one speed.`,
  };
}
