import type { RecordedFigure } from './recorded-figure.ts';

/** A figure but for what all figures of one record share. */
export type BareFigure = Omit<RecordedFigure, 'recordId' | 'at' | 'kind' | 'station'>;

/** A channel's name inside a sentence: "front left door". */
export type NameOf = (channelId: string) => string;

export function word(key: string, title: string, value: string | null): BareFigure {
  return { key, title, value, unit: '', uncertainty: null, circumstances: [] };
}

/** Relative uncertainty in dB as one in the unit of the value: d(20 lg v) = 20/ln 10 · dv/v. */
export function linear(value: number, ...uncertaintiesDb: number[]): number {
  return (value * Math.hypot(...uncertaintiesDb) * Math.LN10) / 20;
}
