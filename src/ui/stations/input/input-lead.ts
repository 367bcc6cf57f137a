import type { EngineState, SourceChoice } from '../../../audio/engine/engine-state.ts';
import { isSameSource } from '../../../audio/engine/same-source.ts';
import type { InputLead, SourceKind } from './SourceChooser.tsx';

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
