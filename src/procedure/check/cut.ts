import { playerSecondsAt, type RecorderTimeline, recorderFrameAt } from '../../dsp/time/clock-skew.ts';
import { onPlayerClock } from '../../dsp/time/player-clock.ts';
import type { Take } from '../take/take.ts';
import type { RunPart, RunPlan } from './check.ts';
import type { CheckRecording } from './recording.ts';

/** A stretch of the track, on the player's clock. */
interface Stretch {
  fromSeconds: number;
  toSeconds: number;
}

/** What may be missing at an end of the recording and the part still counts as there. */
const SPARE_SECONDS = 0.01;
/** The interpolator's reach (`SincInterpolator`), and one frame of rounding. */
const REACH_FRAMES = 40;
/** Ahead of a sweep or a train, so that a path that is early by its filters is not cut. */
const LEAD_SHARE = 0.5;

export type PartCut = { take: Take } | { missing: string };

/** Readers that need a steady signal get the middle of the part; the others get it with the silence around it. */
function stretchOf(part: RunPart, run: RunPlan): Stretch {
  const from = part.startSeconds;
  const to = from + part.durationSeconds;
  switch (part.kind) {
    case 'sine':
    case 'pink':
    case 'silence':
      return { fromSeconds: from + run.marginSeconds.start, toSeconds: to - run.marginSeconds.end };
    case 'identification':
      return { fromSeconds: from, toSeconds: to };
    case 'steps':
      return { fromSeconds: from - run.guardSeconds, toSeconds: to + run.guardSeconds };
    case 'sweep':
    case 'polarity':
      return { fromSeconds: from - LEAD_SHARE * run.guardSeconds, toSeconds: to + run.guardSeconds };
  }
}

/**
 * The part out of the recording. Sweeps and pulses are put on the player's clock, for their readers take time for
 * granted; steady signals stay as they were recorded.
 *
 * @param hearing channels of the recording that will be read; of sweeps and pulses the others come back silent
 */
export async function cutPart(
  part: RunPart,
  run: RunPlan,
  recording: CheckRecording,
  timeline: RecorderTimeline,
  hearing: readonly number[],
): Promise<PartCut> {
  const stretch = stretchOf(part, run);
  const missing = whyMissing(part, recording, timeline);
  if (missing !== null) return { missing };
  const isClocked = part.kind === 'sweep' || part.kind === 'polarity';
  const reach = isClocked ? REACH_FRAMES : 0;
  const first = Math.max(0, Math.ceil(recorderFrameAt(timeline, stretch.fromSeconds)) - reach);
  const end = Math.min(recording.frames, Math.floor(recorderFrameAt(timeline, stretch.toSeconds)) + reach);
  const channels = await recording.read(first, end - first);
  const { sampleRateHz } = recording;
  if (!isClocked) return { take: { sampleRateHz, startFrame: first, channels, doubts: [] } };
  const shifted = { ...timeline, originFrame: timeline.originFrame - first };
  const frames = Math.round((stretch.toSeconds - stretch.fromSeconds) * sampleRateHz);
  const { fromSeconds } = stretch;
  const onClock = channels.map((samples, channel) =>
    hearing.includes(channel)
      ? Float32Array.from(onPlayerClock(samples, shifted, { fromSeconds, frames, sampleRateHz }))
      : new Float32Array(frames),
  );
  return { take: { sampleRateHz, startFrame: 0, channels: onClock, doubts: [] } };
}

function whyMissing(
  { startSeconds, durationSeconds }: RunPart,
  recording: CheckRecording,
  timeline: RecorderTimeline,
): string | null {
  const begins = playerSecondsAt(timeline, 0);
  const ends = playerSecondsAt(timeline, recording.frames);
  if (begins > startSeconds + SPARE_SECONDS) {
    return `Not in the recording, which begins ${begins.toFixed(1)} s into the track; this part begins at ${startSeconds.toFixed(1)} s.`;
  }
  const partEnds = startSeconds + durationSeconds;
  if (ends < partEnds - SPARE_SECONDS) {
    return `Not in the recording, which ends ${Math.max(0, ends).toFixed(1)} s into the track; this part ends at ${partEnds.toFixed(1)} s.`;
  }
  return null;
}
