import FFT from 'fft.js';
import { RealFft, transformLength } from '../spectrum/real-fft.ts';
import { median } from '../statistics/median.ts';

/** Where, within its interval, a pulse that comes back in every interval begins. */
export interface PulsePlaces {
  /** Frame of the record at which the first whole pulse begins, roughly. */
  firstFrame: number;
  /** How far the pulses stand out of what sounds between them, through the filter that is matched to them, dB. */
  signalToNoiseDb: number;
}

/**
 * Finds a train of pulses that comes back every `intervalFrames`, by the matched filter (D. O. North 1943): its
 * output, squared, is added up over all intervals. Steady hum and noise fill the interval evenly and stand out of
 * nothing.
 *
 * @param template a single pulse as it is expected to arrive, shorter than an interval
 * @returns null where nothing sounds at all
 * @throws RangeError for a record that is shorter than an interval
 */
export function findPulses(
  samples: ArrayLike<number>,
  template: ArrayLike<number>,
  intervalFrames: number,
): PulsePlaces | null {
  const intervals = Math.floor(samples.length / intervalFrames);
  if (intervals < 1) {
    throw new RangeError('The recording is shorter than the interval between two pulses.');
  }
  const matched = matchedFilter(samples, template);
  const energy = new Float64Array(intervalFrames);
  for (let frame = 0; frame < intervals * intervalFrames; frame += 1) {
    energy[frame % intervalFrames]! += matched[frame]! ** 2;
  }
  let top = 0;
  for (let at = 1; at < intervalFrames; at += 1) if (energy[at]! > energy[top]!) top = at;
  if (!(energy[top]! > 0)) return null;
  // A clean rig is silent between pulses: the ratio stays finite all the same.
  const between = Math.max(median([...energy]), 1e-14 * energy[top]!);
  return { firstFrame: top, signalToNoiseDb: 10 * Math.log10(energy[top]! / between) };
}

/** Correlation of a record with a template that begins at each of its frames. */
function matchedFilter(samples: ArrayLike<number>, template: ArrayLike<number>): Float64Array {
  const fft = new RealFft(transformLength(samples.length + template.length));
  fft.input.fill(0);
  fft.input.set(template);
  fft.transform();
  const ofTemplate = fft.spectrum.slice(0, fft.length);
  fft.input.fill(0);
  fft.input.set(samples);
  fft.transform();
  const inverse = new FFT(fft.length);
  const product: number[] = inverse.createComplexArray();
  product.fill(0);
  for (let bin = 1; bin < fft.length / 2; bin += 1) {
    const [a, b] = [fft.spectrum[2 * bin]!, fft.spectrum[2 * bin + 1]!];
    const [c, d] = [ofTemplate[2 * bin]!, ofTemplate[2 * bin + 1]!];
    product[2 * bin] = 2 * (a * c + b * d);
    product[2 * bin + 1] = 2 * (b * c - a * d);
  }
  const time: number[] = inverse.createComplexArray();
  inverse.inverseTransform(time, product);
  return Float64Array.from({ length: samples.length }, (_, at) => time[2 * at]!);
}
