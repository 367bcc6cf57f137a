import { recorderFrameAt } from '../../dsp/time/clock-skew.ts';
import type { CheckMarkers, CheckReport, CheckTask } from './check.ts';
import { factsOf } from './facts.ts';
import { seenMarkers } from './markers.ts';
import { placedByTones } from './place-by-tones.ts';
import { readParts } from './read-parts.ts';
import type { CheckRecording } from './recording.ts';
import { reportOf } from './report.ts';
import { type PlacedRun, placedRun, skewByTones, withSkew } from './timeline.ts';
import { decimals } from './words.ts';

/** Shares of the work, as measured: looking for markers, reading parts. */
const MARKER_SHARE = 0.5;

/**
 * Reads a recorded run track and judges it. Constant memory but for the longest part. The same samples and the same
 * task give the same report, wherever it is made.
 *
 * @param onProgress told how far it has come, 0 to 1
 * @throws RangeError where the points are not as many as the recording's channels, or its rate cannot hold a part
 */
export async function checkRecording(
  task: CheckTask,
  recording: CheckRecording,
  onProgress: (share: number) => void = () => {},
): Promise<CheckReport> {
  if (task.points.length !== recording.channelCount) {
    throw new RangeError(
      `${task.points.length} points were named for a recording of ${recording.channelCount} channels; one is needed for each.`,
    );
  }
  const used = task.points.flatMap((point, channel) => (point.at === 'none' ? [] : [channel]));
  let looked = 0;
  const { startSeconds, endSeconds } = task.run.markers;
  const seen = await seenMarkers(recording, used, endSeconds - startSeconds, (frames) => {
    looked += frames;
    onProgress((MARKER_SHARE * looked) / recording.frames);
  });
  const found = placedRun(seen, task.run, recording.sampleRateHz) ?? (await placedByTones(task, recording));
  if (found === null) return notFound();
  const placed = await withClocks(found, task, recording);
  let done = 0;
  const run = await readParts(
    task,
    recording,
    placed.timeline,
    () => true,
    () => {
      done += 1;
      onProgress(MARKER_SHARE + ((1 - MARKER_SHARE) * done) / task.run.parts.length);
    },
  );
  return reportOf(task, markersOf(placed, task, recording, found), run);
}

/** Without both markers the tones tell how the clocks differ; the parts are found closely enough without. */
async function withClocks(placed: PlacedRun, task: CheckTask, recording: CheckRecording): Promise<PlacedRun> {
  if (placed.skew !== null) return placed;
  const { read } = await readParts(
    task,
    recording,
    placed.timeline,
    (part) => part.kind === 'sine',
    () => {},
  );
  const tones = factsOf(task, read).flatMap(({ sines }) =>
    sines.flatMap(({ read: { reading }, part, levelDbfs }) => {
      const { tone } = reading.channel;
      if (tone === null || levelDbfs === null) return [];
      const { frequencyHz: heardHz, uncertainty } = tone;
      return [{ playedHz: part.frequencyHz, heardHz, uncertaintyHz: uncertainty.frequencyHz }];
    }),
  );
  const skew = skewByTones(tones);
  return skew === null ? placed : withSkew(placed, skew, recording.sampleRateHz);
}

function notFound(): CheckReport {
  const none = { startSeconds: null, clockSkewPpm: null, clockSkewUncertaintyPpm: null, skewFrom: null };
  return {
    markers: { found: false, ...none, startFound: false, endFound: false },
    parts: [],
    missing: [],
    faults: [],
    pass: false,
  };
}

function markersOf(
  { timeline, skew, startFound, endFound }: PlacedRun,
  { run }: CheckTask,
  { sampleRateHz }: CheckRecording,
  asFound: PlacedRun,
): CheckMarkers {
  const frame = recorderFrameAt(timeline, run.markers.startSeconds);
  return {
    found: startFound || endFound,
    startSeconds: decimals(frame / sampleRateHz, 6),
    clockSkewPpm: decimals(skew?.skewPpm ?? null, 3),
    clockSkewUncertaintyPpm: decimals(skew?.skewUncertaintyPpm ?? null, 3),
    startFound,
    endFound,
    skewFrom: skew === null ? null : asFound.skew === null ? 'tones' : 'markers',
  };
}
