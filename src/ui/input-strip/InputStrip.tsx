import { useId, useState, useSyncExternalStore } from 'react';
import { soundEngine } from '../../audio/engine/sound-engine.ts';
import { plusMinusPercent, volts } from '../../job/format/quantity.ts';
import { useObservable } from '../live/observable.ts';
import { FIGURE_NAMES, FIGURES, type FigureName } from '../outputs/figures.ts';
import { LiveOutput } from '../outputs/LiveOutput.tsx';
import { LiveText } from '../outputs/LiveText.tsx';
import { calibration } from '../session/calibration.ts';
import { latestReading } from '../session/heard.ts';
import { listen } from '../session/listening.ts';
import './input-strip.css';
import { RoomBar } from './RoomBar.tsx';
import { StripSource } from './StripSource.tsx';
import { firstWrong } from './strip-words.ts';

function CalibrationWords() {
  const known = useObservable(calibration);
  if (known === null) return <span>not calibrated</span>;
  return (
    <span>
      full scale {volts(known.voltsPerFs)} {plusMinusPercent(known.uncertaintyDb)}
      {known.basis === 'assumed' && ' (common practice, not measured)'}
    </span>
  );
}

function wrongNow(key: 'brief' | 'full'): string {
  return firstWrong(soundEngine.getState(), latestReading())?.[key] ?? '';
}

function Details({ without }: { without: readonly FigureName[] }) {
  return (
    <div className="strip-details">
      <p className="wrong-full">
        <LiveText read={() => wrongNow('full')} />
      </p>
      <dl>
        {FIGURE_NAMES.filter((name) => !without.includes(name)).map((name) => (
          <div key={name}>
            <dt>{FIGURES[name].label}</dt>
            <dd>
              <LiveOutput name={name} />
            </dd>
          </div>
        ))}
      </dl>
    </div>
  );
}

/** Starts, holds and ends listening. Where the station offers `Listen` itself, the strip leaves it out. */
function Hold({ withListen }: { withListen: boolean }) {
  const { phase, trouble } = useSyncExternalStore(soundEngine.subscribe, soundEngine.getState);
  if (phase === 'idle' || phase === 'stopped' || trouble !== null) {
    return withListen ? (
      <button type="button" className="act main" onClick={() => void listen()}>
        Listen
      </button>
    ) : null;
  }
  if (phase === 'asking') return <span>asking…</span>;
  const paused = phase === 'paused';
  return (
    <button
      type="button"
      className={paused ? 'act main' : 'act pause'}
      onClick={() => void (paused ? soundEngine.resume() : soundEngine.pause())}
    >
      {paused ? 'Resume' : 'Pause'}
    </button>
  );
}

/** Always in sight: what the input hears, how much room it has, whether it is calibrated, what is wrong. */
export function InputStrip({ without, withListen }: { without: readonly FigureName[]; withListen: boolean }) {
  const state = useSyncExternalStore(soundEngine.subscribe, soundEngine.getState);
  const [open, setOpen] = useState(false);
  const details = useId();
  return (
    <footer className="input-strip" data-open={open}>
      <section aria-label="Input">
        <div className="strip-line">
          <StripSource state={state} />
          <RoomBar />
          <span className="strip-wide">
            <CalibrationWords />
          </span>
          <LiveText className="strip-wrong" read={() => wrongNow('brief')} />
          <span className="strip-acts">
            <Hold withListen={withListen} />
            <button
              type="button"
              className="act more"
              aria-expanded={open}
              aria-controls={details}
              onClick={() => setOpen(!open)}
            >
              {open ? 'Less' : 'More'}
            </button>
          </span>
        </div>
        <div id={details} className={open ? undefined : 'unseen'}>
          <p className="strip-narrow">
            <CalibrationWords />
          </p>
          <Details without={without} />
        </div>
      </section>
    </footer>
  );
}
