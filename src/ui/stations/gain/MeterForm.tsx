import { useState } from 'react';
import { readNumber } from '../../format/read-number.ts';

/** Volts as the multimeter shows them, typed in. */
export function MeterForm({
  onVolts,
  onClose,
  onWire,
}: {
  onVolts: (volts: number) => void;
  onClose: () => void;
  /** Offered while the aim stands on typed volts. */
  onWire: (() => void) | null;
}) {
  const [text, setText] = useState('');
  const [wrong, setWrong] = useState<string | null>(null);
  const use = () => {
    const read = readNumber(text);
    if (read === null || read <= 0) {
      setWrong(`“${text}” is not a voltage; type what the multimeter shows, such as 15.12.`);
      return;
    }
    setWrong(null);
    setText('');
    onVolts(read);
  };
  return (
    <form
      className="sheet meter-form"
      onSubmit={(event) => {
        event.preventDefault();
        use();
      }}
    >
      <label className="field">
        Volts on the multimeter (AC, at the amplifier’s terminals)
        <input
          inputMode="decimal"
          autoComplete="off"
          value={text}
          aria-invalid={wrong !== null}
          aria-describedby="meter-wrong"
          // biome-ignore lint/a11y/noAutofocus: the field was asked for by pressing its button.
          autoFocus
          onChange={(event) => setText(event.target.value)}
        />
      </label>
      <p id="meter-wrong" role="alert" className={wrong === null ? 'small soft' : 'small wrong'}>
        {wrong ?? 'The aim then follows these volts; the input only watches for the knee.'}
      </p>
      <div className="acts">
        <button type="submit" className="act main">
          Use these volts
        </button>
        {onWire !== null && (
          <button type="button" className="act" onClick={onWire}>
            Back to the input’s volts
          </button>
        )}
        <button type="button" className="act plain" onClick={onClose}>
          Close
        </button>
      </div>
    </form>
  );
}
