import { useRef } from 'react';
import type { Aim as AimState } from '../../procedure/gain/gain.ts';
import { usePaint } from '../live/paint.ts';
import './aim.css';
import { aimWords } from './aim-words.ts';
import { RULER_TICKS_DB, rulerPercent } from './ruler.ts';

/** Labels that a narrow screen has no room for. */
const WIDE_ONLY = new Set([-20, -3, 2]);

function tickLabel(db: number): string {
  if (db === 0) return '';
  return db > 0 ? `+${db}` : `−${-db}`;
}

function Ticks() {
  return RULER_TICKS_DB.map((db) => (
    <span
      key={db}
      className={WIDE_ONLY.has(db) ? 'tick-mark wide-only' : 'tick-mark'}
      style={{ left: `${rulerPercent(db)}%` }}
    >
      {tickLabel(db)}
    </span>
  ));
}

/**
 * Reading against target on a ruler in decibels. `read` is asked at every
 * repaint, so that the pointer moves without React.
 */
export function Aim({ read, toleranceDb }: { read: () => AimState | null; toleranceDb: number }) {
  const ruler = useRef<HTMLDivElement>(null);
  const say = useRef<HTMLParagraphElement>(null);
  usePaint(() => {
    const aim = read();
    const box = ruler.current;
    if (box === null || say.current === null) return;
    const { shape, words } = aim === null ? ({ shape: 'none', words: 'no reading' } as const) : aimWords(aim);
    box.dataset.shape = shape;
    say.current.dataset.shape = shape;
    if (say.current.textContent !== words) say.current.textContent = words;
    box.dataset.pointer = aim?.errorDb == null ? 'none' : 'shown';
    if (aim?.errorDb != null) box.style.setProperty('--at', String(rulerPercent(aim.errorDb)));
    box.dataset.knee = aim?.kneeDb == null ? 'unknown' : 'known';
    if (aim?.kneeDb != null) box.style.setProperty('--knee', `${rulerPercent(aim.kneeDb)}%`);
  });
  const left = rulerPercent(-toleranceDb);
  const right = rulerPercent(toleranceDb);
  return (
    <div className="aim">
      <div className="ruler" ref={ruler} data-pointer="none" data-knee="unknown" aria-hidden="true">
        <div className="beyond" />
        <div className="rail" />
        <Ticks />
        <div className="bracket" style={{ left: `${left}%`, width: `${right - left}%` }} />
        <div className="pointer">
          <svg viewBox="0 0 28 44" width="28" height="44" aria-hidden="true">
            <path d="M14 44V20M14 2L27 22H1z" />
          </svg>
        </div>
        <span className="unit">dB</span>
      </div>
      <p className="say" ref={say} data-shape="none">
        no reading
      </p>
    </div>
  );
}
