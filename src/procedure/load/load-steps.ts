import { doubtSentence } from '../gain/doubts.ts';
import type { Procedure } from '../procedure.ts';
import { heardTone } from '../source/heard-tone.ts';
import type { SourceToneName } from '../source/source.ts';
import { whyUnheard } from '../source/words.ts';
import { changeOf, loadFindings } from './change.ts';
import type { LoadEvent, LoadHeard, LoadResult, LoadState, LoadTask, Resistors } from './load.ts';
import { loadDoubts, loadResult } from './result.ts';

type Seen = Pick<LoadState, 'task' | 'heard' | 'obstacle'>;
type Facts = Omit<LoadState, 'instruction' | 'acceptance'>;

const TONES: readonly SourceToneName[] = ['middle', 'bass', 'treble'];
const NOTHING: LoadHeard = { middle: null, bass: null, treble: null };

/** @throws RangeError for a volume step that cannot be */
function loadStart(task: LoadTask): LoadState {
  if (!Number.isInteger(task.step) || task.step < 1) {
    throw new RangeError(
      `The load cannot be checked at volume step ${task.step}; it must be a whole number from 1 up.`,
    );
  }
  return concluded({ task, heard: { connected: NOTHING, off: NOTHING }, obstacle: null });
}

/** The state given is left as it was. */
function loadStep(state: LoadState, { purpose, reading }: LoadEvent): LoadState {
  const { resistors, tone } = purpose;
  const isSilent = reading.grade !== 'invalid' && reading.channel.tone === null;
  const heard = heardTone(reading) ?? (isSilent && mayBeSilent(state, resistors) ? 'silent' : null);
  if (heard === null) {
    const { frequencyHz } = state.task.tones[tone];
    const where = resistors === 'connected' ? 'with the load resistors' : 'without the load resistors';
    return concluded({ ...state, obstacle: whyUnheard(reading, frequencyHz, where) });
  }
  const next = { ...state.heard, [resistors]: { ...state.heard[resistors], [tone]: heard } };
  return concluded({ ...state, heard: next, obstacle: null });
}

/** A radio that mutes without a load is one finding; a tone that nobody played is not. */
function mayBeSilent(state: LoadState, resistors: Resistors): boolean {
  const { middle } = state.heard.connected;
  return resistors === 'off' && middle !== null;
}

function concluded(seen: Seen): LoadState {
  const { task, heard, obstacle } = seen;
  const missing = { connected: missingIn(heard.connected), off: missingIn(heard.off) };
  const change = changeOf(heard);
  const findings = change === null ? [] : loadFindings(change, task);
  const facts = { task, heard, obstacle, missing, change, findings };
  return { ...facts, instruction: instructionFor(facts), acceptance: acceptanceOf(facts) };
}

function missingIn(heard: LoadHeard): SourceToneName[] {
  return TONES.filter((tone) => heard[tone] === null);
}

function instructionFor({ obstacle, missing, task, findings }: Facts): string {
  if (obstacle !== null) return obstacle;
  const left = (which: Resistors) => missing[which].length;
  if (left('connected') + left('off') === 0) {
    return findings.length === 0
      ? 'The radio plays alike with and without its load: connect the resistors again and accept it.'
      : 'The radio needs its load: connect the resistors again and accept it.';
  }
  if (left('off') === TONES.length && left('connected') === TONES.length) {
    return `Set the volume to step ${task.step} and measure with the load resistors as they are now.`;
  }
  if (left('connected') > 0 && left('connected') < TONES.length)
    return 'Leave the load resistors connected until all three tones are recorded.';
  if (left('off') > 0 && left('off') < TONES.length)
    return 'Leave the load resistors off until all three tones are recorded.';
  return left('off') > 0
    ? `Pause the radio, disconnect the load resistors, and measure again at the same step ${task.step}.`
    : `Pause the radio, connect the load resistors, and measure again at the same step ${task.step}.`;
}

function acceptanceOf(facts: Facts): LoadState['acceptance'] {
  const { missing, findings } = facts;
  if (missing.connected.length + missing.off.length > 0) {
    const lacks = missing.connected.length > 0 ? 'with' : 'without';
    return {
      can: false,
      why: `The load is compared once all tones ${lacks} the resistors are recorded.`,
      needsSecondThought: false,
    };
  }
  const thoughts = [
    ...findings.map(({ sentence }) => sentence),
    ...loadDoubts(facts).map((doubt) => doubtSentence(doubt)),
  ];
  return {
    can: true,
    why: thoughts.length === 0 ? null : thoughts.join(' '),
    needsSecondThought: thoughts.length > 0,
  };
}

export const LOAD_PROCEDURE: Procedure<LoadTask, LoadEvent, LoadState, LoadResult> = {
  start: loadStart,
  step: loadStep,
  result: loadResult,
};
