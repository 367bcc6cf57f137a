import { ZodError } from 'zod';
import { PlanRefused } from '../plan/refused.ts';
import type { Procedure, StationState } from '../procedure/procedure.ts';
import { PROCEDURES, type ProcedureKind } from '../procedure/procedures.ts';
import { readTake, type TakeRequest } from '../procedure/take/read-take.ts';
import { firstFault } from './first-fault.ts';
import { keptRecord } from './kept-record.ts';
import type { JobRecord } from './records.ts';
import { JobRefused } from './refused.ts';
import type { SessionEntry, SessionLog } from './session-log.ts';

/** Samples of the session's WAV: every channel, `frames` from `atFrame` on. */
export type ReadSession = (atFrame: number, frames: number) => Promise<Float32Array[]>;

type Loose = Procedure<unknown, unknown, StationState, unknown>;
type Entry<T extends SessionEntry['type']> = Extract<SessionEntry, { type: T }>;

/**
 * Runs a station's log again, from its samples.
 *
 * @returns the records it accepted, each as it was stored
 * @throws JobRefused where the log is of a station that is not known, does not begin with its task, or has an entry
 *   that makes no sense there; whatever `read` throws
 */
export async function replay(log: SessionLog, read: ReadSession): Promise<JobRecord[]> {
  const procedure = procedureOf(log.kind);
  const records: JobRecord[] = [];
  let state: StationState | null = null;
  for (const [index, entry] of log.entries.entries()) {
    const channels = entry.type === 'take' ? await read(entry.atFrame, entry.frames) : [];
    try {
      if (entry.type === 'start') state = procedure.start(entry.task);
      else if (state === null) throw new RangeError('a session begins with its task.');
      else if (entry.type === 'accept') records.push(accepted(log.kind, entry, procedure, state));
      else state = stepped(procedure, state, eventOf(log, entry, channels));
    } catch (error) {
      throw new JobRefused(`entries[${index}] (${entry.type}) ${whyNot(error, log.kind)}`, { cause: error });
    }
  }
  return records;
}

function procedureOf(kind: string): Loose {
  if (Object.hasOwn(PROCEDURES, kind)) return PROCEDURES[kind as ProcedureKind] as Loose;
  throw new JobRefused(
    `This session is of "${kind}"; this version replays ${Object.keys(PROCEDURES).join(', ')}.`,
  );
}

function stepped(procedure: Loose, before: StationState, event: unknown): StationState {
  const state: StationState | undefined = procedure.step(before, event);
  // A fold that switches over all the events it has gives nothing for any other.
  if (state === undefined) throw new RangeError('this station knows no such event.');
  return state;
}

function eventOf(
  { sampleRateHz }: SessionLog,
  entry: Entry<'hand'> | Entry<'take'>,
  channels: Float32Array[],
): unknown {
  if (entry.type === 'hand') return entry.event;
  const { purpose, startFrame, doubts } = entry;
  const request = entry.request as unknown as TakeRequest;
  const reading = readTake(request, { sampleRateHz, startFrame, channels, doubts });
  return { type: 'take', purpose, request, reading };
}

/** As the app accepts: only what may be. */
function accepted(
  kind: string,
  { id, at, conditions }: Entry<'accept'>,
  procedure: Loose,
  state: StationState,
): JobRecord {
  const { can, why } = state.acceptance;
  if (!can) throw new RangeError(why ?? 'There is nothing to accept yet.');
  const raw = { kind, id, at, conditions, result: procedure.result(state) };
  try {
    return keptRecord(raw);
  } catch (error) {
    if (error instanceof ZodError) throw new RangeError(`${firstFault(raw, error)}.`, { cause: error });
    throw error;
  }
}

/** A station trusts the types of what it is given, but a log is anybody's text: whatever it trips over lies in there. */
function whyNot(error: unknown, kind: string): string {
  if (error instanceof RangeError || error instanceof PlanRefused) return `makes no sense: ${error.message}`;
  return `is not of the shape that "${kind}" works with; a log is needed as the app saved it.`;
}
