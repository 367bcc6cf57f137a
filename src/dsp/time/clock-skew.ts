/**
 * Player and recorder run on clocks of their own: 50 ppm over 10 s is 0.5 ms. Two markers a known time apart
 * show how many of the recorder's frames make a second of the player's.
 */
export interface RecorderTimeline {
  /** Frame of the recording at the player's time 0. */
  originFrame: number;
  /** Frames of the recording for one second of the player. */
  framesPerSecond: number;
}

export interface ClockSkew {
  /** By how much the recorder's clock runs ahead of the player's: positive, more frames than the file says. */
  skewPpm: number;
  skewUncertaintyPpm: number;
  timeline: RecorderTimeline;
}

/** One instant seen in the recording, and its place on the player's time. */
export interface SeenInstant {
  frame: number;
  /** Standard uncertainty of `frame`. */
  frameUncertainty: number;
  playerSeconds: number;
}

/**
 * Skew from two instants, such as the start and the end marker of a run track.
 *
 * @param sampleRateHz the recording's rate, as its file states it
 * @throws RangeError unless the second instant is later than the first on both clocks
 */
export function clockSkew(first: SeenInstant, second: SeenInstant, sampleRateHz: number): ClockSkew {
  const seconds = second.playerSeconds - first.playerSeconds;
  const frames = second.frame - first.frame;
  if (!(seconds > 0 && frames > 0)) {
    throw new RangeError('Skew needs two instants, the second later than the first on both clocks.');
  }
  const framesPerSecond = frames / seconds;
  const uncertainty = Math.hypot(first.frameUncertainty, second.frameUncertainty) / frames;
  return {
    skewPpm: (framesPerSecond / sampleRateHz - 1) * 1e6,
    skewUncertaintyPpm: uncertainty * 1e6,
    timeline: { originFrame: first.frame - first.playerSeconds * framesPerSecond, framesPerSecond },
  };
}

/** Inverse of `recorderFrameAt`. */
export function playerSecondsAt(timeline: RecorderTimeline, recorderFrame: number): number {
  return (recorderFrame - timeline.originFrame) / timeline.framesPerSecond;
}

/** Inverse of `playerSecondsAt`. */
export function recorderFrameAt(timeline: RecorderTimeline, playerSeconds: number): number {
  return timeline.originFrame + playerSeconds * timeline.framesPerSecond;
}
