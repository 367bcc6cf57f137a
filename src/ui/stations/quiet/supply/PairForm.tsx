import { useState } from 'react';
import { type TypedFigure, typedFigure } from './typed-figure.ts';

function Figure({
  label,
  text,
  wrongId,
  onChange,
}: {
  label: string;
  text: string;
  wrongId: string;
  onChange: (text: string) => void;
}) {
  return (
    <label className="field">
      {label}
      <input
        inputMode="text"
        autoComplete="off"
        value={text}
        aria-describedby={wrongId}
        onChange={(event) => onChange(event.target.value)}
      />
    </label>
  );
}

/** What a meter shows at rest and under the tone. */
export function PairForm({
  unit,
  example,
  main,
  onPair,
}: {
  /** "V" or "A". */
  unit: string;
  example: string;
  main: boolean;
  /** @throws RangeError with one sentence for figures that cannot be */
  onPair: (rest: TypedFigure, tone: TypedFigure) => void;
}) {
  const [restText, setRest] = useState('');
  const [toneText, setTone] = useState('');
  const [wrong, setWrong] = useState<string | null>(null);
  const use = () => {
    const rest = typedFigure(restText);
    const tone = typedFigure(toneText);
    if (rest === null || tone === null) {
      const text = rest === null ? restText : toneText;
      setWrong(`“${text}” is not a figure in ${unit}; type what the meter shows, such as ${example}.`);
      return;
    }
    try {
      onPair(rest, tone);
      setWrong(null);
    } catch (fault) {
      if (!(fault instanceof RangeError)) throw fault;
      setWrong(fault.message);
    }
  };
  return (
    <form
      className="stack"
      onSubmit={(event) => {
        event.preventDefault();
        use();
      }}
    >
      <div className="pair-fields">
        <Figure label={`At rest, ${unit}`} text={restText} wrongId="pair-wrong" onChange={setRest} />
        <Figure label={`Under the tone, ${unit}`} text={toneText} wrongId="pair-wrong" onChange={setTone} />
      </div>
      <p id="pair-wrong" role="alert" className="small wrong" hidden={wrong === null}>
        {wrong}
      </p>
      <button type="submit" className={main ? 'act main big' : 'act'}>
        Use these readings
      </button>
    </form>
  );
}
