import FFT from 'fft.js';
import { fadeEnds } from './fade.ts';
import { HIGHEST_PEAK, rmsOfLevel } from './level.ts';
import { checkBand, checkLevel, checkSeconds } from './limits.ts';
import { Random } from './random.ts';
import type { PinkSpec } from './spec.ts';

/** Each stretch lasts at least this long, so that its lines (0.8 Hz apart or closer) resolve the 20 Hz third-octave. */
const STRETCH_SECONDS = 1.3;

/** Makes one stretch after the other: every line in the band has power 1/f exactly and a phase of its own. */
class PinkStretches {
  readonly frames: number;
  readonly #fft: FFT;
  readonly #spectrum: number[];
  readonly #stretch: number[];
  readonly #amplitudes: Float64Array;
  readonly #firstLine: number;
  readonly #random: Random;

  constructor(spec: PinkSpec, sampleRateHz: number) {
    this.frames = 2 ** Math.ceil(Math.log2(STRETCH_SECONDS * sampleRateHz));
    this.#fft = new FFT(this.frames);
    this.#spectrum = this.#fft.createComplexArray();
    this.#spectrum.fill(0);
    this.#stretch = this.#fft.createComplexArray();
    this.#random = new Random(spec.seed);
    const lineHz = sampleRateHz / this.frames;
    this.#firstLine = Math.max(1, Math.ceil(spec.lowHz / lineHz));
    const lastLine = Math.max(this.#firstLine, Math.floor(spec.highHz / lineHz));
    this.#amplitudes = new Float64Array(lastLine - this.#firstLine + 1);
    for (let line = this.#firstLine; line <= lastLine; line += 1) {
      this.#amplitudes[line - this.#firstLine] = 1 / Math.sqrt(line);
    }
  }

  /** Real parts of the next stretch stand at the even places of the array, which the next call overwrites. */
  next(): number[] {
    for (let index = 0; index < this.#amplitudes.length; index += 1) {
      const phase = 2 * Math.PI * this.#random.next();
      const place = 2 * (this.#firstLine + index);
      this.#spectrum[place] = this.#amplitudes[index]! * Math.cos(phase);
      this.#spectrum[place + 1] = this.#amplitudes[index]! * Math.sin(phase);
    }
    this.#fft.inverseTransform(this.#stretch, this.#spectrum);
    return this.#stretch;
  }
}

/** Stretches overlap by half under a sine window, whose squares add to 1: the power stays even throughout. */
function overlapStretches(spec: PinkSpec, sampleRateHz: number, frames: number): Float64Array {
  const stretches = new PinkStretches(spec, sampleRateHz);
  const length = stretches.frames;
  const samples = new Float64Array(frames);
  for (let start = -length / 2; start < frames; start += length / 2) {
    const stretch = stretches.next();
    const from = Math.max(0, -start);
    const to = Math.min(length, frames - start);
    for (let frame = from; frame < to; frame += 1) {
      samples[start + frame]! += stretch[2 * frame]! * Math.sin((Math.PI * (frame + 0.5)) / length);
    }
  }
  return samples;
}

function scaleToLevel(samples: Float64Array, levelDbfs: number): void {
  let sumOfSquares = 0;
  let highest = 0;
  for (const sample of samples) {
    sumOfSquares += sample * sample;
    highest = Math.max(highest, Math.abs(sample));
  }
  const gain = rmsOfLevel(levelDbfs) / Math.sqrt(sumOfSquares / samples.length);
  const peak = highest * gain;
  if (peak > HIGHEST_PEAK) {
    const highestDbfs = Math.floor((levelDbfs - 20 * Math.log10(peak / HIGHEST_PEAK)) * 10) / 10;
    throw new RangeError(
      `Pink noise at ${levelDbfs} dBFS would pass full scale at its peaks: it must be at most ${highestDbfs} dBFS.`,
    );
  }
  for (let frame = 0; frame < samples.length; frame += 1) samples[frame]! *= gain;
}

/** @throws RangeError as `renderPink` does, but for peaks past full scale: only rendering finds those */
export function checkPink(spec: PinkSpec, sampleRateHz: number): void {
  checkBand(spec.lowHz, spec.highHz, sampleRateHz);
  checkLevel(spec.levelDbfs);
  checkSeconds('Pink noise', spec.durationSeconds, 0.1);
  if (!Number.isFinite(spec.seed)) {
    throw new RangeError(`A seed of ${spec.seed} cannot repeat anything: it must be a finite number.`);
  }
}

/**
 * Pink noise between two frequencies: power per hertz falls as 1/f (-3.01 dB
 * per octave), so every third-octave inside the band holds the same power.
 * Nothing is left to chance but the phases, so that a level read over a few
 * seconds wavers less than on Gaussian noise; the waveform is Gaussian all the
 * same, its crest some 12 to 14 dB over its RMS.
 *
 * The RMS of the whole, fades included, is the level. The same seed gives the
 * same noise.
 *
 * @throws RangeError when peaks would pass full scale; the sentence names the highest level that fits
 */
export function renderPink(spec: PinkSpec, sampleRateHz: number): Float64Array {
  checkPink(spec, sampleRateHz);
  const frames = Math.round(spec.durationSeconds * sampleRateHz);
  const samples = overlapStretches(spec, sampleRateHz, frames);
  fadeEnds(samples, sampleRateHz);
  scaleToLevel(samples, spec.levelDbfs);
  return samples;
}
