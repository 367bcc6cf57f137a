import { useRef } from 'react';
import { usePaint } from '../live/paint.ts';
import { heardNow } from '../session/heard.ts';
import { barPercent, headroomWords, holdPeak, NO_PEAK } from './headroom.ts';

/** How much room is left before the input overloads: a bar with hatching at its end, and the same in words. */
export function RoomBar() {
  const bar = useRef<HTMLSpanElement>(null);
  const words = useRef<HTMLSpanElement>(null);
  const held = useRef(NO_PEAK);
  usePaint(() => {
    const channel = heardNow()?.channel ?? null;
    held.current = holdPeak(held.current, channel?.samplePeakDbfs ?? null, performance.now());
    const peak = channel === null ? null : held.current.peakDbfs;
    bar.current?.style.setProperty('--room', `${barPercent(peak)}%`);
    if (bar.current) {
      bar.current.dataset.overload = String(channel?.clipping.verdict === 'input-overload');
    }
    const said = headroomWords(peak);
    if (words.current && words.current.textContent !== said) words.current.textContent = said;
  });
  return (
    <>
      <span className="room" ref={bar} aria-hidden="true">
        <i />
        <u />
      </span>
      <span className="room-words">
        <span className="wide-word">headroom </span>
        <span ref={words}>—</span>
      </span>
    </>
  );
}
