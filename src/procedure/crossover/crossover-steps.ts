import { doubtSentence } from '../gain/doubts.ts';
import type { Procedure } from '../procedure.ts';
import type { SweepTakeReading } from '../take/sweep-take.ts';
import { acceptanceOf } from './acceptance.ts';
import type {
  CrossoverEvent,
  CrossoverPurpose,
  CrossoverResult,
  CrossoverState,
  CrossoverTask,
  MeasuredChannel,
} from './crossover.ts';
import { crossoverFindings } from './findings.ts';
import { instructionFor } from './instruction.ts';
import { judgedSides } from './judge.ts';
import { sumsOf } from './neighbours.ts';
import { channelOf, nextTake } from './next.ts';
import { crossoverResult } from './result.ts';

type Seen = Pick<CrossoverState, 'task' | 'channelId' | 'way' | 'reference' | 'measured' | 'refused'>;
type TakeOfSweep = Extract<CrossoverEvent, { type: 'take' }>;

/**
 * Nothing swept yet; the first channel on the bench.
 *
 * @throws RangeError for a task without channels, or a tolerance that is not positive
 */
function crossoverStart(task: CrossoverTask): CrossoverState {
  const [first] = task.channels;
  if (first === undefined) throw new RangeError('There is no channel whose filters could be measured.');
  if (!(task.cornerPercent > 0)) {
    throw new RangeError(
      `A corner's tolerance of ${task.cornerPercent} % cannot be kept; it must be above 0.`,
    );
  }
  return concluded({
    task,
    channelId: first.id,
    way: 'input-plug',
    reference: null,
    measured: {},
    refused: null,
  });
}

/** @throws RangeError for an event about a channel that the task does not have */
function crossoverStep(state: CrossoverState, event: CrossoverEvent): CrossoverState {
  switch (event.type) {
    case 'channel':
      channelOf(state.task, event.channelId);
      return concluded({ ...state, channelId: event.channelId, refused: null });
    case 'reference-way':
      return concluded({ ...state, way: event.way, reference: null, refused: null });
    case 'new-reference':
      return concluded({ ...state, reference: null, refused: null });
    case 'take':
      return concluded(withTake(state, event));
  }
}

/** Why a sweep cannot be used, one sentence that says what to do. */
function refusalOf(reading: SweepTakeReading): string | null {
  const { response, grade, doubts } = reading;
  if (response === null) {
    return 'No sweep was heard: see that it plays and that the input is connected here, then sweep again.';
  }
  if (!response.whole) return 'Only a part of the sweep was recorded: sweep again.';
  if (grade === 'invalid') {
    return `Sweep again: ${doubts.map(doubtSentence).join(' ')}`;
  }
  if (response.fitted === null || response.finding === null) {
    return 'The sweep hardly stands out of the noise: raise the source’s volume, or use a weaker divider, and sweep again.';
  }
  return null;
}

function withTake(state: CrossoverState, event: TakeOfSweep): Seen {
  const { purpose, reading } = event;
  channelOf(state.task, purpose.channelId);
  const refused = refusalOf(reading);
  if (refused !== null) return { ...state, refused };
  return purpose.what === 'reference' ? withReference(state, purpose, reading) : withChannel(state, event);
}

function withReference(state: CrossoverState, purpose: CrossoverPurpose, reading: SweepTakeReading): Seen {
  if (state.way === 'none') throw new RangeError('A reference came in where none is taken.');
  const { transfer } = reading.response!;
  return {
    ...state,
    refused: null,
    reference: { way: state.way, channelId: purpose.channelId, transfer },
  };
}

function withChannel(state: CrossoverState, { purpose, request, reading }: TakeOfSweep): Seen {
  const channel = channelOf(state.task, purpose.channelId);
  const response = reading.response!;
  const { kind: _, ...sweep } = request.sweep;
  const one: MeasuredChannel = {
    channelId: channel.id,
    sweep,
    reference: referenceOf(state, response.divided),
    response,
    sides: judgedSides(channel, response.finding!, response.fitted!, state.task.cornerPercent),
    grade: reading.grade,
    doubts: reading.doubts,
  };
  return { ...state, refused: null, measured: { ...state.measured, [channel.id]: one } };
}

function referenceOf({ reference }: CrossoverState, divided: boolean): MeasuredChannel['reference'] {
  if (!divided || reference === null) return null;
  return { way: reference.way, channelId: reference.channelId };
}

function concluded(seen: Seen): CrossoverState {
  const { task, channelId, way, reference, measured, refused } = seen;
  const own = measured[channelId];
  const sums = sumsOf(task.channels, channelId, measured);
  const findings = crossoverFindings(task, channelId, measured, sums);
  const facts = {
    ...{ task, channelId, way, reference, measured, refused, sums, findings },
    next: nextTake(seen),
    acceptance: acceptanceOf(own, findings),
  };
  return { ...facts, instruction: instructionFor(facts) };
}

export const CROSSOVER: Procedure<CrossoverTask, CrossoverEvent, CrossoverState, CrossoverResult> = {
  start: crossoverStart,
  step: crossoverStep,
  result: crossoverResult,
};
