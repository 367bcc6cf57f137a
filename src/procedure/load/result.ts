import { byWeight, gradeOf } from '../../dsp/live/grade.ts';
import type { Doubt } from '../../dsp/reading.ts';
import { voltsOf } from '../source/ceiling.ts';
import type { LoadHeard, LoadResult, LoadState } from './load.ts';

/** What accepting freezes. @throws Error with the reason where something is still to be measured */
export function loadResult(state: LoadState): LoadResult {
  const { task, heard, change, findings, acceptance } = state;
  if (!acceptance.can || change === null)
    throw new Error(acceptance.why ?? 'There is nothing to record yet.');
  const doubts = loadDoubts(state);
  const figures = (of: LoadHeard): LoadResult['connected'] => ({
    middle: figure(state, of.middle),
    bass: figure(state, of.bass),
    treble: figure(state, of.treble),
  });
  return {
    side: task.side,
    step: task.step,
    tones: task.tones,
    connected: figures(heard.connected),
    off: figures(heard.off),
    change,
    sensesLoad: findings.length > 0,
    grade: gradeOf(doubts),
    doubts,
    findings,
  };
}

/** What was doubted of any of the tones. */
export function loadDoubts({ heard }: Pick<LoadState, 'heard'>): Doubt[] {
  const all = [heard.connected, heard.off].flatMap((of) => [of.middle, of.bass, of.treble]);
  return byWeight(all.flatMap((one) => (one === null || one === 'silent' ? [] : one.doubts)));
}

function figure({ task }: Pick<LoadState, 'task'>, heard: LoadHeard['middle']) {
  if (heard === null || heard === 'silent') return { levelDbfs: null, volts: null, thdPercent: null };
  const { levelDbfs, thdPercent } = heard;
  return { levelDbfs, volts: voltsOf(task, levelDbfs), thdPercent };
}
