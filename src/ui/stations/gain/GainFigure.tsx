import { useRef } from 'react';
import { signed } from '../../../job/format/number.ts';
import { hertz, percent, voltFigure, volts } from '../../../job/format/quantity.ts';
import { toneLevel } from '../../format/tone-frequency.ts';
import { usePaint } from '../../live/paint.ts';
import { faceOutput } from '../../outputs/LiveOutput.tsx';
import { LiveText } from '../../outputs/LiveText.tsx';
import { BigReading } from '../../reading/BigReading.tsx';
import { gainNow } from '../../session/gain-session.ts';
import { heardNow, stateOf } from '../../session/heard.ts';
import { shownPlusMinus, shownVolts } from './shown-volts.ts';

/** A typed voltage needs no input; measured volts are as good as the reading they come from. */
function stateOfVolts(isMissing: boolean): string {
  if (gainNow()?.task.way === 'meter') return isMissing ? 'not-typed' : 'valid';
  return stateOf(heardNow(), isMissing, (heard) =>
    heard.voltsPerFs === null ? 'not-calibrated' : 'no-tone',
  );
}

function readVolts() {
  const value = shownVolts(gainNow());
  return { value, state: stateOfVolts(value === null), words: voltFigure(value) };
}

function facts(): string {
  const state = gainNow();
  if (state === null) return '';
  const { task, latest, aim } = state;
  const parts = [`${aim.limitedByKnee ? 'aim under the knee' : 'target'} ${volts(aim.aimVolts)}`];
  if (latest?.frequencyHz != null) parts.push(`${hertz(latest.frequencyHz)} at ${toneLevel(task.toneDbfs)}`);
  if (latest?.thdPercent != null) parts.push(`THD ${percent(latest.thdPercent)}`);
  return `${shownPlusMinus(state) === '' ? '' : ' · '}${parts.join(' · ')}`;
}

function AimOutput() {
  const output = useRef<HTMLOutputElement>(null);
  usePaint(() => {
    if (output.current === null) return;
    const value = gainNow()?.aim.errorDb ?? null;
    const words = value === null ? 'no aim' : `${signed(value, 2)} dB from the aim`;
    faceOutput(output.current, { value, state: stateOfVolts(value === null), words });
  });
  return (
    <output
      ref={output}
      className="unseen"
      aria-live="off"
      data-reading="aimDb"
      data-value=""
      data-state="not-listening"
    />
  );
}

/** The one big reading of the station, its ±, and the facts it stands on. */
export function GainFigure() {
  return (
    <div className="gain-figure">
      <BigReading name="levelVolts" label="Voltage of the tone" unit="V" read={readVolts} />
      <p className="facts">
        <b>
          <LiveText read={() => shownPlusMinus(gainNow())} />
        </b>
        <LiveText read={facts} />
      </p>
      <AimOutput />
    </div>
  );
}
