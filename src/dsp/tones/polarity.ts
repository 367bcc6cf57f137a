import { sinePeak } from './level.ts';
import { checkFrequency, checkLevel, checkSeconds } from './limits.ts';
import type { PolaritySpec } from './spec.ts';

/** The swing back lasts this many times the first swing, at one part of its height: no direct current is left. */
const RETURN_RATIO = 3;

/**
 * Where the spectrum of the pulse peaks, in cycles per length of its first
 * swing (found numerically from the shape below). Its -6 dB band reaches from
 * 0.33 to 3.3 times that frequency.
 */
const PEAK_CYCLES_PER_SWING = 0.228_230_9;

/** From 16 times its centre upward the pulse's spectrum stays below -57 dB: what would alias is that small. */
const HIGHEST_SHARE_OF_RATE = 1 / 32;

/**
 * One pulse: a positive swing `sin^4`, then a negative one three times as long
 * and a third as high. One-sided to the eye (9.5 dB between the swings), with
 * no direct current, so that an AC-coupled input does not shift it. Its
 * highest sample lies exactly on the peak.
 */
export function polarityPulse(frequencyHz: number, sampleRateHz: number): Float64Array {
  const swingFrames = (PEAK_CYCLES_PER_SWING / frequencyHz) * sampleRateHz;
  const peakFrame = Math.ceil(swingFrames / 2);
  const firstFrame = peakFrame - swingFrames / 2;
  const pulse = new Float64Array(Math.ceil(firstFrame + swingFrames * (1 + RETURN_RATIO)) + 1);
  for (let frame = 0; frame < pulse.length; frame += 1) {
    const swings = (frame - firstFrame) / swingFrames;
    if (swings > 0 && swings < 1) pulse[frame] = Math.sin(Math.PI * swings) ** 4;
    else if (swings > 1 && swings < 1 + RETURN_RATIO) {
      pulse[frame] = -(Math.sin((Math.PI * (swings - 1)) / RETURN_RATIO) ** 4) / RETURN_RATIO;
    }
  }
  return pulse;
}

/** Mean of `sin^8`: what one swing's power is of its peak's. */
const MEAN_POWER_OF_SWING = 35 / 128;

/** Level of a whole train by its mean power, dBFS: far below its peaks, between which it is silent. */
export function pulsesDbfs({ frequencyHz, furtherHz = [], peakDbfs, everySeconds }: PolaritySpec): number {
  const swingSeconds = [frequencyHz, ...furtherHz].reduce((sum, hz) => sum + PEAK_CYCLES_PER_SWING / hz, 0);
  // The swing back lasts `RETURN_RATIO` times as long, at one part of the height: one part of the energy.
  const share = (swingSeconds * MEAN_POWER_OF_SWING * (1 + 1 / RETURN_RATIO)) / everySeconds;
  return peakDbfs + 10 * Math.log10(2 * share);
}

/** Where the `which`-th of `count` pulses begins within its interval, as a share of it. One stands in the middle. */
export function pulsePlace(which: number, count: number): number {
  return (which + 0.5) / count;
}

function pulsesOf({ frequencyHz, furtherHz = [] }: PolaritySpec, sampleRateHz: number): Float64Array[] {
  return [frequencyHz, ...furtherHz].map((centreHz) => checkedPulse(centreHz, sampleRateHz));
}

/** @throws RangeError as `renderPolarity` does */
export function checkPolarity(spec: PolaritySpec, sampleRateHz: number): void {
  checkLevel(spec.peakDbfs);
  const pulses = pulsesOf(spec, sampleRateHz);
  const longest = Math.max(...pulses.map((pulse) => pulse.length));
  checkSeconds(
    'The interval between polarity pulses',
    spec.everySeconds / pulses.length,
    (2 * (longest + 1)) / sampleRateHz,
  );
  checkSeconds('A train of polarity pulses', spec.durationSeconds, spec.everySeconds);
}

/** One or several pulses in each interval of `everySeconds`, as `pulsePlace` says; only whole intervals hold any. */
export function renderPolarity(spec: PolaritySpec, sampleRateHz: number): Float64Array {
  checkPolarity(spec, sampleRateHz);
  const pulses = pulsesOf(spec, sampleRateHz);
  const peak = sinePeak(spec.peakDbfs);
  const samples = new Float64Array(Math.round(spec.durationSeconds * sampleRateHz));
  const intervals = Math.floor(spec.durationSeconds / spec.everySeconds + 1e-9);
  pulses.forEach((pulse, which) => {
    const scaled = pulse.map((value) => peak * value);
    for (let count = 0; count < intervals; count += 1) {
      const seconds = (count + pulsePlace(which, pulses.length)) * spec.everySeconds;
      samples.set(scaled, Math.round(seconds * sampleRateHz));
    }
  });
  return samples;
}

function checkedPulse(frequencyHz: number, sampleRateHz: number): Float64Array {
  checkFrequency(frequencyHz, sampleRateHz);
  const highestHz = HIGHEST_SHARE_OF_RATE * sampleRateHz;
  if (frequencyHz > highestHz) {
    throw new RangeError(
      `A polarity pulse around ${frequencyHz} Hz needs a sharper edge than ${sampleRateHz} Hz can carry: at most ${highestHz} Hz.`,
    );
  }
  return polarityPulse(frequencyHz, sampleRateHz);
}
