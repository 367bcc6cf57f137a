import type { GainTask } from './gain.ts';

/** How far under minus the overlap the reduced tone lies, dB: a hundredth of the power in coils and ears. */
export const REDUCED_BY_DB = 20;

/** Level of the tone that drives the channel to its target, dBFS: minus the overlap. */
export function fullDbfs(task: GainTask): number {
  return -task.overlapDb;
}

/** dB by which a tone on some of the summed inputs alone reads lower; 0 where all carry it. */
export function summingLossDb({ summedInputs, inputsWithTone }: GainTask): number {
  return 20 * Math.log10(inputsWithTone / summedInputs);
}

/** What a tone of this level must read, V * 10^((overlap + level) / 20), less any summing loss; volts RMS. */
function aimVoltsAt(task: GainTask, toneDbfs: number): number {
  return task.targetVolts * 10 ** ((task.overlapDb + toneDbfs + summingLossDb(task)) / 20);
}

/** The same task with the setting tone at its planned level, or 20 dB under minus the overlap. */
export function atToneLevel(task: GainTask, level: GainTask['level']): GainTask {
  const toneDbfs = level === 'planned' ? task.plannedDbfs : fullDbfs(task) - REDUCED_BY_DB;
  return { ...task, level, toneDbfs, aimVolts: aimVoltsAt(task, toneDbfs) };
}
