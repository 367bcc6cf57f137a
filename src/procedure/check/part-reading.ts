/** One part as one channel of the recording has it, read as the stations read their takes. */
import { fitAtKnownFrequency } from '../../dsp/fit/known-frequency-fit.ts';
import { dbFromAmplitude } from '../../dsp/level/decibels.ts';
import { withoutLines } from '../../dsp/noise/comb-removal.ts';
import { pulsePlace } from '../../dsp/tones/polarity.ts';
import type { PolaritySpec } from '../../dsp/tones/spec.ts';
import { type NoiseTakeReading, readNoiseTake } from '../take/noise-take.ts';
import { type PinkTakeReading, readPinkTake } from '../take/pink-take.ts';
import { type PulseTakeReading, readPulseTake } from '../take/pulse-take.ts';
import { readStepsTake, type StepsTakeReading } from '../take/steps-take.ts';
import { readSweepTake, type SweepTakeReading } from '../take/sweep-take.ts';
import { channelOfTake, type Take } from '../take/take.ts';
import { readToneTake, type ToneTakeReading } from '../take/tone-take.ts';
import type { RunPart } from './check.ts';
import { creepDb } from './creep.ts';
import type { ExpectedPath } from './expected-path.ts';

/** Loudest level of the beeps' frequency; `null` for digital silence. */
export interface BeepsReading {
  kind: 'identification';
  loudestDbfs: number | null;
}

export interface SteadyToneReading extends ToneTakeReading {
  /** How far the level moves on while the tone holds still (`creepDb`). */
  creepDb: number | null;
}

export type PartReading =
  | SteadyToneReading
  | StepsTakeReading
  | NoiseTakeReading
  | PinkTakeReading
  | SweepTakeReading
  | PulseTakeReading
  | BeepsReading;

/** Shorter than a beep, long enough for thirty periods of its tone. */
const BEEP_WINDOW_SECONDS = 0.05;

/** @param path for pulses: what they pass on their way */
export function partReading(
  part: RunPart,
  take: Take,
  channelIndex: number,
  path: ExpectedPath,
): PartReading {
  switch (part.kind) {
    case 'sine':
      return {
        ...readToneTake({ kind: 'tone', channelIndex, frequencyHz: part.frequencyHz }, take),
        creepDb: creepDb(channelOfTake(take, channelIndex), part.frequencyHz, take.sampleRateHz),
      };
    case 'steps':
      return readStepsTake(
        { kind: 'steps', steps: part },
        oneChannel(take, channelOfTake(take, channelIndex)),
      );
    case 'silence':
      return readNoiseTake(
        { kind: 'noise', channelIndex: 0 },
        oneChannel(take, withoutKeepAlive(part, take, channelIndex)),
      );
    case 'pink': {
      const { lowHz, highHz } = part;
      const bands = [{ lowHz, highHz }];
      return readPinkTake({ kind: 'pink', channelIndex, bands, weighting: 'Z' }, take);
    }
    case 'sweep':
      return readSweepTake({ kind: 'sweep', channelIndex, sweep: part, reference: null }, take);
    case 'polarity':
      return clearestPulses(part, take, channelIndex, path);
    case 'identification':
      return {
        kind: 'identification',
        loudestDbfs: loudest(channelOfTake(take, channelIndex), part.frequencyHz, take.sampleRateHz),
      };
  }
}

function oneChannel(take: Take, samples: Float32Array): Take {
  return { ...take, channels: [samples] };
}

/** The low tone that keeps a converter awake is no noise. */
function withoutKeepAlive(
  { keepAlive }: Pick<RunPart, 'keepAlive'>,
  take: Take,
  channelIndex: number,
): Float32Array {
  const samples = channelOfTake(take, channelIndex);
  if (keepAlive === undefined) return samples;
  return Float32Array.from(withoutLines(samples, take.sampleRateHz, [keepAlive.frequencyHz]));
}

/** Of several pulses in an interval the one that stands out most is the one in this channel's band. */
function clearestPulses(
  part: PolaritySpec,
  take: Take,
  channelIndex: number,
  { path, bands }: ExpectedPath,
): PulseTakeReading {
  const centresHz = [part.frequencyHz, ...(part.furtherHz ?? [])];
  const { everySeconds } = part;
  const each = centresHz.map((frequencyHz, which) =>
    readPulseTake(
      {
        kind: 'pulses',
        channelIndex,
        frequencyHz,
        place: pulsePlace(which, centresHz.length),
        everySeconds,
        path,
        bands,
      },
      take,
    ),
  );
  return each.reduce((a, b) => (b.signalToNoiseDb > a.signalToNoiseDb ? b : a));
}

function loudest(samples: Float32Array, frequencyHz: number, sampleRateHz: number): number | null {
  const frames = Math.round(BEEP_WINDOW_SECONDS * sampleRateHz);
  const w = (2 * Math.PI * frequencyHz) / sampleRateHz;
  const fit = { dc: 0, re: 0, im: 0 };
  let amplitude = 0;
  for (let from = 0; from + frames <= samples.length; from += frames >> 1) {
    fitAtKnownFrequency(samples, from, frames, w, fit);
    amplitude = Math.max(amplitude, Math.hypot(fit.re, fit.im));
  }
  return dbFromAmplitude(amplitude);
}
