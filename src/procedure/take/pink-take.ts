import { dbfsFromMeanSquare } from '../../dsp/level/decibels.ts';
import { powerDensity } from '../../dsp/noise/power-density.ts';
import { weightingPower } from '../../dsp/weighting/curves.ts';
import { type MicrophoneCurve, readsHighWithin } from '../../plan/calibration/microphone-curve.ts';
import { channelOfTake, factsOf, type Take, type TakeFacts } from './take.ts';

export interface NoiseBand {
  lowHz: number;
  highHz: number;
}

/** Band-limited pink noise was played, or nothing, to hear what sounds without it. */
export interface PinkTakeRequest {
  kind: 'pink';
  channelIndex: number;
  /** Each is read by itself. */
  bands: NoiseBand[];
  weighting: 'A' | 'C' | 'Z';
  /** What the microphone is known to deviate by, taken out line by line; nothing is where left out. */
  microphone?: MicrophoneCurve;
}

export interface PinkTakeReading extends TakeFacts {
  kind: 'pink';
  /** In the order of the request's bands. */
  levels: BandLevel[];
}

interface BandLevel {
  /** Weighted level of the band's energy over the whole take, sine convention; `null` for digital silence. */
  levelDbfs: number | null;
  /** Standard uncertainty that noise of this bandwidth leaves in this time: 4.34 dB / sqrt(B T). */
  uncertaintyDb: number;
}

/** Lines 1.5 Hz apart: an octave from 31 Hz, the narrowest band in use, spans twenty of them. */
const SEGMENT_SECONDS = 0.68;

/**
 * Level of noise in bands: the averaged power spectrum, weighted by IEC 61672-1 and summed between the band's ends, so
 * that rumble and hiss outside do not count. The uncertainty is that of a sum over a Gaussian spectrum (J. Bendat and
 * A. Piersol, Random Data, ch. 8; references item 16): `4.34 dB / sqrt(B T)`, B the bandwidth that the power really fills.
 *
 * @throws RangeError where the take has no such channel, is shorter than a segment, or a band does not fit below half its rate
 */
export function readPinkTake(request: PinkTakeRequest, take: Take): PinkTakeReading {
  const samples = channelOfTake(take, request.channelIndex);
  const { sampleRateHz } = take;
  const segmentFrames = 2 ** Math.ceil(Math.log2(SEGMENT_SECONDS * sampleRateHz));
  if (samples.length < segmentFrames) {
    const least = (segmentFrames / sampleRateHz).toFixed(1);
    throw new RangeError(`Noise must be recorded for at least ${least} s; this recording is shorter.`);
  }
  const density = powerDensity(samples, sampleRateHz, segmentFrames);
  const peak = samples.reduce((highest, value) => Math.max(highest, Math.abs(value)), 0);
  const levels = request.bands.map((band) =>
    bandLevel(band, request, density.values, density.binHz, samples.length / sampleRateHz),
  );
  return { kind: 'pink', ...factsOf(take, peak >= 1 ? ['input-overload'] : []), levels };
}

function bandLevel(
  { lowHz, highHz }: NoiseBand,
  { weighting, microphone }: PinkTakeRequest,
  density: Float64Array,
  binHz: number,
  seconds: number,
): BandLevel {
  const last = Math.round(highHz / binHz);
  if (!(lowHz > 0 && lowHz < highHz && last < density.length)) {
    throw new RangeError(`A band from ${lowHz} to ${highHz} Hz cannot be read at this sample rate.`);
  }
  let sum = 0;
  let squares = 0;
  for (let bin = Math.round(lowHz / binHz); bin <= last; bin += 1) {
    // What of the bin's stretch lies inside the band.
    const share = Math.min((bin + 0.5) * binHz, highHz) - Math.max((bin - 0.5) * binHz, lowHz);
    if (share <= 0) continue;
    const frequencyHz = bin * binHz;
    const power =
      (density[bin]! * weightingPower(weighting, frequencyHz)) / microphonePower(microphone, frequencyHz);
    sum += share * power;
    squares += share * power * power;
  }
  const bandwidthHz = squares > 0 ? sum ** 2 / squares : highHz - lowHz;
  return {
    levelDbfs: dbfsFromMeanSquare(sum),
    uncertaintyDb: 10 / Math.LN10 / Math.sqrt(bandwidthHz * seconds),
  };
}

/** How many times the power that is there the microphone reads at a frequency. */
function microphonePower(curve: MicrophoneCurve | undefined, frequencyHz: number): number {
  return curve === undefined ? 1 : 10 ** (readsHighWithin(curve, frequencyHz) / 10);
}
