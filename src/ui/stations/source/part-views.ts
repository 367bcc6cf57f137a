/** The pictures of load and turn-on. */
import type { LoadState, Resistors } from '../../../procedure/load/load.ts';
import type { TurnOnState } from '../../../procedure/turn-on/turn-on.ts';
import { type ChartView, FREQUENCY_TICKS } from '../../chart/chart-view.ts';

const TONES = ['bass', 'middle', 'treble'] as const;

/** The three tones with and without the load, against the middle one with it. */
export function loadView({ task, heard }: LoadState): ChartView {
  const { middle } = heard.connected;
  const zero = middle === null || middle === 'silent' ? 0 : middle.levelDbfs - task.tones.middle.levelDbfs;
  const points = (which: Resistors) =>
    TONES.flatMap((tone) => {
      const one = heard[which][tone];
      const { frequencyHz, levelDbfs } = task.tones[tone];
      if (one === null || one === 'silent') return [];
      return [{ x: frequencyHz, y: one.levelDbfs - levelDbfs - zero }];
    });
  const connected = points('connected');
  const off = points('off');
  const all = [...connected, ...off].map(({ y }) => y);
  return {
    x: { scale: 'log', unit: 'Hz', lowest: 20, highest: 20_000, ticks: FREQUENCY_TICKS },
    y: {
      scale: 'linear',
      unit: 'dB',
      lowest: Math.min(-12, ...all.map((db) => Math.floor(db) - 2)),
      highest: Math.max(6, ...all.map((db) => Math.ceil(db) + 2)),
    },
    series: [
      { name: 'load resistors connected', shape: 'solid', tone: 'ink', points: connected },
      { name: 'load resistors off', shape: 'dashed', tone: 'over', points: off },
      { name: 'measured', shape: 'dots', tone: 'ink', points: [...connected, ...off] },
    ],
  };
}

export function loadWords({ change }: LoadState): string {
  if (change === null) return 'Level of the three tones with the load and without it appears here.';
  if (change.levelDb === null) return 'Without the load nothing is heard.';
  return `Without the load the middle changes by ${change.levelDb.toFixed(1).replace('-', '−')} dB.`;
}

/** Level of the tone over the last recording, half a second at a time. */
export function turnOnView({ curve }: TurnOnState): ChartView {
  const points = (curve?.levelsDbfs ?? []).map((y, index) => ({
    x: (index + 0.5) * (curve?.everySeconds ?? 1),
    y,
  }));
  const heard = points.flatMap(({ y }) => (y === null ? [] : [y]));
  return {
    x: { scale: 'linear', unit: 'seconds', lowest: 0, highest: points.at(-1)?.x ?? 20 },
    y: {
      scale: 'linear',
      unit: 'dBFS',
      lowest: Math.min(-100, ...heard.map((db) => Math.floor(db / 20) * 20)),
      highest: 0,
    },
    series: [{ name: 'level of the tone', shape: 'solid', tone: 'ink', points }],
  };
}

export function turnOnWords({ curve }: TurnOnState): string {
  if (curve === null) return 'The tone, the pause and the tone again appear here.';
  return curve.purpose.try === 'silence'
    ? `The tone, ${curve.purpose.seconds} s of silence, and the tone again.`
    : `The tone, ${curve.purpose.seconds} s of it quieter, and the tone again.`;
}
