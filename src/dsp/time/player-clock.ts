import { type RecorderTimeline, recorderFrameAt } from './clock-skew.ts';
import { SincInterpolator } from './sinc-interpolator.ts';

/** A stretch on the player's clock. */
export interface PlayerStretch {
  fromSeconds: number;
  frames: number;
  /** Rate of the result, by the player's clock. Not above the recording's by more than a skew. */
  sampleRateHz: number;
}

const sinc = new SincInterpolator();

/**
 * A stretch of a recording as it would be, had the recorder run on the player's clock: band-limited interpolation,
 * right to -98 dB below 0.45 of the rate. What lies outside the recording counts as zero.
 *
 * No low-pass is applied: a `sampleRateHz` well below the recording's would fold what lies above its half.
 *
 * @throws RangeError where the two rates differ by more than a clock can (0.1 %)
 */
export function onPlayerClock(
  recording: ArrayLike<number>,
  timeline: RecorderTimeline,
  stretch: PlayerStretch,
): Float64Array {
  if (Math.abs(stretch.sampleRateHz / timeline.framesPerSecond - 1) > 1e-3) {
    throw new RangeError(
      `A recording of ${timeline.framesPerSecond} frames per second cannot be put at ${stretch.sampleRateHz} Hz here: only a clock's skew is taken out.`,
    );
  }
  const result = new Float64Array(stretch.frames);
  for (let at = 0; at < stretch.frames; at += 1) {
    const seconds = stretch.fromSeconds + at / stretch.sampleRateHz;
    result[at] = sinc.valueAt(recording, recorderFrameAt(timeline, seconds));
  }
  return result;
}
