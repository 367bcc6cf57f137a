import type { Resistors } from '../../../procedure/load/load.ts';
import { loadSession } from '../../session/source-sessions.ts';
import type { RunPlan } from './RunAction.tsx';
import { toneSignal } from './source-signals.ts';

const TAKE_SECONDS = 0.8;

/** The next tone to record with the resistors as they are; `null` once a hand has to change them. */
export function loadPlan(resistors: Resistors): RunPlan | null {
  const state = loadSession.state();
  const tone = state?.missing[resistors][0];
  if (state === null || tone === undefined) return null;
  const { frequencyHz } = state.task.tones[tone];
  return {
    signal: toneSignal(state.task.tones[tone], state.task.side),
    purpose: { resistors, tone },
    request: { kind: 'tone', frequencyHz },
    seconds: TAKE_SECONDS,
    byHand: `${frequencyHz} Hz`,
  };
}
