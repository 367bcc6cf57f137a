import { pulsePlace } from '../../dsp/tones/polarity.ts';
import type { PolaritySpec } from '../../dsp/tones/spec.ts';

/** Highest centre of a pulse, as a share of the rate, that the renderer takes. */
const HIGHEST_PULSE_SHARE = 1 / 32;
/** Whatever the rate of this page's sound, the pulses are those of a track at this rate. */
const TRACK_RATE_HZ = 44_100;

/** A pulse reaches from a third of its centre to three times it: channels within this ratio share one. */
const SHARED_RATIO = 1.5;

/** Time to listen to each channel and to unplug the next, five or six times over. */
const TRAIN_SECONDS = 180;
const EVERY_SECONDS = 1;

/** A channel, and a tone in the middle of what it plays. */
interface TonedDriver {
  id: string;
  frequencyHz: number;
}

/** The pulse that one channel answers, and where it begins in each interval, as a share of it. */
interface ChannelPulse {
  channelId: string;
  frequencyHz: number;
  place: number;
}

export interface ArrivalTrain {
  spec: PolaritySpec;
  pulses: ChannelPulse[];
}

/**
 * One unbroken train of pulses for all channels, a pulse in each interval for each band: what is muted and unmuted
 * while it runs is heard on one clock, so arrivals compare directly.
 *
 * @param sampleRateHz of the track; pulses are the same from 44.1 kHz up
 */
export function arrivalTrain(channels: readonly TonedDriver[], sampleRateHz: number): ArrivalTrain {
  const highestHz = Math.min(sampleRateHz, TRACK_RATE_HZ) * HIGHEST_PULSE_SHARE;
  const centresHz: number[] = [];
  const chosen = channels.map(({ id, frequencyHz }) => {
    const wanted = Math.min(frequencyHz, highestHz);
    let which = centresHz.findIndex((centre) => ratio(centre, wanted) <= SHARED_RATIO);
    if (which < 0) which = centresHz.push(wanted) - 1;
    return { channelId: id, which };
  });
  const [first, ...further] = centresHz;
  if (first === undefined) throw new RangeError('A train of pulses needs at least one channel.');
  return {
    spec: {
      kind: 'polarity',
      frequencyHz: first,
      ...(further.length > 0 ? { furtherHz: further } : {}),
      peakDbfs: -12,
      everySeconds: EVERY_SECONDS,
      durationSeconds: TRAIN_SECONDS,
    },
    pulses: chosen.map(({ channelId, which }) => ({
      channelId,
      frequencyHz: centresHz[which]!,
      place: pulsePlace(which, centresHz.length),
    })),
  };
}

function ratio(a: number, b: number): number {
  return Math.max(a / b, b / a);
}
