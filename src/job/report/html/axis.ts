/** Ticks of an axis, and where a value stands on it. */
import { fixed } from '../../format/number.ts';
import type { ReportAxis } from '../model.ts';
import { roundStep } from '../ranges.ts';

/** Beyond so many decades only the powers of ten are written. */
const MOST_DECADES = 4;

function logTicks({ lowest, highest }: ReportAxis): number[] {
  const first = Math.floor(Math.log10(lowest));
  const last = Math.ceil(Math.log10(highest));
  const between = Math.log10(highest / lowest) > MOST_DECADES ? [1] : [1, 2, 5];
  const all: number[] = [];
  for (let decade = first; decade <= last; decade += 1) {
    for (const digit of between) all.push(digit * 10 ** decade);
  }
  // A hair of room: 10 ** -3 and its like are not exact.
  return all.filter((tick) => tick >= lowest * 0.9999 && tick <= highest * 1.0001);
}

function linearTicks({ lowest, highest }: ReportAxis, count: number): number[] {
  const step = roundStep(highest - lowest, count);
  const first = Math.ceil(lowest / step - 1e-9);
  const last = Math.floor(highest / step + 1e-9);
  return Array.from({ length: last - first + 1 }, (_, index) => (first + index) * step);
}

export function ticksOf(axis: ReportAxis, count: number): number[] {
  return axis.scale === 'log' ? logTicks(axis) : linearTicks(axis, count);
}

/** `1000` is "1k", so that ten of them fit under a picture. */
export function tickWords(value: number): string {
  const size = Math.abs(value);
  if (size >= 1000) return `${fixed(value / 1000, 1).replace(/\.0$/, '')}k`;
  return String(Number(value.toPrecision(6))).replace('-', '−');
}

/** 0 at the axis's lowest, 1 at its highest; outside beyond. */
export function share({ scale, lowest, highest }: ReportAxis, value: number): number {
  if (scale === 'linear') return (value - lowest) / (highest - lowest);
  return Math.log(value / lowest) / Math.log(highest / lowest);
}
