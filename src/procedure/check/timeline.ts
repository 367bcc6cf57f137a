import {
  type ClockSkew,
  clockSkew,
  type RecorderTimeline,
  recorderFrameAt,
  type SeenInstant,
} from '../../dsp/time/clock-skew.ts';
import type { MarkerFinding } from '../../dsp/time/marker-finder.ts';
import { MARKER_SECONDS } from '../../dsp/tones/marker.ts';
import type { RunPlan } from './check.ts';
import type { SeenMarkers } from './markers.ts';

export interface PlacedRun {
  timeline: RecorderTimeline;
  /** Where on the player's clock the timeline is held; it turns about this when the clocks are compared. */
  heldAtSeconds: number;
  /** `null` where the clocks are taken for equal at first. */
  skew: ClockSkewFigures | null;
  startFound: boolean;
  endFound: boolean;
}

/** Where the track lies in the recording; `null` without a marker. */
export function placedRun({ start, end }: SeenMarkers, run: RunPlan, sampleRateHz: number): PlacedRun | null {
  const first = start === null ? null : instant(start, run.markers.startSeconds);
  const last = end === null ? null : instant(end, run.markers.endSeconds);
  const only = first ?? last;
  if (only === null) return null;
  const found = { heldAtSeconds: only.playerSeconds, startFound: first !== null, endFound: last !== null };
  if (first === null || last === null)
    return { timeline: timelineThrough(only, sampleRateHz), skew: null, ...found };
  const { timeline, skewPpm, skewUncertaintyPpm } = clockSkew(first, last, sampleRateHz);
  return { timeline, skew: { skewPpm, skewUncertaintyPpm }, ...found };
}

function instant({ middleFrame, frameUncertainty }: MarkerFinding, markerSeconds: number): SeenInstant {
  return { frame: middleFrame, frameUncertainty, playerSeconds: markerSeconds + MARKER_SECONDS / 2 };
}

export function timelineThrough(
  { frame, playerSeconds }: Pick<SeenInstant, 'frame' | 'playerSeconds'>,
  framesPerSecond: number,
): RecorderTimeline {
  return { originFrame: frame - playerSeconds * framesPerSecond, framesPerSecond };
}

/** A tone's frequency as the recording's rate has it, against what was played. */
export interface HeardFrequency {
  playedHz: number;
  heardHz: number;
  uncertaintyHz: number;
}

/**
 * The clocks by the tones between: a recorder that counts more frames to a second hears every tone lower. Weighted by
 * the inverse variance; the uncertainty is the larger of what the tones claim and what they scatter by
 * (JCGM 100, 5.1 and Birge's ratio).
 *
 * @returns `null` without a tone
 */
export function skewByTones(tones: readonly HeardFrequency[]): ClockSkewFigures | null {
  if (tones.length === 0) return null;
  let [weights, sum] = [0, 0];
  const each = tones.map(({ playedHz, heardHz, uncertaintyHz }) => {
    const ppm = (playedHz / heardHz - 1) * 1e6;
    const weight = 1 / Math.max((uncertaintyHz / playedHz) * 1e6, 1e-3) ** 2;
    weights += weight;
    sum += weight * ppm;
    return { ppm, weight };
  });
  const skewPpm = sum / weights;
  const squares = each.reduce((all, { ppm, weight }) => all + weight * (ppm - skewPpm) ** 2, 0);
  const birge = each.length > 1 ? Math.max(1, squares / (each.length - 1)) : 1;
  return { skewPpm, skewUncertaintyPpm: Math.sqrt(birge / weights) };
}

type ClockSkewFigures = Pick<ClockSkew, 'skewPpm' | 'skewUncertaintyPpm'>;

/** The same run with the clocks that the tones show. */
export function withSkew(placed: PlacedRun, skew: ClockSkewFigures, sampleRateHz: number): PlacedRun {
  const playerSeconds = placed.heldAtSeconds;
  const frame = recorderFrameAt(placed.timeline, playerSeconds);
  const framesPerSecond = sampleRateHz * (1 + skew.skewPpm * 1e-6);
  return { ...placed, skew, timeline: timelineThrough({ frame, playerSeconds }, framesPerSecond) };
}
