import type { EngineState } from '../../audio/engine/engine-state.ts';
import { useObservable } from '../live/observable.ts';
import { MarkSign } from '../marks/MarkSign.tsx';
import { checkOf } from '../session/input-check.ts';
import { inputIdentity } from '../session/input-identity.ts';
import { jobSession } from '../session/job-session.ts';
import { honestyWords } from './honesty-words.ts';
import { inputName } from './strip-words.ts';

/** Which input is open, and whether it was found to pass on what it is given. */
export function StripSource({ state }: { state: EngineState }) {
  const { job } = useObservable(jobSession);
  const device = inputIdentity(state);
  const said = device === null ? null : honestyWords(checkOf(job, device.label));
  return (
    <span className="strip-source">
      <b className="strip-name">{inputName(state)}</b>
      {said !== null && (
        <span className="strip-honesty">
          <MarkSign mark={said.mark} /> {said.words}
          {said.because !== '' && <span className="strip-because">: {said.because}</span>}
        </span>
      )}
    </span>
  );
}
