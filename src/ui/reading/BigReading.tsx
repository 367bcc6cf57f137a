import { useRef } from 'react';
import { usePaint } from '../live/paint.ts';
import { faceOutput, type OutputFace } from '../outputs/LiveOutput.tsx';
import './big-reading.css';

/** One figure, legible from two metres. */
export function BigReading({
  name,
  label,
  unit,
  read,
}: {
  name: string;
  label: string;
  unit: string;
  read: () => OutputFace;
}) {
  const output = useRef<HTMLOutputElement>(null);
  usePaint(() => {
    if (output.current !== null) faceOutput(output.current, read());
  });
  return (
    <p className="big-reading">
      <output
        ref={output}
        aria-live="off"
        aria-label={label}
        data-reading={name}
        data-value=""
        data-state="not-listening"
      >
        —
      </output>
      <span className="unit">{unit}</span>
    </p>
  );
}
