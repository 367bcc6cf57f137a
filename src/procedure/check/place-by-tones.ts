import { median } from '../../dsp/statistics/median.ts';
import { recorderFrameAt } from '../../dsp/time/clock-skew.ts';
import { toneStretches } from '../../dsp/time/tone-stretches.ts';
import type { CheckPoint, CheckTask, RunPart } from './check.ts';
import type { CheckRecording } from './recording.ts';
import { type PlacedRun, timelineThrough } from './timeline.ts';
import { CELL_SECONDS, type ToneShares, toneShares } from './tone-shares.ts';

/** A pattern that fits less is no run track; where the next best place fits nearly as well, nobody knows which it is. */
const LEAST_CORRELATION = 0.7;
const CLEAR_OF_THE_NEXT = 1.2;
/** Places nearer than this are one. */
const SAME_PLACE_SECONDS = 0.5;
/** So much of the track must be in the recording for its pattern to say something. */
const LEAST_SECONDS = 5;

type Steady = RunPart & { kind: 'sine' };

/**
 * Where the track lies in a recording that holds neither of its markers: when its tones sound is a pattern that fits
 * one place only. To the cell by that, then closer by the tones' own beginnings and ends.
 *
 * @returns `null` where nothing fits, or several places do
 */
export async function placedByTones(task: CheckTask, recording: CheckRecording): Promise<PlacedRun | null> {
  const tones = [
    ...new Set(task.run.parts.flatMap((part) => (part.kind === 'sine' ? part.frequencyHz : []))),
  ];
  const shares = await toneShares(recording, tones);
  const roughSeconds = placeOfPattern(task, tones, shares);
  if (roughSeconds === null) return null;
  const rough = timelineThrough(
    { frame: roughSeconds * recording.sampleRateHz, playerSeconds: 0 },
    recording.sampleRateHz,
  );
  const seen = await seenTones(task, recording, (seconds) => recorderFrameAt(rough, seconds));
  if (seen.length === 0) return null;
  const lateFrames = median(seen.map(({ lateFrames: late }) => late));
  const heldAtSeconds = seen.reduce((sum, { middleSeconds }) => sum + middleSeconds, 0) / seen.length;
  const frame = recorderFrameAt(rough, heldAtSeconds) + lateFrames;
  return {
    timeline: timelineThrough({ frame, playerSeconds: heldAtSeconds }, recording.sampleRateHz),
    heldAtSeconds,
    skew: null,
    startFound: false,
    endFound: false,
  };
}

function reaches(part: RunPart, point: CheckPoint): boolean {
  if (point.at !== 'terminals') return point.at === 'cabin';
  return point.fedBy === 'both' || part.channels === 'both' || part.channels === point.fedBy;
}

/** Whether a tone should sound, cell by cell of the track. */
function pattern({ run }: CheckTask, frequencyHz: number, point: CheckPoint): Float64Array {
  const endSeconds = Math.max(
    ...run.parts.map(({ startSeconds, durationSeconds }) => startSeconds + durationSeconds),
  );
  const cells = new Float64Array(Math.ceil(endSeconds / CELL_SECONDS));
  const fill = (fromSeconds: number, toSeconds: number) =>
    cells.fill(1, Math.round(fromSeconds / CELL_SECONDS), Math.round(toSeconds / CELL_SECONDS));
  for (const part of run.parts) {
    if (!('frequencyHz' in part) || part.frequencyHz !== frequencyHz || !reaches(part, point)) continue;
    const from = part.startSeconds;
    if (part.kind === 'sine') fill(from, from + part.durationSeconds);
    if (part.kind !== 'steps') continue;
    part.levelsDbfs.forEach((_, step) => {
      const begins = from + step * (part.stepSeconds + part.pauseSeconds);
      fill(begins, begins + part.stepSeconds);
    });
  }
  return cells;
}

/** Seconds into the recording at which the track begins, maybe below 0. */
function placeOfPattern(task: CheckTask, tones: readonly number[], shares: ToneShares): number | null {
  const pairs = task.points.flatMap((point, channel) =>
    point.at === 'none'
      ? []
      : tones.flatMap((frequencyHz, tone) => {
          const wanted = pattern(task, frequencyHz, point);
          return wanted.includes(1) ? [{ wanted, heard: shares[channel]![tone]! }] : [];
        }),
  );
  const [first] = pairs;
  if (first === undefined) return null;
  const least = Math.ceil(LEAST_SECONDS / CELL_SECONDS);
  const fits: { place: number; weight: number }[] = [];
  for (let place = least - first.wanted.length; place <= first.heard.length - least; place += 1) {
    const { correlation, cells } = correlationAt(pairs, place);
    // By the number of cells: a short stretch fits many places by chance.
    if (correlation >= LEAST_CORRELATION) fits.push({ place, weight: correlation * Math.sqrt(cells) });
  }
  const best = fits.reduce<(typeof fits)[number] | null>(
    (a, b) => (a === null || b.weight > a.weight ? b : a),
    null,
  );
  if (best === null) return null;
  const others = fits.filter(({ place }) => Math.abs(place - best.place) * CELL_SECONDS > SAME_PLACE_SECONDS);
  if (others.some(({ weight }) => weight * CLEAR_OF_THE_NEXT > best.weight)) return null;
  return best.place * CELL_SECONDS;
}

/** Pearson's, over all channels and tones together, where the track at this place and the recording overlap. */
function correlationAt(
  pairs: readonly { wanted: Float64Array; heard: Float64Array }[],
  place: number,
): { correlation: number; cells: number } {
  let [n, x, y, xx, yy, xy] = [0, 0, 0, 0, 0, 0];
  for (const { wanted, heard } of pairs) {
    const end = Math.min(wanted.length, heard.length - place);
    for (let cell = Math.max(0, -place); cell < end; cell += 1) {
      const [a, b] = [wanted[cell]!, heard[place + cell]!];
      n += 1;
      x += a;
      y += b;
      xx += a * a;
      yy += b * b;
      xy += a * b;
    }
  }
  const spread = (n * xx - x * x) * (n * yy - y * y);
  return { correlation: spread > 0 ? (n * xy - x * y) / Math.sqrt(spread) : 0, cells: n };
}

/** How much later than thought each whole tone sounds, by the middle between its two edges. */
async function seenTones(
  task: CheckTask,
  recording: CheckRecording,
  frameAt: (seconds: number) => number,
): Promise<{ middleSeconds: number; lateFrames: number }[]> {
  const { guardSeconds, parts } = task.run;
  const steady = parts.filter((part): part is Steady => part.kind === 'sine');
  const seen = [];
  for (const part of steady) {
    const { startSeconds, durationSeconds, frequencyHz } = part;
    const middleSeconds = startSeconds + durationSeconds / 2;
    const from = Math.round(frameAt(startSeconds - guardSeconds));
    const to = Math.round(frameAt(startSeconds + durationSeconds + guardSeconds));
    if (from < 0 || to > recording.frames) continue;
    const channels = await recording.read(from, to - from);
    for (const [channel, point] of task.points.entries()) {
      if (!reaches(part, point)) continue;
      const heard = toneStretches(channels[channel]!, recording.sampleRateHz, frequencyHz);
      const [only, ...more] = heard?.stretches ?? [];
      if (only === undefined || more.length > 0) continue;
      const middleFrame = from + ((only.startSeconds + only.endSeconds) / 2) * recording.sampleRateHz;
      seen.push({ middleSeconds, lateFrames: middleFrame - frameAt(middleSeconds) });
    }
  }
  return seen;
}
