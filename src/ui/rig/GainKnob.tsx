import type { KeyboardEvent } from 'react';
import { fixed } from '../../job/format/number.ts';
import { amplifierGainDb, gainSetting } from '../../rig/settings.ts';
import { useObservable } from '../live/observable.ts';
import { rigConfig, rigControls, setRigGain } from '../session/rig-session.ts';
import './rig.css';

/** What a key turns the control by, dB. */
const KEY_DB: Record<string, number> = {
  ArrowRight: 0.5,
  ArrowUp: 0.5,
  ArrowLeft: -0.5,
  ArrowDown: -0.5,
  PageUp: 4,
  PageDown: -4,
};
const TOUCH_DB = 0.25;
/** The mouse and the thumb move the control continuously: a thousandth of its travel. */
const FINEST = 0.001;

/** The practice amplifier's gain control of one channel: a long slider, with a fine touch at either end. */
export function GainKnob({ channelId, name }: { channelId: string; name: string }) {
  const { gains } = useObservable(rigControls);
  const { channels } = useObservable(rigConfig);
  const channel = channels.find((one) => one.id === channelId);
  if (channel === undefined) return null;
  const setting = gains[channelId] ?? 0;
  const turnBy = (db: number) =>
    setRigGain(channelId, gainSetting(channel, amplifierGainDb(channel, setting) + db));
  const onKeyDown = (event: KeyboardEvent) => {
    const db = KEY_DB[event.key];
    if (db === undefined) return;
    event.preventDefault();
    turnBy(event.shiftKey ? Math.sign(db) * 0.1 : db);
  };
  const turned = `${fixed(setting * 100, 0)} % of its travel`;
  return (
    <div className="gain-knob">
      <button type="button" className="act" aria-label="Gain a touch down" onClick={() => turnBy(-TOUCH_DB)}>
        −
      </button>
      <label>
        <span>
          Gain control <b>{fixed(setting * 100, 0)} %</b>
        </span>
        <input
          type="range"
          aria-label={`Gain control, ${name.toLowerCase()}`}
          aria-valuetext={turned}
          min={0}
          max={1}
          step={FINEST}
          value={setting}
          onKeyDown={onKeyDown}
          onChange={(event) => setRigGain(channelId, Number(event.target.value))}
        />
      </label>
      <button type="button" className="act" aria-label="Gain a touch up" onClick={() => turnBy(TOUCH_DB)}>
        +
      </button>
    </div>
  );
}
