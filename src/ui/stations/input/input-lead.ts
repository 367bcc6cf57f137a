import type { EngineState, SourceChoice } from '../../../audio/engine/engine-state.ts';
import { isSameSource } from '../../../audio/engine/same-source.ts';
import type { SourceKind } from './SourceChooser.tsx';

/** What the station leads to now; one main action at a time. */
export type InputLead = 'listen' | 'switch' | 'calibrate' | 'check' | 'put-right' | 'onwards';

/** What is known of the open input. */
export interface InputFacts {
  state: EngineState;
  /** Chosen on screen, not open yet perhaps. */
  kind: SourceKind;
  choice: SourceChoice;
  inVolts: boolean;
  inSoundLevel: boolean;
  /** By its last check on this job; `null` where there was none. */
  honest: boolean | null;
  hasJob: boolean;
}

/** What the station leads to: listen, then know a volt (or a sound level), then know that it is honest, then on. */
export function inputLead(facts: InputFacts): InputLead {
  const { state, kind, choice } = facts;
  const listening = state.phase === 'warming-up' || state.phase === 'running' || state.phase === 'paused';
  if (!listening) return 'listen';
  const isOther = kind !== choice.kind || state.source === null || !isSameSource(choice, state.source);
  if (isOther) return 'switch';
  if (!facts.inVolts && !facts.inSoundLevel) return 'calibrate';
  // Without a job there is nothing that the check could be recorded with.
  if (!facts.hasJob || facts.honest === true) return 'onwards';
  return facts.honest === null ? 'check' : 'put-right';
}

const DO: Record<Exclude<InputLead, 'check' | 'onwards'>, string> = {
  listen: 'Choose where the sound comes in, then press Listen.',
  switch: 'Another source is chosen: switch to it, or go back to the one that is open.',
  calibrate: 'Calibrate this input, so that its level is worth volts.',
  'put-right': 'This input was found not to be honest: put right what was found, then check it again.',
};

export function inputInstruction(lead: InputLead, inVolts: boolean): string {
  const knows = inVolts ? 'This input knows what a volt is' : 'This microphone knows its sound level';
  if (lead === 'check') return 'Check that this input is honest.';
  if (lead === 'onwards') return inVolts ? `${knows}: go on to a gain.` : `${knows}, and it is honest.`;
  return DO[lead];
}
