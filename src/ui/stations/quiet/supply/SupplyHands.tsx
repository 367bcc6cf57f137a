import { useState } from 'react';
import type { SupplyPoint, SupplyStep } from '../../../../procedure/supply/supply.ts';
import type { RigSineTone } from '../../../../rig/rig.ts';
import { readNumber } from '../../../format/read-number.ts';
import { practiceClamp, practiceVolts } from '../../../session/practice-meter.ts';
import { supplySession } from '../../../session/supply-session.ts';
import { isOnRig, type Signal } from '../../../signal/signal.ts';
import { PairForm } from './PairForm.tsx';
import type { TypedFigure } from './typed-figure.ts';

function typeVolts(point: SupplyPoint, rest: TypedFigure, tone: TypedFigure): void {
  const voltsPerDigit = Math.max(rest.perDigit, tone.perDigit);
  const pair = { restVolts: rest.value, toneVolts: tone.value, voltsPerDigit };
  supplySession.hand({ type: 'volts', point, pair });
}

function typeClamp(rest: TypedFigure, tone: TypedFigure): void {
  const amperesPerDigit = Math.max(rest.perDigit, tone.perDigit);
  supplySession.hand({
    type: 'current',
    current: { from: 'clamp', restAmperes: rest.value, toneAmperes: tone.value, amperesPerDigit },
  });
}

/** What the practice rig's meter shows at this step, taken over as if typed. */
function readPracticeMeter(step: SupplyPoint | 'current', { spec, channels }: Signal): void {
  if (spec.kind !== 'sine') throw new Error('The supply is loaded with a sine.');
  const { frequencyHz, levelDbfs } = spec;
  const tone: RigSineTone = { kind: 'sine', frequencyHz, levelDbfs, channels };
  if (step === 'current') supplySession.hand({ type: 'current', current: practiceClamp(tone) });
  else supplySession.hand({ type: 'volts', point: step, pair: practiceVolts(step, tone) });
}

/** Without a clamp: the output under the tone, from which the current follows roughly. */
function FromPower({ usualWatts, onDone }: { usualWatts: number; onDone: () => void }) {
  const [text, setText] = useState(usualWatts > 0 ? String(Math.round(usualWatts)) : '');
  const [wrong, setWrong] = useState<string | null>(null);
  const use = () => {
    try {
      supplySession.hand({
        type: 'current',
        current: { from: 'power', watts: readNumber(text) ?? Number.NaN },
      });
      onDone();
    } catch (fault) {
      if (!(fault instanceof RangeError)) throw fault;
      setWrong(`“${text}” is no power; type the watts of all this amplifier’s channels together.`);
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
      <label className="field">
        Output of all its channels under the tone, W
        <input
          inputMode="decimal"
          autoComplete="off"
          value={text}
          aria-describedby="power-wrong"
          onChange={(event) => setText(event.target.value)}
        />
      </label>
      <p id="power-wrong" role="alert" className={wrong === null ? 'small soft' : 'small wrong'}>
        {wrong ?? 'The plan’s figure, once the gains are set. The current then holds to about a third only.'}
      </p>
      <button type="submit" className="act">
        Work the current out
      </button>
    </form>
  );
}

/** The hands' part of one step: the practice meter's button, or the two fields of one's own. */
export function SupplyHands({
  usualWatts,
  step,
  signal,
  onRead,
}: {
  /** What the plan says the amplifier gives under the tone. */
  usualWatts: number;
  step: Exclude<SupplyStep, 'done'>;
  signal: Signal | null;
  /** A reading was taken over: on to the next. */
  onRead: () => void;
}) {
  const onRig = isOnRig();
  const isCurrent = step === 'current';
  const form = (
    <PairForm
      unit={isCurrent ? 'A' : 'V'}
      example={isCurrent ? '31.5' : step === 'ground-leg' ? '0.034' : '13.52'}
      main={!onRig}
      onPair={(rest, tone) => {
        if (isCurrent) typeClamp(rest, tone);
        else typeVolts(step, rest, tone);
        onRead();
      }}
    />
  );
  return (
    <>
      {onRig && signal !== null && (
        <button
          type="button"
          className="act main big"
          onClick={() => {
            readPracticeMeter(step, signal);
            onRead();
          }}
        >
          {isCurrent ? 'Read the practice clamp' : 'Read the practice meter'}
        </button>
      )}
      {onRig ? (
        <details>
          <summary>Type readings instead</summary>
          {form}
        </details>
      ) : (
        form
      )}
      {isCurrent && (
        <details>
          <summary>No clamp at hand</summary>
          <FromPower usualWatts={usualWatts} onDone={onRead} />
        </details>
      )}
    </>
  );
}
