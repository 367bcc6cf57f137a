import { gradeOf } from '../../dsp/live/grade.ts';
import { voltsOf } from './ceiling.ts';
import { againstMiddleDb } from './response.ts';
import type { SourceResult, SourceResultStep, SourceState, SourceStep, SourceTask } from './source.ts';
import { doubtsAtCeiling } from './words.ts';

/** What accepting freezes. @throws Error with the reason where the ceiling is not known yet */
export function sourceResult(state: SourceState): SourceResult {
  const { task, ceiling, bassCut, acceptance } = state;
  if (!acceptance.can || ceiling.cleanStep === null || ceiling.levelDbfs === null) {
    throw new Error(acceptance.why ?? 'There is no clean step to record.');
  }
  const doubts = doubtsAtCeiling(state);
  return {
    point: task.point,
    side: task.side,
    volumeSteps: task.volumeSteps,
    tones: task.tones,
    steps: state.steps.flatMap((at) => resultStep(task, at)),
    highestCleanStep: ceiling.cleanStep,
    cleanToTop: ceiling.cleanStep === task.volumeSteps,
    ceilingDbfs: ceiling.levelDbfs,
    ceilingVolts: ceiling.volts,
    ceilingVoltsUncertainty: ceiling.voltsUncertainty,
    kneeVolts: ceiling.kneeVolts,
    clippedTone: ceiling.clippedTone,
    bassCutFromStep: bassCut?.fromStep ?? null,
    bassCutAtCeilingDb: bassCut?.atCeilingDb ?? null,
    limitsFromStep: state.limitsFromStep,
    grade: gradeOf(doubts),
    doubts,
    findings: state.findings,
  };
}

function resultStep(task: SourceTask, at: SourceStep): SourceResultStep[] {
  const { step, middle, bass } = at;
  if (middle === null) return [];
  return [
    {
      step,
      levelDbfs: middle.levelDbfs,
      volts: voltsOf(task, middle.levelDbfs),
      thdPercent: middle.thdPercent,
      verdict: middle.verdict,
      overdriveDb: middle.overdriveDb,
      bassDb: againstMiddleDb(task, at, 'bass'),
      trebleDb: againstMiddleDb(task, at, 'treble'),
      bassVerdict: bass?.verdict ?? null,
    },
  ];
}
