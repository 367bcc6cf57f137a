/** Freezes the present reading as a record with its conditions, and keeps it. */
import { volts } from '../../../job/format/quantity.ts';
import { keptResult } from '../../../job/kept-record.ts';
import { gainResult } from '../../../procedure/gain/result.ts';
import { gainNow, newTurn } from '../../session/gain-session.ts';
import { acceptRecord } from '../../session/job-session.ts';
import { newId } from '../../session/new-id.ts';
import { conditionsNow } from '../parts/conditions-now.ts';

/** What became of the press: the record in words once it is on disk, or why there is none. */
export type Accepted = { fault: string; words: null } | { fault: null; words: string };

function refused(fault: string): Accepted {
  return { fault, words: null };
}

export async function acceptReading(jobId: string): Promise<Accepted> {
  const state = gainNow();
  if (state === null) return refused('There is no channel to accept a reading for.');
  if (!state.acceptance.can) return refused(state.acceptance.why ?? 'This reading cannot be accepted.');
  const result = gainResult(state);
  const fault = await acceptRecord(jobId, {
    kind: 'gain',
    id: newId(),
    at: new Date().toISOString(),
    conditions: conditionsNow(state.task.way === 'wire'),
    result: keptResult(result),
  });
  if (fault !== null) return refused(fault);
  newTurn();
  return {
    fault: null,
    words: `Recorded ${volts(result.volts)}, ${result.inside ? 'inside' : 'off the aim'}.`,
  };
}
