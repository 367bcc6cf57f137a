import { TickField } from '../fields/ChoiceField.tsx';
import { toneLevel } from '../format/tone-frequency.ts';
import { useObservable } from '../live/observable.ts';
import { levelOf, useAsksLoud } from './loud-tone.ts';
import { loudConfirmed, type Signal } from './signal.ts';

/** Asked only where this device itself is to play a tone close to full scale. */
export function LoudTick({ signal }: { signal: Signal | null }) {
  const asks = useAsksLoud(signal);
  const isConfirmed = useObservable(loudConfirmed);
  if (!asks || signal === null) return null;
  return (
    <TickField
      label={`I have read the cautions and want tones as loud as ${toneLevel(levelOf(signal))} from this device`}
      value={isConfirmed}
      onChange={(confirmed) => loudConfirmed.set(confirmed)}
    />
  );
}
