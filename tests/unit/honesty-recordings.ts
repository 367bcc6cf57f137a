import type { InputTrial } from '../../src/dsp/honesty/judgement.ts';
import { RealFft } from '../../src/dsp/spectrum/real-fft.ts';
import type { StepsSpec } from '../../src/dsp/tones/spec.ts';
import { renderSteps } from '../../src/dsp/tones/steps.ts';
import { type NoiseColour, noise } from './noise-recordings.ts';

/** As in the tone set's level-steps track. */
export const STEPS: StepsSpec = {
  kind: 'steps',
  frequencyHz: 997,
  levelsDbfs: [-40, -30, -20, -10],
  stepSeconds: 3,
  pauseSeconds: 0.5,
};

export interface Conditions {
  sampleRateHz?: number;
  gainDb?: number;
  clockPpm?: number;
  /** Noise over the whole band below the loudest step. */
  noiseBelowDb?: number;
  colour?: NoiseColour;
  leadSeconds?: number;
  tailSeconds?: number;
  seed?: number;
  steps?: StepsSpec;
}

export interface CleanTrial extends InputTrial {
  channels: Float64Array[];
}

/** What an honest input hands over: the steps at some gain and clock, noise of each channel's own. */
export function cleanTrial(conditions: Conditions = {}): CleanTrial {
  const { sampleRateHz = 48_000, gainDb = 0, clockPpm = 0, noiseBelowDb = 65, colour = 'white' } = conditions;
  const { leadSeconds = 1, tailSeconds = 2, seed = 1, steps = STEPS } = conditions;
  const tone = renderSteps(
    { ...steps, frequencyHz: steps.frequencyHz * (1 + clockPpm * 1e-6) },
    sampleRateHz,
  );
  const lead = Math.round(leadSeconds * sampleRateHz);
  const frames = lead + tone.length + Math.round(tailSeconds * sampleRateHz);
  const gain = 10 ** (gainDb / 20);
  const rms = Math.SQRT1_2 * 10 ** ((Math.max(...steps.levelsDbfs) + gainDb - noiseBelowDb) / 20);
  const channels = [0, 1].map((channel) => {
    const samples = noise(colour, rms, frames, 2 * seed + channel);
    for (let n = 0; n < tone.length; n += 1) samples[lead + n] = samples[lead + n]! + gain * tone[n]!;
    return samples;
  });
  return { channels, sampleRateHz, steps };
}

export function processed(
  trial: CleanTrial,
  processor: (samples: Float64Array, sampleRateHz: number) => Float64Array,
): InputTrial {
  return { ...trial, channels: trial.channels.map((channel) => processor(channel, trial.sampleRateHz)) };
}

/** Follows the level with an attack and a release, and moves its gain so that the output nears the target. */
export function automaticGain(
  samples: Float64Array,
  sampleRateHz: number,
  settings: { targetDb: number; attackSeconds: number; releaseSeconds: number; mostDb: number },
): Float64Array {
  const target = 10 ** (settings.targetDb / 20) * Math.SQRT1_2;
  const attack = 1 - Math.exp(-1 / (settings.attackSeconds * sampleRateHz));
  const release = 1 - Math.exp(-1 / (settings.releaseSeconds * sampleRateHz));
  let power = target * target;
  const most = 10 ** (settings.mostDb / 20);
  return samples.map((x) => {
    power += (x * x > power ? attack : release) * (x * x - power);
    const gain = Math.min(most, Math.max(1 / most, target / Math.sqrt(power + 1e-20)));
    return x * gain;
  });
}

/** Closes a moment after the level has fallen below its threshold, and opens at once. */
export function gate(
  samples: Float64Array,
  sampleRateHz: number,
  settings: { thresholdDb: number; floorDb: number; holdSeconds: number },
): Float64Array {
  const threshold = 10 ** (settings.thresholdDb / 20);
  const floor = settings.floorDb === Number.NEGATIVE_INFINITY ? 0 : 10 ** (settings.floorDb / 20);
  const hold = Math.round(settings.holdSeconds * sampleRateHz);
  let since = hold;
  let gain = floor;
  return samples.map((x) => {
    since = Math.abs(x) > threshold ? 0 : since + 1;
    gain += ((since < hold ? 1 : floor) - gain) / (0.005 * sampleRateHz);
    return since >= hold + 0.1 * sampleRateHz && floor === 0 ? 0 : x * gain;
  });
}

