import { useRef, useState } from 'react';
import { voltFigure } from '../../../job/format/quantity.ts';
import { usePaint } from '../../live/paint.ts';
import { gainNow, useGain } from '../../session/gain-session.ts';
import { SecondThought } from '../parts/SecondThought.tsx';
import { shownVolts } from './shown-volts.ts';
import { useUnheard } from './unheard.ts';

/** The main action: freezes the reading as a record. Off target it asks for a second thought first. */
export function AcceptPanel({
  isMain,
  onAccept,
  onMeter,
}: {
  /** False where something else should be done first. */
  isMain: boolean;
  onAccept: () => void;
  onMeter: () => void;
}) {
  const unheard = useUnheard();
  const mayBe = useGain((state) => state?.acceptance.can ?? false);
  const reason = useGain((state) => state?.acceptance.why ?? null);
  const can = mayBe && unheard === null;
  const why = unheard ?? reason;
  const doubtful = useGain((state) => state?.acceptance.needsSecondThought ?? false);
  const [thinking, setThinking] = useState(false);
  const label = useRef<HTMLSpanElement>(null);
  usePaint(() => {
    const volts = shownVolts(gainNow());
    const text = volts === null ? 'Accept' : `Accept ${voltFigure(volts)} V`;
    if (label.current !== null && label.current.textContent !== text) label.current.textContent = text;
  });
  const press = () => {
    if (!can) return;
    if (doubtful) setThinking(true);
    else onAccept();
  };
  if (thinking && can && doubtful) {
    return (
      <SecondThought
        anyway="Accept anyway"
        onAnyway={() => {
          setThinking(false);
          onAccept();
        }}
        notYet="Keep turning"
        onNotYet={() => setThinking(false)}
      >
        <p>
          <b>A second thought:</b> {why}
        </p>
      </SecondThought>
    );
  }
  return (
    <div className="accept">
      <div className="acts">
        <button
          type="button"
          className={isMain ? 'act main big' : 'act'}
          aria-disabled={!can}
          aria-describedby="accept-why"
          onClick={press}
        >
          <span ref={label}>Accept</span>
        </button>
        <button type="button" className="act meter" onClick={onMeter}>
          Type a meter reading
        </button>
      </div>
      <p id="accept-why" className={isMain ? 'small soft accept-why' : 'unseen'}>
        {why}
      </p>
    </div>
  );
}
