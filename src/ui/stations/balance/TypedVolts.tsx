import { useState } from 'react';
import type { LevelState } from '../../../procedure/level/level.ts';
import { readNumber } from '../../format/read-number.ts';
import { levelSession } from '../../session/balance-sessions.ts';

/** Volts as a multimeter shows them, instead of the input, for the channel that is next. */
export function TypedVolts({ state }: { state: LevelState }) {
  const [text, setText] = useState('');
  const [wrong, setWrong] = useState<string | null>(null);
  const { wanted, task } = state;
  if (wanted === null || wanted.what === 'ambient') return null;
  const { channelId } = wanted;
  const name = task.channels.find((one) => one.channelId === channelId)?.name.toLowerCase();
  const use = () => {
    const volts = readNumber(text);
    if (volts === null || volts <= 0) {
      setWrong(`“${text}” is not a voltage; type what the multimeter shows, such as 4.12.`);
      return;
    }
    setWrong(null);
    setText('');
    levelSession.hand({ type: 'volts', channelId, volts });
  };
  return (
    <details className="sheet">
      <summary>By multimeter instead</summary>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          use();
        }}
      >
        <div className="field">
          <label htmlFor="typed-volts">Volts at {name} (AC)</label>
          <input
            id="typed-volts"
            inputMode="decimal"
            autoComplete="off"
            value={text}
            aria-invalid={wrong !== null}
            aria-describedby="typed-volts-wrong"
            onChange={(event) => setText(event.target.value)}
          />
          <span id="typed-volts-wrong" role="alert" className="wrong">
            {wrong}
          </span>
        </div>
        <button type="submit" className="act">
          Use these volts
        </button>
      </form>
    </details>
  );
}
