import type { InputFinding } from '../../dsp/honesty/judgement.ts';
import { doubtSentence } from '../gain/doubts.ts';
import type { Finding, Procedure } from '../procedure.ts';
import { FAULT_WORDS } from './fault-words.ts';
import type { InputEvent, InputResult, InputState, InputTask } from './input.ts';

type Facts = Pick<InputState, 'task' | 'verdict' | 'figures' | 'doubts' | 'findings'>;

/** @throws RangeError for fewer than two steps: one level cannot show whether a level is kept */
export function inputStart(task: InputTask): InputState {
  if (task.steps.levelsDbfs.length < 2) {
    throw new RangeError(
      `The stepped tone has ${task.steps.levelsDbfs.length} level; an input is judged by two or more.`,
    );
  }
  return concluded({ task, verdict: null, figures: null, doubts: [], findings: [] });
}

/** The state given is left as it was. */
export function inputStep(state: InputState, { reading }: InputEvent): InputState {
  const { task } = state;
  const { judgement, doubts } = reading;
  const findings = judgement.findings
    .filter(({ fault }) => countsAsFault(fault, task.way))
    .map((found) => findingOf(found));
  const verdict =
    judgement.verdict === 'not-proven' || doubts.includes('gap') || doubts.includes('not-a-number')
      ? 'not-proven'
      : findings.length === 0
        ? 'honest'
        : 'not-honest';
  return concluded({
    task,
    verdict,
    figures: judgement.figures,
    doubts,
    findings: verdict === 'not-proven' ? [] : findings,
  });
}

/** A microphone is one channel by nature; many systems hand it out twice. */
function countsAsFault(fault: InputFinding['fault'], way: InputTask['way']): boolean {
  return !(way === 'air' && fault === 'one-channel-twice');
}

function findingOf({ fault, evidence }: InputFinding): Finding {
  return { fault, evidence, ...FAULT_WORDS[fault] };
}

function concluded(facts: Facts): InputState {
  return { ...facts, instruction: instructionFor(facts), acceptance: acceptanceOf(facts) };
}

function instructionFor({ task, verdict, doubts }: Facts): string {
  const { frequencyHz, levelsDbfs } = task.steps;
  switch (verdict) {
    case null:
      return task.way === 'wire'
        ? `Connect the player to this input by wire, at a level that stays below full scale, and play the stepped tone of ${frequencyHz} Hz.`
        : `Keep the cabin quiet, stand the microphone still, and play the stepped tone of ${frequencyHz} Hz.`;
    case 'honest':
      return 'This input passes on what it is given: accept it.';
    case 'not-honest':
      return 'Put right what was found, then check again; or accept it as it is.';
    case 'not-proven': {
      const [doubt] = doubts;
      const why =
        doubt === undefined
          ? `The stepped tone (${levelsDbfs.length} levels, ${frequencyHz} Hz) was not found in the recording.`
          : doubtSentence(doubt);
      return `${why} Check the connection and the level, and record it again.`;
    }
  }
}

function acceptanceOf({ verdict, findings }: Facts): InputState['acceptance'] {
  if (verdict === null || verdict === 'not-proven') {
    return { can: false, why: 'The stepped tone has to be heard whole first.', needsSecondThought: false };
  }
  if (findings.length === 0) return { can: true, why: null, needsSecondThought: false };
  return {
    can: true,
    why: findings.map(({ sentence }) => sentence).join(' '),
    needsSecondThought: true,
  };
}

/** What accepting freezes. @throws Error with the reason where nothing may be accepted yet */
function inputResult({ task, verdict, figures, doubts, findings, acceptance }: InputState): InputResult {
  if (!acceptance.can || figures === null || verdict === null || verdict === 'not-proven') {
    throw new Error(acceptance.why ?? 'There is nothing to record yet.');
  }
  return {
    way: task.way,
    verdict,
    toneHz: task.steps.frequencyHz,
    clockPpm: figures.clockPpm,
    steps: figures.steps.map(({ askedDbfs, levelDbfs, uncertaintyDb, creepDb }) => ({
      askedDbfs,
      levelDbfs,
      uncertaintyDb,
      creepDb,
    })),
    stepErrorsDb: figures.stepErrorsDb,
    noiseUnderToneDbfs: figures.noiseUnderToneDbfs,
    noiseInPauseDbfs: figures.noiseInPauseDbfs,
    cutOffHz: figures.cutOffHz,
    doubts,
    findings,
  };
}

export const INPUT_PROCEDURE: Procedure<InputTask, InputEvent, InputState, InputResult> = {
  start: inputStart,
  step: inputStep,
  result: inputResult,
};
