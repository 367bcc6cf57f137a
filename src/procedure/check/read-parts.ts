import type { RecorderTimeline } from '../../dsp/time/clock-skew.ts';
import type { SweepResponse } from '../take/sweep-take.ts';
import type { Take } from '../take/take.ts';
import { appliesTo } from './applies.ts';
import type { CheckPoint, CheckTask, RunPart } from './check.ts';
import { cutPart } from './cut.ts';
import { type ExpectedPath, expectedPath } from './expected-path.ts';
import { type PartReading, partReading } from './part-reading.ts';
import type { CheckRecording } from './recording.ts';

/** A part as one channel of the recording has it. */
export interface ReadPart<R extends PartReading = PartReading> {
  part: RunPart;
  point: Exclude<CheckPoint, { at: 'none' }>;
  recordedChannel: number;
  reading: R;
}

interface MissingPart {
  part: RunPart;
  point: Exclude<CheckPoint, { at: 'none' }>;
  recordedChannel: number;
  why: string;
}

export interface ReadRun {
  read: ReadPart[];
  missing: MissingPart[];
}

const NO_PATH: ExpectedPath = { path: 'wire', bands: [] };

/**
 * Every part that says something about some point, each cut out once. Sweeps are read ahead of pulses, which need to
 * know the filters that they passed.
 *
 * @param onPart told after each part
 */
export async function readParts(
  task: CheckTask,
  recording: CheckRecording,
  timeline: RecorderTimeline,
  only: (part: RunPart) => boolean,
  onPart: () => void,
): Promise<ReadRun> {
  const run: ReadRun = { read: [], missing: [] };
  const isPulses = (part: RunPart) => part.kind === 'polarity';
  const parts = task.run.parts.filter(only);
  for (const part of [...parts.filter((one) => !isPulses(one)), ...parts.filter(isPulses)]) {
    await readPart(part, task, recording, timeline, run);
    onPart();
  }
  const place = ({ part }: { part: RunPart }) => task.run.parts.indexOf(part);
  run.read.sort((a, b) => place(a) - place(b) || a.recordedChannel - b.recordedChannel);
  run.missing.sort((a, b) => place(a) - place(b) || a.recordedChannel - b.recordedChannel);
  return run;
}

async function readPart(
  part: RunPart,
  task: CheckTask,
  recording: CheckRecording,
  timeline: RecorderTimeline,
  into: ReadRun,
): Promise<void> {
  const hearing = task.points.flatMap((point, recordedChannel) =>
    point.at !== 'none' && appliesTo(part, point) ? [{ point, recordedChannel }] : [],
  );
  if (hearing.length === 0) return;
  const channels = hearing.map(({ recordedChannel }) => recordedChannel);
  const cut = await cutPart(part, task.run, recording, timeline, channels);
  if ('missing' in cut) {
    for (const { point, recordedChannel } of hearing) {
      into.missing.push({ part, point, recordedChannel, why: cut.missing });
    }
    return;
  }
  for (const { point, recordedChannel } of bestPlaced(hearing, cut.take, part)) {
    const path =
      part.kind === 'polarity'
        ? expectedPath(point, part, task, sweepAt(into.read, recordedChannel))
        : NO_PATH;
    const reading = partReading(part, cut.take, recordedChannel, path);
    into.read.push({ part, point, recordedChannel, reading });
  }
}

/** What another microphone hears by this much louder is left to that one. */
const LEFT_TO_ANOTHER_DB = 20;

/** Of several microphones those that hear a part; all other points as they are. */
function bestPlaced<T extends Pick<ReadPart, 'point' | 'recordedChannel'>>(
  hearing: readonly T[],
  { channels }: Take,
  { kind }: RunPart,
): T[] {
  const power = ({ recordedChannel }: T) =>
    channels[recordedChannel]!.reduce((sum, sample) => sum + sample * sample, 0);
  const loudest = Math.max(...hearing.filter(({ point }) => point.at === 'cabin').map(power));
  const least = kind === 'silence' ? 0 : loudest * 10 ** (-LEFT_TO_ANOTHER_DB / 10);
  return hearing.filter((one) => one.point.at !== 'cabin' || power(one) >= least);
}

/** The sweep at a point; at one channel's terminals there is one of use, in the cabin none. */
export function sweepAt(read: readonly ReadPart[], recordedChannel: number): SweepResponse | null {
  const sweeps = read.flatMap((one) =>
    one.recordedChannel === recordedChannel && one.point.at === 'terminals' && one.reading.kind === 'sweep'
      ? [one.reading.response]
      : [],
  );
  return sweeps.find((response) => response !== null) ?? null;
}
