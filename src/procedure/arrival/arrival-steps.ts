import { speedOfSound } from '../../dsp/time/speed-of-sound.ts';
import type { Procedure, StationState } from '../procedure.ts';
import { checkPulseChannels, pulseChannel, whyNotPulses } from '../pulses/pulse-channel.ts';
import type { PulseTakeReading } from '../take/pulse-take.ts';
import type { ArrivalEvent, ArrivalResult, ArrivalState, ArrivalTake, ArrivalTask } from './arrival.ts';
import { TRAIN_ANEW, whyBroken } from './breaks.ts';
import { delaysOf } from './delays.ts';
import { onOneClock } from './one-clock.ts';

type Recorded = Pick<ArrivalState, 'task' | 'airCelsius' | 'takes' | 'broken' | 'refused' | 'chosen'>;

/** Until another is typed: a room's temperature. 10 degrees more or less change a path by 1.7 %. */
const USUAL_CELSIUS = 20;

/** @throws RangeError for a task without channels, a channel without a band, or no tolerance */
function arrivalStart(task: ArrivalTask): ArrivalState {
  checkPulseChannels(task.channels);
  if (!(task.toleranceMs > 0)) {
    throw new RangeError(`A tolerance of ${task.toleranceMs} ms allows nothing: it must be above 0.`);
  }
  return concluded({
    task,
    airCelsius: USUAL_CELSIUS,
    takes: [],
    broken: null,
    refused: null,
    chosen: null,
  });
}

/** @throws RangeError for a channel that the task does not have, or air that no cabin holds */
function arrivalStep(state: ArrivalState, event: ArrivalEvent): ArrivalState {
  switch (event.type) {
    case 'take':
      return concluded(withTake(state, event.purpose.channelId, event.reading));
    case 'choose':
      pulseChannel(state.task.channels, event.channelId);
      return concluded({ ...state, refused: null, chosen: event.channelId });
    case 'train':
      if (state.takes.length === 0) return state;
      return concluded({ ...state, takes: [], broken: TRAIN_ANEW, refused: null, chosen: null });
    case 'air':
      speedOfSound(event.celsius);
      return concluded({ ...state, airCelsius: event.celsius });
  }
}

function withTake(state: ArrivalState, channelId: string, reading: PulseTakeReading): Recorded {
  const { name } = pulseChannel(state.task.channels, channelId);
  const refused = whyNotPulses(reading, name);
  if (refused !== null || reading.heard === null) return { ...state, refused };
  const take: ArrivalTake = {
    channelId,
    sampleRateHz: reading.sampleRateHz,
    startFrame: reading.startFrame,
    endFrame: reading.startFrame + Math.round(reading.seconds * reading.sampleRateHz),
    pulses: reading.heard,
    isSuspect: reading.grade === 'suspect',
  };
  const takes = [...state.takes, take];
  const broken = whyBroken(takes, state.task);
  const kept = broken === null ? takes : [take];
  return { ...state, takes: kept, broken, refused: null, chosen: null };
}

function wantedNext({ task, takes, chosen }: Recorded): string | null {
  if (chosen !== null) return chosen;
  const next = task.channels.find((channel) => !takes.some((take) => take.channelId === channel.channelId));
  if (next !== undefined) return next.channelId;
  return isClosed(takes) ? null : (takes[0]?.channelId ?? null);
}

/** Whether the first channel was heard once more after the others: what shows that nothing broke on the way. */
function isClosed(takes: readonly ArrivalTake[]): boolean {
  const [first, ...later] = takes;
  const other = later.findIndex((take) => take.channelId !== first?.channelId);
  const again = later.findLastIndex((take) => take.channelId === first?.channelId);
  return other < 0 || again > other;
}

function concluded({ task, airCelsius, takes, broken, refused, chosen }: Recorded): ArrivalState {
  const recorded = { task, airCelsius, takes, broken, refused, chosen };
  const clock = takes.length === 0 ? null : onOneClock(takes, task.everySeconds);
  const arrivals = clock === null ? [] : delaysOf(clock, airCelsius);
  const wanted = wantedNext(recorded);
  const facts = {
    ...recorded,
    wanted,
    skewPpm: clock?.skewPpm ?? null,
    skewUncertaintyPpm: clock?.skewUncertaintyPpm ?? null,
    arrivals,
    worstMs: arrivals.length < 2 ? null : Math.max(...arrivals.map((one) => one.arrivalMs)),
    findings: [],
  };
  return { ...facts, instruction: instructionFor(facts), acceptance: acceptanceOf(facts) };
}

type Facts = Omit<ArrivalState, 'instruction' | 'acceptance'>;

function instructionFor({ task, takes, broken, refused, wanted }: Facts): string {
  if (refused !== null) return refused;
  if (wanted === null) return 'Every channel is compared on one clock: accept the delays.';
  const name = pulseChannel(task.channels, wanted).name.toLowerCase();
  const isClosing = takes.some((take) => take.channelId === wanted) && broken === null;
  if (isClosing)
    return `Once more ${name} alone: it shows that the train ran on and the microphone stood still.`;
  if (broken !== null) return broken;
  return `Let only ${name} play, the train running on and the microphone in its place, and record.`;
}

function acceptanceOf({ takes, wanted, arrivals }: Facts): StationState['acceptance'] {
  if (arrivals.length < 2) {
    return {
      can: false,
      why: 'At least two channels must be heard to be compared.',
      needsSecondThought: false,
    };
  }
  if (wanted !== null) {
    return {
      can: false,
      why: 'Every channel must be heard, and the first one once more.',
      needsSecondThought: false,
    };
  }
  const undecided = takes.some((take) => take.pulses.polarity === 'undecided');
  const why = undecided
    ? 'The polarity of a channel is not sure, and its arrival may be half a period off with it.'
    : takes.some((take) => take.isSuspect)
      ? 'Some recordings are doubtful: the input processes its sound, or may.'
      : null;
  return { can: true, why, needsSecondThought: why !== null };
}

/** @throws Error with the reason where nothing may be accepted yet */
function arrivalResult(state: ArrivalState): ArrivalResult {
  const { task, airCelsius, arrivals, worstMs, skewPpm, skewUncertaintyPpm, acceptance, findings } = state;
  const latest = arrivals.find((one) => one.delayMs === 0);
  if (
    !acceptance.can ||
    latest === undefined ||
    worstMs === null ||
    skewPpm === null ||
    skewUncertaintyPpm === null
  ) {
    throw new Error(acceptance.why ?? 'There is nothing to accept yet.');
  }
  return {
    airCelsius,
    toleranceMs: task.toleranceMs,
    skewPpm,
    skewUncertaintyPpm,
    channels: arrivals,
    latestId: latest.channelId,
    worstDifferenceMs: worstMs,
    inside: worstMs <= task.toleranceMs,
    findings,
  };
}

export const ARRIVAL: Procedure<ArrivalTask, ArrivalEvent, ArrivalState, ArrivalResult> = {
  start: arrivalStart,
  step: arrivalStep,
  result: arrivalResult,
};
