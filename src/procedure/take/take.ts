import { byWeight, DOUBTS, gradeOf } from '../../dsp/live/grade.ts';
import type { Doubt, Grade } from '../../dsp/reading.ts';

/**
 * A stretch of samples kept whole, as it came from the source. Stations
 * measure by takes, so that the same samples give the same record in the app,
 * on the practice rig, and from a saved recording.
 */
export interface Take {
  sampleRateHz: number;
  /** Source's own count of the first frame: takes of one source share this clock. */
  startFrame: number;
  /** One array for each channel of the input, full scale 1.0, all of one length. Read, never changed. */
  channels: readonly Float32Array[];
  /** What was known against the input while it was recorded. */
  doubts: readonly Doubt[];
}

/** What every reading of a take says, whatever was played. */
export interface TakeFacts {
  seconds: number;
  sampleRateHz: number;
  /** First frame on the source's clock. */
  startFrame: number;
  grade: Grade;
  doubts: Doubt[];
}

export function isDoubt(value: unknown): value is Doubt {
  return DOUBTS.some((doubt) => doubt === value);
}

/** @throws RangeError where the take has no such channel, or nothing in it. */
export function channelOfTake(take: Take, channelIndex: number): Float32Array {
  const samples = take.channels[channelIndex];
  if (samples === undefined) {
    throw new RangeError(
      `Input channel ${channelIndex + 1} was asked for; this recording has ${take.channels.length}.`,
    );
  }
  if (samples.length === 0) throw new RangeError('This recording holds no frames; record it again.');
  return samples;
}

/** @param found doubts that the reading itself raised */
export function factsOf(take: Take, found: readonly Doubt[] = []): TakeFacts {
  const doubts = byWeight([...take.doubts, ...found]);
  return {
    seconds: (take.channels[0]?.length ?? 0) / take.sampleRateHz,
    sampleRateHz: take.sampleRateHz,
    startFrame: take.startFrame,
    grade: gradeOf(doubts),
    doubts,
  };
}
