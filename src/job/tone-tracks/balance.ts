import { fedAlike, namesOf, type TonedChannel, type Unfiled } from './channels.ts';

interface Band {
  lowHz: number;
  highHz: number;
}

/** Where the ear judges loudness, a room's modes lie close, and door and speaker position matter least. */
const MIDDLE: Band = { lowHz: 500, highHz: 2000 };
/** Stay this far inside a filter's corner, so that its slope does not count as level. */
const INSIDE_CORNER = 1.25;
const WIDEST_RATIO = 4;

/**
 * Band of the noise that a channel's level is matched with: 500 Hz to 2 kHz where the channel passes all of
 * it; elsewhere what it passes, at most two octaves, next to that middle.
 */
export function balanceBand(band: TonedChannel['band'], sampleRateHz: number): Band {
  const lowHz = band.highPassHz === null ? 20 : band.highPassHz * INSIDE_CORNER;
  const openEndHz = Math.min(20_000, 0.45 * sampleRateHz);
  const highHz = Math.min(openEndHz, band.lowPassHz === null ? openEndHz : band.lowPassHz / INSIDE_CORNER);
  if (lowHz <= MIDDLE.lowHz && highHz >= MIDDLE.highHz) return MIDDLE;
  if (lowHz >= highHz) {
    const middleHz = Math.sqrt((band.highPassHz ?? lowHz) * (band.lowPassHz ?? highHz));
    return { lowHz: middleHz / 1.1, highHz: middleHz * 1.1 };
  }
  return lowHz > MIDDLE.lowHz
    ? { lowHz, highHz: Math.min(highHz, lowHz * WIDEST_RATIO) }
    : { lowHz: Math.max(lowHz, highHz / WIDEST_RATIO), highHz };
}

/** Noise to match levels by, one track for all channels that are fed alike and pass the same band. */
export function balanceTracks(channels: readonly TonedChannel[], sampleRateHz: number): Unfiled[] {
  return fedAlike(channels).map((group, index) => {
    const [first] = group as [TonedChannel];
    return {
      id: `${first.id}-balance`,
      kind: 'pink',
      channels: first.fedBy,
      serves: group.flatMap((channel) => channel.serves),
      purpose: `Matches the loudness of ${namesOf(group)} to the others: noise within the band they play.`,
      caution: null,
      ...balanceBand(first.band, sampleRateHz),
      levelDbfs: -20,
      seed: index + 1,
      startSeconds: 0,
      durationSeconds: 20,
    };
  });
}

/** Highest centre as a share of the rate that the renderer takes; the pulse still reaches 3.3 times as high. */
const HIGHEST_PULSE_SHARE = 1 / 32;

/** Pulses around the middle of what a channel plays: a pulse outside its band would come back as ringing. */
export function polarityTracks(channels: readonly TonedChannel[], sampleRateHz: number): Unfiled[] {
  return fedAlike(channels).map((group) => {
    const [first] = group as [TonedChannel];
    return {
      id: `${first.id}-polarity`,
      kind: 'polarity',
      channels: first.fedBy,
      serves: group.flatMap((channel) => channel.serves),
      purpose: `Shows whether ${namesOf(group)} pushes outward first when the signal does.`,
      caution: null,
      frequencyHz: Math.min(first.frequencyHz, sampleRateHz * HIGHEST_PULSE_SHARE),
      peakDbfs: -12,
      everySeconds: 1,
      startSeconds: 0,
      durationSeconds: 10,
    };
  });
}
