import type { CheckedPart } from '../../procedure/check/check.ts';
import { fixed, NOTHING, signed } from './number.ts';
import { volts } from './quantity.ts';

/** The figure that a part is for, in words. */
export function partFigure({ kind, reading }: Pick<CheckedPart, 'kind' | 'reading'>): string {
  if (kind === 'steps') return stepsFigure(reading.stepErrorsDb);
  if (kind === 'sweep') return filtersFigure(reading.filters);
  if (kind === 'polarity') return typeof reading.polarity === 'string' ? reading.polarity : NOTHING;
  if (kind === 'silence' && typeof reading.belowTargetDb === 'number') {
    return `${fixed(reading.belowTargetDb, 1)} dB below target`;
  }
  if (typeof reading.levelVolts === 'number') return volts(reading.levelVolts);
  const levelDbfs = kind === 'identification' ? reading.loudestDbfs : reading.levelDbfs;
  return typeof levelDbfs === 'number' ? `${fixed(levelDbfs, 1)} dBFS` : NOTHING;
}

/** The step that is furthest from what was played. */
function stepsFigure(errorsDb: unknown): string {
  const errors = Array.isArray(errorsDb) ? errorsDb.filter((one) => typeof one === 'number') : [];
  if (errors.length === 0) return NOTHING;
  const worst = errors.reduce((a, b) => (Math.abs(b) > Math.abs(a) ? b : a));
  return `off by ${signed(worst, 2)} dB`;
}

function filtersFigure(filters: unknown): string {
  const found = (Array.isArray(filters) ? filters : []) as { kind: string; cutoffHz: number }[];
  if (found.length === 0) return NOTHING;
  return found.map(({ kind, cutoffHz }) => `${kind} ${fixed(cutoffHz, 0)} Hz`).join(', ');
}
