import { correlationDelay } from './cross-correlation.ts';
import { findPulses } from './pulse-places.ts';
import { SincInterpolator } from './sinc-interpolator.ts';

export interface PulseTrainOptions {
  sampleRateHz: number;
  /** A whole number of frames. */
  intervalFrames: number;
  /** Centre of the pulses' band. */
  frequencyHz: number;
  /** A single pulse as it is expected to arrive. */
  template: ArrayLike<number>;
}

/** A train of equal pulses laid on top of each other. */
export interface PulseTrain {
  signalToNoiseDb: number;
  /** `null` where too few stand out, or they do not come as regularly as a train does. */
  aligned: AlignedPulses | null;
}

interface AlignedPulses {
  pulses: number;
  /** Mean of all of them. */
  mean: Float64Array;
  /** Where `mean` begins, for the pulse in the middle: fraction of a frame from the record's first. */
  startFrame: number;
  /** Standard uncertainty of `startFrame`, from the scatter of the pulses. */
  startUncertaintyFrames: number;
  /** By how much the recorder counts more frames to an interval than it should, and its standard uncertainty. */
  skewPpm: number;
  skewUncertaintyPpm: number;
}

/** Noise or hum alone reaches about half of this by chance (the largest of some hundred sums of five squares). */
const LEAST_STANDING_OUT_DB = 12;
const LEAST_PULSES = 3;

/** Ahead of where the matched filter saw the pulse, and behind: a cabin's decay (60 dB in 0.1 s). */
const AHEAD_SECONDS = 0.02;
const BEHIND_SECONDS = 0.1;

/** The -6 dB band of the pulse, against its centre (`dsp/tones/polarity.ts`). */
const BAND_LOW = 0.33;
const BAND_HIGH = 3.3;

/** Two rounds: the first lag is against a single pulse, the second against the mean of all. */
const ROUNDS = 2;

const sinc = new SincInterpolator();

/**
 * Takes a train of pulses out of a recording: the clock's skew from the train itself, by a straight line through the
 * pulses' lags (least squares), and the mean of the pulses with that skew taken out.
 *
 * @throws RangeError for a recording that is shorter than an interval
 */
export function readPulseTrain(samples: ArrayLike<number>, options: PulseTrainOptions): PulseTrain {
  const { intervalFrames, template, sampleRateHz } = options;
  const found = findPulses(samples, template, intervalFrames);
  if (found === null) return { signalToNoiseDb: 0, aligned: null };
  const { signalToNoiseDb, firstFrame } = found;
  if (signalToNoiseDb < LEAST_STANDING_OUT_DB) return { signalToNoiseDb, aligned: null };
  const ahead = Math.round(AHEAD_SECONDS * sampleRateHz);
  const length = ahead + template.length + Math.round(BEHIND_SECONDS * sampleRateHz);
  // The first interval's pulse may begin ahead of the record, the last one's end behind it.
  let start = firstFrame - ahead;
  if (start < 0) start += intervalFrames;
  const pulses = Math.floor((samples.length - start - length) / intervalFrames) + 1;
  if (pulses < LEAST_PULSES) return { signalToNoiseDb, aligned: null };
  return { signalToNoiseDb, aligned: aligned(samples, options, start, length, pulses) };
}

function aligned(
  samples: ArrayLike<number>,
  options: PulseTrainOptions,
  start: number,
  length: number,
  pulses: number,
): AlignedPulses | null {
  const { intervalFrames, frequencyHz, sampleRateHz } = options;
  let line = { first: start, step: intervalFrames };
  let fit: LagFit | null = null;
  let mean = Float64Array.from({ length }, (_, at) => samples[start + at]!);
  for (let round = 0; round < ROUNDS; round += 1) {
    const lags = lagsAgainst(mean, samples, line, pulses, options);
    fit = lags === null ? null : fitLags(lags);
    if (fit === null || fit.scatterFrames > sampleRateHz / frequencyHz / 4) return null;
    line = { first: line.first + fit.first, step: line.step + fit.step };
    mean = meanOf(samples, line, length, pulses);
  }
  if (fit === null) return null;
  const middle = Math.floor((pulses - 1) / 2);
  return {
    pulses,
    mean,
    startFrame: line.first + middle * line.step,
    startUncertaintyFrames: fit.scatterFrames / Math.sqrt(pulses),
    skewPpm: (line.step / intervalFrames - 1) * 1e6,
    skewUncertaintyPpm: (fit.stepUncertainty / intervalFrames) * 1e6,
  };
}

interface PulseLine {
  /** Frame at which the first pulse's window begins, and how far apart they are. */
  first: number;
  step: number;
}

/** How much later than the line says each pulse comes, frames; `null` where one is not like the others. */
function lagsAgainst(
  mean: Float64Array,
  samples: ArrayLike<number>,
  line: PulseLine,
  pulses: number,
  { sampleRateHz, frequencyHz }: PulseTrainOptions,
): { frames: number; uncertainty: number }[] | null {
  const lags = [];
  for (let pulse = 0; pulse < pulses; pulse += 1) {
    const place = line.first + pulse * line.step;
    const from = Math.round(place);
    const seen = Float64Array.from(mean, (_, at) => samples[from + at] ?? 0);
    const delay = correlationDelay(mean, seen, {
      sampleRateHz,
      weighting: 'plain',
      lowHz: BAND_LOW * frequencyHz,
      highHz: Math.min(BAND_HIGH * frequencyHz, sampleRateHz / 2),
    });
    if (delay === null || delay.peak <= 0) return null;
    lags.push({
      frames: delay.delaySeconds * sampleRateHz + from - place,
      uncertainty: delay.delayUncertaintySeconds * sampleRateHz,
    });
  }
  return lags;
}

interface LagFit {
  /** Of the first pulse, and what each further one adds. */
  first: number;
  step: number;
  stepUncertainty: number;
  /** Standard deviation of one pulse around the line; not below what each lag says of itself. */
  scatterFrames: number;
}

function fitLags(lags: readonly { frames: number; uncertainty: number }[]): LagFit {
  const count = lags.length;
  const middle = (count - 1) / 2;
  let mean = 0;
  let slope = 0;
  let spread = 0;
  lags.forEach(({ frames }, pulse) => {
    mean += frames / count;
    slope += (pulse - middle) * frames;
    spread += (pulse - middle) ** 2;
  });
  slope /= spread;
  let squares = 0;
  let own = 0;
  lags.forEach(({ frames, uncertainty }, pulse) => {
    squares += (frames - mean - slope * (pulse - middle)) ** 2;
    own += uncertainty ** 2 / count;
  });
  const scatterFrames = Math.sqrt(Math.max(squares / (count - 2), own));
  return {
    first: mean - slope * middle,
    step: slope,
    stepUncertainty: scatterFrames / Math.sqrt(spread),
    scatterFrames,
  };
}

/** Each pulse read between the samples, where the line puts it. Within one pulse (50 ms) 100 ppm are 5 us and stay. */
function meanOf(
  samples: ArrayLike<number>,
  line: PulseLine,
  length: number,
  pulses: number,
): Float64Array<ArrayBuffer> {
  const mean = new Float64Array(length);
  for (let pulse = 0; pulse < pulses; pulse += 1) {
    const place = line.first + pulse * line.step;
    for (let at = 0; at < length; at += 1) {
      mean[at]! += sinc.valueAt(samples, place + at) / pulses;
    }
  }
  return mean;
}
