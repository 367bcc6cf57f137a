import type { ExpectedFilter } from '../../dsp/time/expected-band.ts';
import type { SoundPath } from '../../dsp/time/fit-covariance.ts';
import { DECIDING_CONFIDENCE, PolarityReader, type PolarityReading } from '../../dsp/time/polarity.ts';
import { readPulseTrain } from '../../dsp/time/pulse-train.ts';
import { polarityPulse } from '../../dsp/tones/polarity.ts';
import { channelOfTake, factsOf, type Take, type TakeFacts } from './take.ts';

/** A train of polarity pulses was played, through one driver's band. */
export interface PulseTakeRequest {
  kind: 'pulses';
  channelIndex: number;
  /** Centre of the pulse that this driver answers. */
  frequencyHz: number;
  /** Where that pulse begins within each interval, as a share of it (`pulsePlace`). */
  place: number;
  everySeconds: number;
  path: SoundPath;
  /** What the driver may pass, each as likely as the others: the filters are known, its own roll-off is not. */
  bands: ExpectedFilter[][];
}

export interface PulseTakeReading extends TakeFacts {
  kind: 'pulses';
  signalToNoiseDb: number;
  /** `null` where no train was heard. */
  heard: HeardPulses | null;
}

export interface HeardPulses {
  pulses: number;
  /** On the source's clock, where an interval of the train begins as this driver plays it: arrival, modulo the interval. */
  arrivalFrame: number;
  /** Standard uncertainty that band and cabin leave, and that the pulses' scatter leaves. */
  arrivalUncertaintySeconds: number;
  timingUncertaintySeconds: number;
  /** Recorder's clock against the player's; positive: more frames than the rate says. */
  skewPpm: number;
  skewUncertaintyPpm: number;
  polarity: 'upright' | 'inverted' | 'undecided';
  likelier: 'upright' | 'inverted';
  /** Chance that the likelier is right, 0.5 to 1. */
  confidence: number;
}

/**
 * @throws RangeError where the take has no such channel or is shorter than an interval, an interval is no whole
 *   number of frames, or no band is expected
 */
export function readPulseTake(request: PulseTakeRequest, take: Take): PulseTakeReading {
  const samples = channelOfTake(take, request.channelIndex);
  const { sampleRateHz, startFrame } = take;
  const { frequencyHz, everySeconds, place, path } = request;
  const intervalFrames = everySeconds * sampleRateHz;
  if (!(Number.isInteger(intervalFrames) && intervalFrames > 0)) {
    throw new RangeError(
      `An interval of ${everySeconds} s is no whole number of frames at ${sampleRateHz} Hz.`,
    );
  }
  if (request.bands.length === 0) throw new RangeError('No band is expected of this driver.');
  const template = polarityPulse(frequencyHz, sampleRateHz);
  const train = readPulseTrain(samples, { sampleRateHz, intervalFrames, frequencyHz, template });
  const { signalToNoiseDb, aligned } = train;
  const facts = { kind: 'pulses', ...factsOf(take), signalToNoiseDb } as const;
  if (aligned === null) return { ...facts, heard: null };
  const { mean, pulses, skewPpm, skewUncertaintyPpm } = aligned;
  const read = request.bands.map((filters) =>
    new PolarityReader({ sampleRateHz, frames: mean.length, filters, path, excitation: template }).read(mean),
  );
  const known = read.filter((one) => one !== null);
  if (known.length < read.length) return { ...facts, heard: null };
  const merged = mergedOver(known);
  const stretch = 1 + skewPpm * 1e-6;
  return {
    ...facts,
    heard: {
      pulses,
      arrivalFrame:
        startFrame +
        aligned.startFrame +
        (merged.arrivalSeconds * sampleRateHz - place * intervalFrames) * stretch,
      arrivalUncertaintySeconds: merged.arrivalUncertaintySeconds,
      timingUncertaintySeconds: aligned.startUncertaintyFrames / sampleRateHz,
      skewPpm,
      skewUncertaintyPpm,
      polarity: merged.polarity,
      likelier: merged.likelier,
      confidence: merged.confidence,
    },
  };
}

/** Bands that are equally likely, as one: chances are averaged, and what the arrivals differ by is uncertainty. */
function mergedOver(readings: readonly PolarityReading[]): PolarityReading {
  const count = readings.length;
  const sum = (of: (reading: PolarityReading) => number) => readings.reduce((all, one) => all + of(one), 0);
  const upright = sum((one) => (one.likelier === 'upright' ? one.confidence : 1 - one.confidence)) / count;
  const likelier = upright >= 0.5 ? 'upright' : 'inverted';
  const confidence = Math.max(upright, 1 - upright);
  const arrivalSeconds = sum((one) => one.arrivalSeconds) / count;
  const variance = sum(
    (one) => one.arrivalUncertaintySeconds ** 2 + (one.arrivalSeconds - arrivalSeconds) ** 2,
  );
  return {
    polarity: confidence >= DECIDING_CONFIDENCE ? likelier : 'undecided',
    likelier,
    confidence,
    arrivalSeconds,
    arrivalUncertaintySeconds: Math.sqrt(variance / count),
  };
}
