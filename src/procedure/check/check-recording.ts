import { recorderFrameAt } from '../../dsp/time/clock-skew.ts';
import type { CheckedPart, CheckFault, CheckMarkers, CheckReport, CheckTask, PartVerdict } from './check.ts';
import { type Complaint, type Judgement, together } from './complaint.ts';
import { factsOf, isLeadIn, type PointFacts } from './facts.ts';
import { figuresOf } from './figures.ts';
import { judgeCabinBalance } from './judge/cabin-balance.ts';
import { judgeClipping } from './judge/clipping.ts';
import { judgeFilters } from './judge/filters.ts';
import { judgeHonesty } from './judge/honesty.ts';
import { judgeLevels } from './judge/level.ts';
import { judgeNoise } from './judge/noise.ts';
import { judgePolarity } from './judge/polarity.ts';
import { judgePresence } from './judge/presence.ts';
import { seenMarkers } from './markers.ts';
import { type ReadPart, type ReadRun, readParts } from './read-parts.ts';
import type { CheckRecording } from './recording.ts';
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
  const seen = await seenMarkers(recording, used, (frames) => {
    looked += frames;
    onProgress((MARKER_SHARE * looked) / recording.frames);
  });
  const found = placedRun(seen, task.run, recording.sampleRateHz);
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

/** With one marker alone the tones tell how the clocks differ; the parts are found closely enough without. */
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
  return skew === null ? placed : withSkew(placed, skew, task.run, recording.sampleRateHz);
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
    found: true,
    startSeconds: decimals(frame / sampleRateHz, 6),
    clockSkewPpm: decimals(skew?.skewPpm ?? null, 3),
    clockSkewUncertaintyPpm: decimals(skew?.skewUncertaintyPpm ?? null, 3),
    startFound,
    endFound,
    skewFrom: skew === null ? null : asFound.skew === null ? 'tones' : 'markers',
  };
}

function judged(task: CheckTask, all: readonly PointFacts[]): Judgement {
  const presence = all.map((facts) => judgePresence(task, facts));
  const heard = all.filter((_, at) => !presence[at]!.isSilent);
  const each = (judge: (facts: PointFacts) => Judgement) => heard.map(judge);
  return together([
    ...presence,
    ...each((facts) => judgeClipping(task, facts)),
    judgeLevels(task, heard),
    ...each(judgeHonesty),
    ...each((facts) => judgeFilters(task, facts)),
    judgePolarity(task, heard),
    ...each((facts) => judgeNoise(task, facts)),
    ...each((facts) => judgeCabinBalance(task, facts)),
  ]);
}

function reportOf(task: CheckTask, markers: CheckMarkers, { read, missing }: ReadRun): CheckReport {
  const all = factsOf(task, read);
  const judgement = judged(task, all);
  const parts = [
    ...read.map((one) => checkedPart(one, task, all, judgement)),
    ...missing.map((one): CheckedPart => {
      const lost = !isLeadIn(one.part, task);
      return {
        ...aboutPart(one),
        pass: !lost,
        verdict: 'missing',
        reading: {},
        limits: {},
        why: one.why,
      };
    }),
  ];
  const place = ({ id }: CheckedPart) => task.run.parts.findIndex((part) => part.id === id);
  parts.sort((a, b) => place(a) - place(b) || a.recordedChannel - b.recordedChannel);
  const lost = missing.filter(({ part }) => !isLeadIn(part, task)).map(({ part }) => part.id);
  return {
    markers,
    parts,
    missing: [...new Set(lost)],
    faults: judgement.complaints.map(faultOf),
    pass: parts.length > 0 && parts.every(({ pass }) => pass),
  };
}

function aboutPart({ part, point, recordedChannel }: Omit<ReadPart, 'reading'>) {
  const { id, kind, serves } = part;
  const channel = point.at === 'terminals' ? point.channelId : 'cabin';
  return { id, kind, channel, recordedChannel, serves };
}

function checkedPart(
  read: ReadPart,
  task: CheckTask,
  all: readonly PointFacts[],
  { complaints, limits, open }: Judgement,
): CheckedPart {
  const facts = all.find(({ recordedChannel }) => recordedChannel === read.recordedChannel)!;
  const isThis = (one: ReadPart) => one.part === read.part && one.recordedChannel === read.recordedChannel;
  const against = complaints.filter((complaint) => complaint.read.some(isThis));
  const held = limits.filter((one) => isThis(one.read)).map((one) => one.limits);
  const unknown = open.filter((one) => isThis(one.read)).map(({ why }) => why);
  const failed = against.length > 0;
  return {
    ...aboutPart(read),
    pass: !failed,
    verdict: verdictOf(failed, unknown.length > 0),
    reading: figuresOf(read, facts, task),
    limits: Object.assign({}, ...held),
    why: failed ? against.map(({ sentence }) => sentence).join(' ') : unknown.join(' '),
  };
}

function verdictOf(failed: boolean, isOpen: boolean): PartVerdict {
  if (failed) return 'failed';
  return isOpen ? 'not-judged' : 'passed';
}

function faultOf({ fault, channel, sentence, evidence, remedy, read }: Complaint): CheckFault {
  const parts = [...new Set(read.map(({ part }) => part.id))];
  return { fault, channel, sentence, evidence, remedy, parts };
}
