/** The two pictures of the walk up the volume. */

import { fixed } from '../../../job/format/number.ts';
import { againstMiddleDb } from '../../../procedure/source/response.ts';
import type { SourceState } from '../../../procedure/source/source.ts';
import type { ChartMark, ChartView } from '../../chart/chart-view.ts';

/** Distortion under a hundredth of a per cent draws no deeper. */
const DEEPEST_DB = -80;

function ceilingMarks({ ceiling }: SourceState): ChartMark[] {
  const { cleanStep, clippedStep } = ceiling;
  const clean = { axis: 'x', at: cleanStep ?? 0, words: `clean to ${cleanStep}`, tone: 'ink' } as const;
  const clips = { axis: 'x', at: clippedStep ?? 0, words: `clips at ${clippedStep}`, tone: 'over' } as const;
  // Side by side their words would lie upon each other; the distortion shows the clipping then.
  const isApart = clippedStep !== null && clippedStep - (cleanStep ?? 0) > 1;
  return [...(cleanStep === null ? [] : [clean]), ...(isApart ? [clips] : [])];
}

/** Level against the loudest, and distortion against the tone: both in dB, over the volume step. */
export function levelView(state: SourceState): ChartView {
  const heard = state.steps.flatMap(({ step, middle }) => (middle === null ? [] : [{ step, middle }]));
  const loudest = Math.max(...heard.map(({ middle }) => middle.levelDbfs));
  return {
    x: { scale: 'linear', unit: 'volume step', lowest: 0, highest: state.task.volumeSteps },
    // Room above the loudest for the words of the marks.
    y: { scale: 'linear', unit: 'dB', lowest: DEEPEST_DB, highest: 15, ticks: [-80, -60, -40, -20, 0] },
    series: [
      {
        name: 'level, against the loudest',
        shape: 'solid',
        tone: 'ink',
        points: heard.map(({ step, middle }) => ({ x: step, y: middle.levelDbfs - loudest })),
      },
      {
        name: 'distortion, against the tone',
        shape: 'dashed',
        tone: 'over',
        points: heard.map(({ step, middle }) => ({ x: step, y: distortionDb(middle.thdPercent) })),
      },
      {
        name: 'measured',
        shape: 'dots',
        tone: 'ink',
        points: heard.map(({ step, middle }) => ({ x: step, y: middle.levelDbfs - loudest })),
      },
    ],
    marks: ceilingMarks(state),
  };
}

function distortionDb(thdPercent: number): number {
  return thdPercent > 0 ? Math.max(DEEPEST_DB, 20 * Math.log10(thdPercent / 100)) : DEEPEST_DB;
}

export function levelWords({ ceiling, steps }: SourceState): string {
  if (steps.length === 0) return 'Level and distortion over the volume steps appear here.';
  const clean =
    ceiling.cleanStep === null ? 'No step is known to be clean.' : `Clean up to step ${ceiling.cleanStep}.`;
  return ceiling.clippedStep === null ? clean : `${clean} Clipped at step ${ceiling.clippedStep}.`;
}

/** Bass and treble against the middle, over the volume step. */
export function responseView(state: SourceState): ChartView {
  const { steps, task, bassCut } = state;
  const points = (tone: 'bass' | 'treble') =>
    steps.flatMap((at) => {
      const y = againstMiddleDb(task, at, tone);
      return y === null ? [] : [{ x: at.step, y }];
    });
  const bass = points('bass');
  const treble = points('treble');
  const all = [...bass, ...treble].map(({ y }) => y);
  return {
    x: { scale: 'linear', unit: 'volume step', lowest: 0, highest: task.volumeSteps },
    y: {
      scale: 'linear',
      unit: `dB against ${task.tones.middle.frequencyHz} Hz`,
      lowest: Math.min(-6, ...all.map((db) => Math.floor(db) - 1)),
      highest: Math.max(3, ...all.map((db) => Math.ceil(db) + 1)),
    },
    series: [
      { name: `${task.tones.bass.frequencyHz} Hz`, shape: 'solid', tone: 'under', points: bass },
      { name: `${task.tones.treble.frequencyHz} Hz`, shape: 'dotted', tone: 'ink', points: treble },
    ],
    marks:
      bassCut === null
        ? []
        : [{ axis: 'x', at: bassCut.fromStep, words: `bass goes from ${bassCut.fromStep}`, tone: 'under' }],
  };
}

export function responseWords({ bassCut, steps, limitsFromStep }: SourceState): string {
  if (steps.every((at) => at.bass === null)) return 'Bass and treble against the middle appear here.';
  const bass =
    bassCut === null
      ? 'The bass stays with the middle.'
      : `The bass goes from step ${bassCut.fromStep} on: ${fixed(bassCut.atCeilingDb, 1)} dB are missing at the highest clean step.`;
  return limitsFromStep === null ? bass : `${bass} The level is held back from step ${limitsFromStep} on.`;
}
