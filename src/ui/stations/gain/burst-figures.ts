/** Bursts and what they showed, in words. */

import { fixed } from '../../../job/format/number.ts';
import { percent, volts } from '../../../job/format/quantity.ts';
import type { BurstConclusion, BurstReading, BurstRun } from '../../../procedure/gain/burst/burst.ts';
import { toneLevel } from '../../format/tone-frequency.ts';

const VERDICT_WORDS: Record<BurstReading['verdict'], string> = {
  clean: 'clean',
  clipped: 'clipped',
  'input-overload': 'our own input overloads',
  undecided: 'not decided',
};

export function burstWords({
  toneDbfs,
  volts: read,
  verdict,
  thdPercent,
  overdriveDb,
}: BurstReading): string {
  const over = overdriveDb === null ? '' : ` by ${fixed(overdriveDb, 1)} dB`;
  return `${toneLevel(toneDbfs)}: ${volts(read)}, ${VERDICT_WORDS[verdict]}${over}, THD ${percent(thdPercent)}`;
}

/** @param isBack whether the gain has been turned to the aim under the knee since */
export function conclusionWords(conclusion: BurstConclusion, isBack: boolean): string {
  switch (conclusion.verdict) {
    case 'clean':
      return `Confirmed: clean up to ${volts(conclusion.cleanVolts)}, so at least ${fixed(conclusion.marginDb, 1)} dB above the target.`;
    case 'clipped':
      if (conclusion.turnBackDb > 0 && isBack) {
        return `Bursts found the knee at ${volts(conclusion.kneeVolts)}, short of the target; the aim stands under it.`;
      }
      return conclusion.turnBackDb > 0
        ? `Not confirmed: it clips at ${volts(conclusion.kneeVolts)}, ${fixed(-conclusion.marginDb, 1)} dB short of the target. Turn back ${fixed(conclusion.turnBackDb, 1)} dB.`
        : `Confirmed: the knee stands at ${volts(conclusion.kneeVolts)}, ${fixed(conclusion.marginDb, 1)} dB above the target.`;
    case 'undecided':
      return `Not confirmed. ${conclusion.why}`;
  }
}

/** As `conclusionWords`, for a line of a record. */
export function shortConclusion(conclusion: BurstConclusion): string {
  switch (conclusion.verdict) {
    case 'clean':
      return `clean to ${volts(conclusion.cleanVolts)}`;
    case 'clipped':
      return `knee ${volts(conclusion.kneeVolts)}`;
    case 'undecided':
      return 'not decided';
  }
}

/** Whether the bursts bear the setting out. */
export function isConfirmed(conclusion: BurstConclusion): boolean {
  return conclusion.verdict === 'clean' || (conclusion.verdict === 'clipped' && conclusion.turnBackDb === 0);
}

/** "sounding", or how long the coil still rests. */
export function phaseWords(run: BurstRun, seconds: number): string {
  if (run.phase === 'sounding') return 'sounding';
  if (run.phase === 'listening') return run.driver === 'track' ? 'waiting for the track' : 'listening';
  const left = Math.max(0, Math.ceil(run.untilSeconds - seconds));
  return run.driver === 'track' ? 'pause' : `the coil rests ${left} s`;
}
