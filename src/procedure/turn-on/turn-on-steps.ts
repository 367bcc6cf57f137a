import { byWeight } from '../../dsp/live/grade.ts';
import { doubtSentence } from '../gain/doubts.ts';
import type { Procedure } from '../procedure.ts';
import { turnOnResult } from './result.ts';
import { keepAliveTried, silenceTried } from './tried.ts';
import type { TurnOnEvent, TurnOnPurpose, TurnOnResult, TurnOnState, TurnOnTask } from './turn-on.ts';
import { turnOnAcceptance, turnOnFindings, turnOnInstruction } from './words.ts';

type Seen = Pick<TurnOnState, 'task' | 'curve' | 'silences' | 'keepAlive' | 'obstacle' | 'doubts'>;

/** @throws RangeError where there is nothing to try */
function turnOnStart(task: TurnOnTask): TurnOnState {
  const { silencesSeconds, keepAliveDbfs, firstKeepAliveDbfs } = task;
  const isRising = (list: readonly number[]) => list.every((value, i) => i === 0 || value > list[i - 1]!);
  if (silencesSeconds.length === 0 || !isRising(silencesSeconds) || !(silencesSeconds[0]! > 0)) {
    throw new RangeError('The silences to be tried must be one or more, in seconds above 0, shortest first.');
  }
  if (!isRising(keepAliveDbfs) || !keepAliveDbfs.includes(firstKeepAliveDbfs)) {
    throw new RangeError('The levels to be tried must rise, and hold the one that is tried first.');
  }
  return concluded({ task, curve: null, silences: [], keepAlive: [], obstacle: null, doubts: [] });
}

/** The state given is left as it was. */
function turnOnStep(state: TurnOnState, event: TurnOnEvent): TurnOnState {
  const { purpose, reading } = event;
  // A pause is what is played here: a stretch of exact silence is no fault of the recording.
  const against = reading.doubts.filter((doubt) => doubt !== 'digital-silence' && doubt !== 'gap');
  const blocking = against.find((doubt) => BLOCKS.has(doubt));
  if (blocking !== undefined) {
    return concluded({ ...state, obstacle: `${doubtSentence(blocking)} Record it again.` });
  }
  const tried = reading.tone === null ? null : triedWith(state.task, purpose, reading.tone);
  if (tried === null) return concluded({ ...state, obstacle: NOT_CAUGHT });
  const doubts = byWeight([...state.doubts, ...against]);
  const { everySeconds = 1, levelsDbfs = [] } = reading.tone ?? {};
  const heard = { ...state, doubts, obstacle: null, curve: { purpose, everySeconds, levelsDbfs } };
  return 'held' in tried
    ? concluded({ ...heard, keepAlive: [...withoutLevel(state, tried.levelDbfs), tried] })
    : concluded({ ...heard, silences: [...withoutSilence(state, tried.seconds), tried] });
}

const BLOCKS: ReadonlySet<string> = new Set([
  'not-a-number',
  'input-overload',
  'source-changed',
  'page-hidden',
]);

const NOT_CAUGHT =
  'The tone, the pause and the tone again were not all caught: start the track just after pressing the button, and try again.';

function triedWith(
  task: TurnOnTask,
  purpose: TurnOnPurpose,
  tone: NonNullable<TurnOnEvent['reading']['tone']>,
) {
  return purpose.try === 'silence' ? silenceTried(purpose, tone) : keepAliveTried(task, purpose, tone);
}

function withoutLevel({ keepAlive }: TurnOnState, levelDbfs: number) {
  return keepAlive.filter((one) => one.levelDbfs !== levelDbfs);
}

function withoutSilence({ silences }: TurnOnState, seconds: number) {
  return silences.filter((one) => one.seconds !== seconds);
}

function concluded(seen: Seen): TurnOnState {
  const { task, curve, obstacle, doubts } = seen;
  const silences = [...seen.silences].sort((a, b) => a.seconds - b.seconds);
  const keepAlive = [...seen.keepAlive].sort((a, b) => a.levelDbfs - b.levelDbfs);
  const slept = silences.find((one) => one.slept);
  const known = {
    sleepsWithinSeconds: slept?.seconds ?? null,
    awakeForSeconds: silences.filter((one) => !one.slept).at(-1)?.seconds ?? null,
    holdingDbfs: keepAlive.find((one) => one.held)?.levelDbfs ?? null,
  };
  const next = nextOf(task, silences, keepAlive, known.sleepsWithinSeconds);
  const facts = { task, curve, obstacle, doubts, silences, keepAlive, next, ...known };
  const findings = turnOnFindings(facts);
  return {
    ...facts,
    findings,
    instruction: turnOnInstruction({ ...facts, findings }),
    acceptance: turnOnAcceptance({ ...facts, findings }),
  };
}

/** Longer silences until a start is lost; then from one level down to the first that does not hold, or up to one that does. */
function nextOf(
  task: TurnOnTask,
  silences: TurnOnState['silences'],
  keepAlive: TurnOnState['keepAlive'],
  sleepsWithin: number | null,
): TurnOnPurpose | null {
  if (sleepsWithin === null) {
    const seconds = task.silencesSeconds.find((one) => silences.every((tried) => tried.seconds !== one));
    return seconds === undefined ? null : { try: 'silence', seconds };
  }
  const levelDbfs = nextLevel(task, keepAlive);
  return levelDbfs === null ? null : { try: 'keep-alive', seconds: sleepsWithin, levelDbfs };
}

function nextLevel(task: TurnOnTask, keepAlive: TurnOnState['keepAlive']): number | null {
  if (keepAlive.length === 0) return task.firstKeepAliveDbfs;
  const levels = task.keepAliveDbfs;
  const lowestHeld = keepAlive.find((one) => one.held)?.levelDbfs;
  const highestLost = keepAlive.findLast((one) => !one.held)?.levelDbfs;
  if (lowestHeld === undefined) return levels.find((one) => one > (highestLost ?? Infinity)) ?? null;
  if (highestLost !== undefined) return null;
  return levels.findLast((one) => one < lowestHeld) ?? null;
}

export const TURN_ON_PROCEDURE: Procedure<TurnOnTask, TurnOnEvent, TurnOnState, TurnOnResult> = {
  start: turnOnStart,
  step: turnOnStep,
  result: turnOnResult,
};
