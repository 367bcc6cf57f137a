import { useRef } from 'react';
import { usePaint } from '../live/paint.ts';
import { heardNow, stateOf } from '../session/heard.ts';
import { FIGURES, type FigureName } from './figures.ts';

export interface OutputFace {
  value: number | string | null;
  state: string;
  words: string;
}

/**
 * Writes a figure into its `<output>`. Programs and tests read `data-value`
 * (full precision, empty where there is none) and `data-state`.
 */
export function faceOutput(output: HTMLOutputElement, face: OutputFace): void {
  output.dataset.value = face.value === null ? '' : String(face.value);
  output.dataset.state = face.state;
  if (output.textContent !== face.words) output.textContent = face.words;
}

/** One live figure. Silent for screen readers, which get a calm sentence once a second instead. */
export function LiveOutput({ name }: { name: FigureName }) {
  const output = useRef<HTMLOutputElement>(null);
  const figure = FIGURES[name];
  usePaint(() => {
    if (output.current === null) return;
    const heard = heardNow();
    const value = heard === null ? null : figure.value(heard);
    const state = stateOf(heard, value === null, figure.missing);
    faceOutput(output.current, { value, state, words: figure.words(value) });
  });
  return (
    <output
      ref={output}
      aria-live="off"
      aria-label={figure.label}
      data-reading={name}
      data-value=""
      data-state="not-listening"
    >
      —
    </output>
  );
}
