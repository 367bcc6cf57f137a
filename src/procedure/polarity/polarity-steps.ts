import type { Procedure, StationState } from '../procedure.ts';
import { checkPulseChannels, pulseChannel, whyNotPulses } from '../pulses/pulse-channel.ts';
import type { PulseTakeReading } from '../take/pulse-take.ts';
import type { PolarityEvent, PolarityResult, PolarityState, PolarityTask } from './polarity.ts';
import { findingsOf, verdictsOf } from './verdicts.ts';

type Recorded = Pick<PolarityState, 'task' | 'heard' | 'refused' | 'chosen'>;

/** @throws RangeError for a task without channels, or a channel without a band */
function polarityStart(task: PolarityTask): PolarityState {
  checkPulseChannels(task.channels);
  return concluded({ task, heard: {}, refused: null, chosen: null });
}

/** @throws RangeError for a channel that the task does not have */
function polarityStep(state: PolarityState, event: PolarityEvent): PolarityState {
  if (event.type === 'choose') {
    pulseChannel(state.task.channels, event.channelId);
    return concluded({ ...state, refused: null, chosen: event.channelId });
  }
  return concluded(withTake(state, event.purpose.channelId, event.reading));
}

function withTake(state: PolarityState, channelId: string, reading: PulseTakeReading): Recorded {
  const { name } = pulseChannel(state.task.channels, channelId);
  const refused = whyNotPulses(reading, name);
  const { heard, signalToNoiseDb, grade } = reading;
  if (refused !== null || heard === null) return { ...state, refused };
  const one = { pulses: heard, signalToNoiseDb, isSuspect: grade === 'suspect' };
  return { ...state, refused: null, chosen: null, heard: { ...state.heard, [channelId]: one } };
}

function concluded({ task, heard, refused, chosen }: Recorded): PolarityState {
  const base = { task, heard, refused, chosen };
  const next = task.channels.find((channel) => heard[channel.channelId] === undefined);
  const facts = { ...base, wanted: chosen ?? next?.channelId ?? null, ...verdictsOf(base) };
  const judged = { ...facts, findings: findingsOf(facts) };
  return { ...judged, instruction: instructionFor(judged), acceptance: acceptanceOf(judged) };
}

type Judged = Omit<PolarityState, 'instruction' | 'acceptance'>;

function instructionFor({ task, refused, wanted, channels }: Judged): string {
  if (refused !== null) return refused;
  if (wanted !== null) {
    return `Let only ${pulseChannel(task.channels, wanted).name.toLowerCase()} play, the train running on without a break, and record.`;
  }
  const open = channels.find((channel) => channel.verdict === 'cannot-tell');
  if (open === undefined) return 'Every driver is heard: record which way round they are.';
  const name = pulseChannel(task.channels, open.channelId).name.toLowerCase();
  return `${sentenceCase(name)} could not be told: hold the microphone close to it and record it again.`;
}

function sentenceCase(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}

function acceptanceOf({ task, heard, channels, findings }: Judged): StationState['acceptance'] {
  const missing = task.channels.length - channels.length;
  if (missing > 0) {
    const why = missing === 1 ? 'One channel is not heard yet.' : `${missing} channels are not heard yet.`;
    return { can: false, why, needsSecondThought: false };
  }
  const open = channels.filter((channel) => channel.verdict === 'cannot-tell').length;
  const why =
    findings.length > 0
      ? findings.map((finding) => finding.sentence).join(' ')
      : open > 0
        ? `Of ${open === 1 ? 'one channel' : `${open} channels`} it cannot be told.`
        : Object.values(heard).some((one) => one.isSuspect)
          ? 'Some recordings are doubtful: the input processes its sound, or may.'
          : null;
  return { can: true, why, needsSecondThought: why !== null };
}

/** @throws Error with the reason where nothing may be accepted yet */
function polarityResult({ channels, turnedOver, findings, acceptance }: PolarityState): PolarityResult {
  if (!acceptance.can) throw new Error(acceptance.why ?? 'There is nothing to accept yet.');
  const isReversed = channels.some((channel) => channel.verdict === 'reversed');
  const isOpen = channels.some((channel) => channel.verdict === 'cannot-tell');
  return { turnedOver, channels, inside: isReversed ? false : isOpen ? null : true, findings };
}

export const POLARITY: Procedure<PolarityTask, PolarityEvent, PolarityState, PolarityResult> = {
  start: polarityStart,
  step: polarityStep,
  result: polarityResult,
};
