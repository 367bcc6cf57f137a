/** Why the aim is what it is: one line of arithmetic with its figures. */

import { fixed } from '../../../job/format/number.ts';
import { volts } from '../../../job/format/quantity.ts';
import type { GainTask } from '../../../procedure/gain/gain.ts';
import { summingLossDb } from '../../../procedure/gain/tone-level.ts';
import { toneLevel } from '../../format/tone-frequency.ts';

function plain(db: number): string {
  return fixed(db, Number.isInteger(db) ? 0 : 1);
}

export function aimSum(task: GainTask): string {
  const { overlapDb, toneDbfs, targetVolts, aimVolts } = task;
  const why = `Overlap ${plain(overlapDb)} dB: music rarely peaks at full scale, so a tone at ${toneLevel(-overlapDb)} is to reach the target of ${volts(targetVolts)}.`;
  if (toneDbfs === -overlapDb && summingLossDb(task) === 0) return `${why} This is that tone.`;
  const away = plain(Math.abs(toneDbfs));
  const share =
    summingLossDb(task) === 0 ? '' : ` × ${task.inputsWithTone}/${task.summedInputs} (inputs with the tone)`;
  const sum = `${volts(targetVolts)} × 10^((${plain(overlapDb)} − ${away})/20)${share} = ${volts(aimVolts)}`;
  return `${why} This tone, at ${toneLevel(toneDbfs)}: ${sum}.`;
}