/** Brick wall by a windowed sinc of 255 taps. */
export function lowPass(samples: Float64Array, sampleRateHz: number, cornerHz: number): Float64Array {
  const half = 127;
  const taps = Float64Array.from({ length: 2 * half + 1 }, (_, at) => {
    const n = at - half;
    const angle = (2 * Math.PI * cornerHz * n) / sampleRateHz;
    const sinc = n === 0 ? (2 * cornerHz) / sampleRateHz : Math.sin(angle) / (Math.PI * n);
    return sinc * (0.42 + 0.5 * Math.cos((Math.PI * n) / half) + 0.08 * Math.cos((2 * Math.PI * n) / half));
  });
  return samples.map((_, n) => {
    let sum = 0;
    for (let k = -half; k <= half; k += 1) sum += taps[k + half]! * (samples[n - k] ?? 0);
    return sum;
  });
}

/** Spectral subtraction with minimum statistics over 1.5 s: what holds still longer than that is taken for noise. */
export function noiseSuppressor(samples: Float64Array, sampleRateHz: number, floorDb = -18): Float64Array {
  const length = 1024;
  const hop = length / 2;
  const memory = Math.round((1.5 * sampleRateHz) / hop);
  const forward = new RealFft(length);
  const back = new RealFft(length);
  const floor = 10 ** (floorDb / 20);
  const history: Float64Array[] = [];
  const smoothed = new Float64Array(length / 2 + 1);
  const out = new Float64Array(samples.length);
  const window = Float64Array.from({ length }, (_, n) => Math.sin((Math.PI * (n + 0.5)) / length));
  for (let start = 0; start + length <= samples.length; start += hop) {
    for (let n = 0; n < length; n += 1) forward.input[n] = samples[start + n]! * window[n]!;
    forward.transform();
    const { spectrum } = forward;
    const powers = Float64Array.from(
      { length: length / 2 + 1 },
      (_, b) => spectrum[2 * b]! ** 2 + spectrum[2 * b + 1]! ** 2,
    );
    for (let b = 0; b < powers.length; b += 1) smoothed[b] = 0.7 * smoothed[b]! + 0.3 * powers[b]!;
    history.push(smoothed.slice());
    if (history.length > memory) history.shift();
    // Real and imaginary part go back through two real transforms: the inverse of a Hermitian spectrum.
    const gains = powers.map((power, b) => {
      let least = Number.POSITIVE_INFINITY;
      for (const past of history) least = Math.min(least, past[b]!);
      return Math.max(floor, 1 - Math.sqrt((1.5 * least) / (power + 1e-30)));
    });
    inverse(spectrum, gains, back, (n, value) => {
      out[start + n] = out[start + n]! + value * window[n]!;
    });
  }
  return out;
}

/** Inverse of a real signal's transform through the discrete Hartley transform, whose inverse is itself. */
function inverse(
  spectrum: number[],
  gains: Float64Array,
  fft: RealFft,
  put: (n: number, value: number) => void,
): void {
  const { length } = fft;
  const hartley = (b: number) => (spectrum[2 * b]! - spectrum[2 * b + 1]!) * gains[b]!;
  const mirrored = (b: number) => (spectrum[2 * b]! + spectrum[2 * b + 1]!) * gains[b]!;
  for (let b = 0; b <= length / 2; b += 1) fft.input[b] = hartley(b);
  for (let b = 1; b < length / 2; b += 1) fft.input[length - b] = mirrored(b);
  fft.transform();
  const at = (n: number) => {
    const b = n <= length / 2 ? n : length - n;
    const [re, im] = [fft.spectrum[2 * b]!, fft.spectrum[2 * b + 1]!];
    return n <= length / 2 ? re - im : re + im;
  };
  for (let n = 0; n < length; n += 1) put(n, at(n) / length);
}

/** Adaptive filter (normalised LMS, leaky) that takes out of the samples what the player is known to play. */
export function echoCanceller(
  samples: Float64Array,
  played: Float64Array,
  settings: { step: number; leak: number },
): Float64Array {
  const taps = 8;
  const weights = new Float64Array(taps);
  return samples.map((x, n) => {
    let [estimate, power] = [0, 0];
    for (let k = 0; k < taps; k += 1) {
      const reference = played[n - k] ?? 0;
      estimate += weights[k]! * reference;
      power += reference * reference;
    }
    const error = x - estimate;
    if (power > 1e-8) {
      for (let k = 0; k < taps; k += 1) {
        weights[k] =
          weights[k]! * (1 - settings.leak) + (settings.step * error * (played[n - k] ?? 0)) / power;
      }
    }
    return error;
  });
}
