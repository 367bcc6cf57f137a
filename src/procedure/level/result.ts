import type { LevelResult, LevelState } from './level.ts';

/** @throws Error with the reason where nothing may be accepted yet */
export function levelResult(state: LevelState): LevelResult {
  const { task, levels, pairs, worst, findings, acceptance } = state;
  if (!acceptance.can) throw new Error(acceptance.why ?? 'There is nothing to accept yet.');
  return {
    way: task.way,
    weighting: task.way === 'wire' ? null : task.weighting,
    ...(task.way === 'wire' || task.microphone === undefined ? {} : { microphoneFile: task.microphone.file }),
    toleranceDb: task.toleranceDb,
    channels: levels,
    pairs,
    worstDifferenceDb: worst?.differenceDb ?? null,
    inside: pairs.length === 0 ? null : pairs.every((pair) => pair.inside),
    findings,
  };
}
