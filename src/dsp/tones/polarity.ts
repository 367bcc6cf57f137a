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

/** Pulses stand in the middle of each interval of `everySeconds`; only whole intervals hold one. */
export function renderPolarity(spec: PolaritySpec, sampleRateHz: number): Float64Array {
  checkFrequency(spec.frequencyHz, sampleRateHz);
  checkLevel(spec.peakDbfs);
  const highestHz = HIGHEST_SHARE_OF_RATE * sampleRateHz;
  if (spec.frequencyHz > highestHz) {
    throw new RangeError(
      `A polarity pulse around ${spec.frequencyHz} Hz needs a sharper edge than ${sampleRateHz} Hz can carry: at most ${highestHz} Hz.`,
    );
  }
  const pulse = polarityPulse(spec.frequencyHz, sampleRateHz);
  checkSeconds(
    'The interval between polarity pulses',
    spec.everySeconds,
    (2 * (pulse.length + 1)) / sampleRateHz,
  );
  checkSeconds('A train of polarity pulses', spec.durationSeconds, spec.everySeconds);
  const peak = sinePeak(spec.peakDbfs);
  for (let frame = 0; frame < pulse.length; frame += 1) pulse[frame]! *= peak;
  const samples = new Float64Array(Math.round(spec.durationSeconds * sampleRateHz));
  const pulses = Math.floor(spec.durationSeconds / spec.everySeconds + 1e-9);
  for (let count = 0; count < pulses; count += 1) {
    samples.set(pulse, Math.round((count + 0.5) * spec.everySeconds * sampleRateHz));
  }
  return samples;
}
