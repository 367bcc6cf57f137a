import { type FormEvent, useId, useState } from 'react';
import { numberFault } from '../../fields/NumberField.tsx';
import { readNumber } from '../../format/read-number.ts';
import { editJob } from '../../session/job-session.ts';

/** Asked once. The part changes as soon as the number is known, so it is taken when pressed, not while it is typed. */
export function HowManySteps() {
  const [typed, setTyped] = useState('');
  const [wrong, setWrong] = useState<string | null>(null);
  const id = useId();
  const take = (event: FormEvent) => {
    event.preventDefault();
    const fault = numberFault(typed, { least: 2, whole: true });
    setWrong(fault);
    const volumeSteps = readNumber(typed);
    if (fault === null) editJob((now) => ({ ...now, source: { ...now.source, volumeSteps } }));
  };
  return (
    <form className="stack" onSubmit={take}>
      <div className="field">
        <label htmlFor={id}>Volume steps of the radio</label>
        <input
          id={id}
          inputMode="numeric"
          autoComplete="off"
          value={typed}
          aria-invalid={wrong !== null}
          aria-describedby={`${id}-wrong`}
          onChange={(event) => setTyped(event.target.value)}
        />
        <span id={`${id}-wrong`} role="alert" className="wrong">
          {wrong}
        </span>
      </div>
      <button type="submit" className="act main big">
        Note the steps
      </button>
    </form>
  );
}
