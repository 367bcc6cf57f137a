import FFT from 'fft.js';
import { applyExpectedBand, type ExpectedFilter } from '../../src/dsp/time/expected-band.ts';
import { polarityPulse } from '../../src/dsp/tones/polarity.ts';
import { seededGauss, seededUniform } from './seeded-random.ts';

export interface PulseRecipe {
  sampleRateHz: number;
  seconds: number;
  everySeconds: number;
  /** Each pulse of an interval, and where it begins in it, as a share. */
  pulses: readonly { frequencyHz: number; place: number }[];
  /** What the driver passes. */
  filters: readonly ExpectedFilter[];
  sign?: 1 | -1;
  arrivalSeconds: number;
  /** Recorder's frames against the player's. */
  skewPpm?: number;
  /** Of the recording's first frame, on the source's clock. */
  startFrame?: number;
  /** Later copies by the room: seconds and height. */
  reflections?: readonly (readonly [number, number])[];
  noiseRms?: number;
  seed?: number;
}

const LENGTH = 32_768;

/** A train of polarity pulses as a driver in a cabin plays it, each pulse at its exact fraction of a frame. */
export function pulseRecording(recipe: PulseRecipe): Float32Array {
  const { sampleRateHz, everySeconds, skewPpm = 0, startFrame = 0, noiseRms = 0, seed = 7 } = recipe;
  const gauss = seededGauss(seededUniform(seed));
  const frames = Math.round(recipe.seconds * sampleRateHz);
  const sum = Float64Array.from({ length: frames }, () => (noiseRms > 0 ? noiseRms * gauss() : 0));
  const stretch = 1 + skewPpm * 1e-6;
  const first = Math.floor(startFrame / (everySeconds * sampleRateHz)) - 1;
  const last = first + Math.ceil(recipe.seconds / everySeconds) + 2;
  for (const { frequencyHz, place } of recipe.pulses) {
    const spectrum = spectrumOf(frequencyHz, recipe);
    for (let count = Math.max(0, first); count <= last; count += 1) {
      const seconds = (count + place) * everySeconds + recipe.arrivalSeconds;
      const at = seconds * sampleRateHz * stretch - startFrame;
      addAt(sum, spectrum, at);
    }
  }
  return Float32Array.from(sum);
}

/** Complex, interleaved. */
function spectrumOf(frequencyHz: number, recipe: PulseRecipe): number[] {
  const { sampleRateHz, filters, sign = 1, reflections = [] } = recipe;
  const fft = new FFT(LENGTH);
  const time: number[] = fft.createComplexArray();
  time.fill(0);
  polarityPulse(frequencyHz, sampleRateHz).forEach((value, at) => {
    time[2 * at] = 0.25 * sign * value;
  });
  const spectrum: number[] = fft.createComplexArray();
  fft.transform(spectrum, time);
  for (let bin = 0; bin < LENGTH / 2; bin += 1) {
    const hertz = (bin * sampleRateHz) / LENGTH;
    const value: [number, number] = [spectrum[2 * bin]!, spectrum[2 * bin + 1]!];
    applyExpectedBand(filters, hertz, value);
    let real = 1;
    let imaginary = 0;
    for (const [seconds, height] of reflections) {
      real += height * Math.cos(2 * Math.PI * hertz * seconds);
      imaginary -= height * Math.sin(2 * Math.PI * hertz * seconds);
    }
    spectrum[2 * bin] = value[0] * real - value[1] * imaginary;
    spectrum[2 * bin + 1] = value[0] * imaginary + value[1] * real;
  }
  return spectrum;
}

function addAt(sum: Float64Array, spectrum: readonly number[], at: number): void {
  const whole = Math.floor(at);
  const fraction = at - whole;
  if (whole >= sum.length || whole + LENGTH < 0) return;
  const fft = new FFT(LENGTH);
  const turned: number[] = fft.createComplexArray();
  turned.fill(0);
  for (let bin = 1; bin < LENGTH / 2; bin += 1) {
    const angle = (-2 * Math.PI * bin * fraction) / LENGTH;
    turned[2 * bin] = 2 * (spectrum[2 * bin]! * Math.cos(angle) - spectrum[2 * bin + 1]! * Math.sin(angle));
    turned[2 * bin + 1] =
      2 * (spectrum[2 * bin]! * Math.sin(angle) + spectrum[2 * bin + 1]! * Math.cos(angle));
  }
  const time: number[] = fft.createComplexArray();
  fft.inverseTransform(time, turned);
  for (let n = 0; n < LENGTH; n += 1) {
    const place = whole + n;
    if (place >= 0 && place < sum.length) sum[place]! += time[2 * n]!;
  }
}
