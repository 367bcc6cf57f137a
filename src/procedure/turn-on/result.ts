import { gradeOf } from '../../dsp/live/grade.ts';
import type { TurnOnResult, TurnOnState } from './turn-on.ts';

/** What accepting freezes. @throws Error with the reason where nothing was tried yet */
export function turnOnResult(state: TurnOnState): TurnOnResult {
  const { task, acceptance, doubts } = state;
  if (!acceptance.can) throw new Error(acceptance.why ?? 'There is nothing to record yet.');
  const { step, toneHz, keepAliveHz, toneDbfs } = task;
  return {
    step,
    toneHz,
    keepAliveHz,
    toneDbfs,
    silences: state.silences,
    keepAlive: state.keepAlive,
    sleeps: state.sleepsWithinSeconds !== null,
    sleepsWithinSeconds: state.sleepsWithinSeconds,
    awakeForSeconds: state.awakeForSeconds,
    holdingDbfs: state.holdingDbfs,
    grade: gradeOf(doubts),
    doubts,
    findings: state.findings,
  };
}
