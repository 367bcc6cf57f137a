import { useRef } from 'react';
import { fixed, NOTHING } from '../../../../job/format/number.ts';
import { soundLevelDb } from '../../../../plan/calibration/sound-scale.ts';
import { useObservable } from '../../../live/observable.ts';
import { usePaint } from '../../../live/paint.ts';
import { faceOutput } from '../../../outputs/LiveOutput.tsx';
import { heardNow, stateOf } from '../../../session/heard.ts';
import { microphone, microphoneInUse, soundScaleOfInput } from '../../../session/microphone.ts';

function soundLevel(): number | null {
  const scale = soundScaleOfInput.known.get()?.scale ?? null;
  const heard = heardNow();
  const level = heard?.channel.levelDbfs ?? null;
  if (scale === null || level === null) return null;
  const toneHz = heard?.channel.tone?.frequencyHz ?? null;
  return soundLevelDb(level, toneHz, scale, microphoneInUse()?.curve ?? null);
}

/** The level at the microphone in sound pressure, live; nothing where no calibrator was on it yet. */
export function SoundLevel() {
  const output = useRef<HTMLOutputElement>(null);
  const scale = useObservable(soundScaleOfInput.known);
  useObservable(microphone.known);
  usePaint(() => {
    if (output.current === null) return;
    const value = soundLevel();
    faceOutput(output.current, {
      value,
      state: stateOf(heardNow(), value === null, () => 'digital-silence'),
      words: value === null ? NOTHING : `${fixed(value, 1)} dB SPL`,
    });
  });
  if (scale === null) return null;
  return (
    <p className="facts">
      at the microphone{' '}
      <output
        ref={output}
        aria-live="off"
        aria-label="Sound level"
        data-reading="levelSplDb"
        data-value=""
        data-state="not-listening"
      >
        {NOTHING}
      </output>
      , unweighted
    </p>
  );
}
