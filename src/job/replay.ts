import type { Procedure, StationState } from '../procedure/procedure.ts';
import { PROCEDURES, type ProcedureKind } from '../procedure/procedures.ts';
import { readTake, type TakeRequest } from '../procedure/take/read-take.ts';
import type { Take } from '../procedure/take/take.ts';
import { keptRecord } from './kept-record.ts';
import type { JobRecord } from './records.ts';
import { JobRefused } from './refused.ts';
import type { SessionEntry, SessionLog } from './session-log.ts';

/** Samples of the session's WAV: every channel, `frames` from `atFrame` on. */
export type ReadSession = (atFrame: number, frames: number) => Promise<Float32Array[]>;

type Loose = Procedure<unknown, unknown, StationState, unknown>;

/**
 * Runs a station's log again, from its samples.
 *
 * @returns the records it accepted, each as it was stored
 * @throws JobRefused where the log is of a station that is not known, or an entry has no beginning
 */
export async function replay(log: SessionLog, read: ReadSession): Promise<JobRecord[]> {
  const procedure = procedureOf(log.kind);
  const records: JobRecord[] = [];
  let state: StationState | null = null;
  for (const entry of log.entries) {
    if (entry.type === 'start') state = procedure.start(entry.task);
    else if (state === null) throw new JobRefused('This session does not begin with its task.');
    else if (entry.type === 'hand') state = procedure.step(state, entry.event);
    else if (entry.type === 'take') state = procedure.step(state, await takeEvent(log, entry, read));
    else records.push(recordOf(log.kind, entry, procedure.result(state)));
  }
  return records;
}

function procedureOf(kind: string): Loose {
  const known = PROCEDURES[kind as ProcedureKind] as Loose | undefined;
  if (known !== undefined) return known;
  throw new JobRefused(
    `This session is of "${kind}"; this version replays ${Object.keys(PROCEDURES).join(', ')}.`,
  );
}

async function takeEvent(log: SessionLog, entry: Extract<SessionEntry, { type: 'take' }>, read: ReadSession) {
  const request = entry.request as unknown as TakeRequest;
  const reading = readTake(request, {
    sampleRateHz: log.sampleRateHz,
    startFrame: entry.startFrame,
    channels: await read(entry.atFrame, entry.frames),
    doubts: entry.doubts as Take['doubts'],
  });
  return { type: 'take', purpose: entry.purpose, request, reading };
}

function recordOf(
  kind: string,
  entry: Extract<SessionEntry, { type: 'accept' }>,
  result: unknown,
): JobRecord {
  const { id, at, conditions } = entry;
  return keptRecord({ kind, id, at, conditions, result });
}
