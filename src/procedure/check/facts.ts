/** What the parts of one point say together, ahead of any judgement. */
import type { Clipping } from '../../dsp/reading.ts';
import type { CheckPoint, CheckTask, RunPart } from './check.ts';
import type { BeepsReading, SteadyToneReading } from './part-reading.ts';
import type { ReadPart } from './read-parts.ts';

type SinePart = RunPart & { kind: 'sine' };

/** A steady tone that was played, as a point has it. */
export interface HeardSine {
  read: ReadPart<SteadyToneReading>;
  part: SinePart;
  /** `null` where it was not heard. */
  levelDbfs: number | null;
  uncertaintyDb: number;
  clipping: Clipping;
  /** `null` where the tone does not outweigh the noise. */
  creepDb: number | null;
}

/** Everything of one channel of the recording. */
export interface PointFacts {
  point: Exclude<CheckPoint, { at: 'none' }>;
  recordedChannel: number;
  read: ReadPart[];
  sines: HeardSine[];
}

/** A channel this far below the loudest of its kind plays nothing: what comes over is crosstalk. */
export const UNHEARD_DB = 30;

/** Whether a part plays ahead of the start marker, where players and converters may still be asleep. */
export function isLeadIn(part: RunPart, { run }: CheckTask): boolean {
  return part.startSeconds + part.durationSeconds <= run.markers.startSeconds;
}

/** By channel of the recording, in its order. */
export function factsOf(task: CheckTask, read: readonly ReadPart[]): PointFacts[] {
  const all = task.points.flatMap((point, recordedChannel): PointFacts[] => {
    if (point.at === 'none') return [];
    const own = read.filter((one) => one.recordedChannel === recordedChannel);
    const sines = own.flatMap((one) => sineOf(one)).filter(({ part }) => !isLeadIn(part, task));
    return [{ point, recordedChannel, read: own, sines }];
  });
  return all.map((facts) => {
    const alike = all.filter(({ point }) => point.at === facts.point.at);
    const loudestDb = Math.max(...alike.flatMap(({ sines }) => sines.map(gainDb)));
    const sines = facts.sines.map((sine) =>
      gainDb(sine) < loudestDb - UNHEARD_DB ? { ...sine, levelDbfs: null } : sine,
    );
    return { ...facts, sines };
  });
}

function sineOf(read: ReadPart): HeardSine[] {
  const { part, reading } = read;
  if (part.kind !== 'sine' || reading.kind !== 'tone') return [];
  const { tone, clipping } = reading.channel;
  return [
    {
      read: { ...read, reading },
      part,
      levelDbfs: tone?.levelDbfs ?? null,
      uncertaintyDb: tone?.uncertainty.levelDb ?? 0,
      clipping,
      creepDb: reading.creepDb,
    },
  ];
}

/** What the chain makes of a tone's level; minus infinity where it was not heard. */
export function gainDb({ levelDbfs, part }: HeardSine): number {
  return levelDbfs === null ? Number.NEGATIVE_INFINITY : levelDbfs - part.levelDbfs;
}

/** Loudest of the beeps on a side; `null` where they were not played or recorded. */
export function beepsDbfs({ read }: PointFacts, side: 'left' | 'right'): number | null {
  const beeps = read.find(({ part, reading }) => reading.kind === 'identification' && part.channels === side);
  return (beeps?.reading as BeepsReading | undefined)?.loudestDbfs ?? null;
}

/** Tones that differ in level alone: same frequency, same sides, for the same channels. */
export function sameTone(a: SinePart, b: SinePart): boolean {
  return a.frequencyHz === b.frequencyHz && a.channels === b.channels && a.serves.join() === b.serves.join();
}

/** The softest heard and whole tone: what louder ones are compared with. */
export function softest(sines: readonly HeardSine[]): HeardSine | null {
  return sines
    .filter(({ levelDbfs, clipping }) => levelDbfs !== null && !isCut(clipping))
    .reduce<HeardSine | null>((a, b) => (a === null || b.part.levelDbfs < a.part.levelDbfs ? b : a), null);
}

/**
 * Less overdrive than this is none: it makes 0.15 % of THD (`thdOfOverdrive`), and 16 bits without dither make some of
 * that of a soft tone, in step with its crests (seen: 0.01 % at -41 dBFS).
 */
const LEAST_OVERDRIVE_DB = 0.05;

/** A tone that came through cut, here or in the recorder. */
export function isCut({ verdict, overdriveDb }: Clipping): boolean {
  if (verdict === 'input-overload') return true;
  return verdict === 'clipped' && (overdriveDb === null || overdriveDb >= LEAST_OVERDRIVE_DB);
}
