/** What a chart shows, as plain data; shape and words tell series apart, colour only helps. */

export type InkTone = 'ink' | 'soft' | 'under' | 'over';
export type LineShape = 'solid' | 'dashed' | 'dotted' | 'dots';

export interface ChartAxis {
  scale: 'linear' | 'log';
  /** "Hz", "dB"; stands in the caption and beside the last tick. */
  unit: string;
  /** The data's own extent where left out. */
  lowest?: number;
  highest?: number;
  /** Where ticks stand; chosen by the chart where left out. */
  ticks?: readonly number[];
}

export interface ChartSeries {
  name: string;
  shape: LineShape;
  tone: InkTone;
  /** A gap where `y` is `null`. */
  points: readonly { x: number; y: number | null }[];
}

/** A line across the chart at one value of x or y. */
export interface ChartMark {
  axis: 'x' | 'y';
  at: number;
  words: string;
  tone: InkTone;
}

export interface ChartView {
  x: ChartAxis;
  y: ChartAxis;
  series: readonly ChartSeries[];
  marks?: readonly ChartMark[];
}

/** Octave centres that people read at a glance, for a frequency axis. */
export const FREQUENCY_TICKS = [20, 50, 100, 200, 500, 1000, 2000, 5000, 10_000, 20_000] as const;

/** `1000` is "1k", so that a phone's axis holds ten of them. */
export function tickWords(value: number): string {
  const size = Math.abs(value);
  const words = size >= 1000 ? `${value / 1000}k` : String(Number(value.toPrecision(4)));
  return words.replace('-', '−');
}
