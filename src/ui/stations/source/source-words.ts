import { fixed } from '../../../job/format/number.ts';
import { decibels, plusMinusVolts, volts } from '../../../job/format/quantity.ts';
import type { RecordOf } from '../../../job/records.ts';

const POINT_WORDS = { radio: 'radio', converter: 'converter' };

export function sourceRecordWords({ result }: RecordOf<'source'>): string {
  const { highestCleanStep, volumeSteps, ceilingVolts, ceilingVoltsUncertainty, point, side } = result;
  const inVolts =
    ceilingVolts === null ? 'no volts' : `${volts(ceilingVolts)} ${plusMinusVolts(ceilingVoltsUncertainty)}`;
  return `Step ${highestCleanStep} of ${volumeSteps}, ${inVolts} at the ${POINT_WORDS[point]}, ${side} side.`;
}

export function loadRecordWords({ result }: RecordOf<'load'>): string {
  const { levelDb } = result.change;
  return `Without the load at step ${result.step}: ${levelDb === null ? 'silent' : decibels(levelDb)}.`;
}

const VERDICT_WORDS = {
  right: 'Left is left, right is right',
  swapped: 'Swapped',
  mono: 'Summed to one signal',
  leaks: 'One side leaks into the other',
  dead: 'A side is dead',
};

export function sidesVerdictWords(verdict: RecordOf<'sides'>['result']['verdict']): string {
  return VERDICT_WORDS[verdict];
}

export function sidesRecordWords({ result }: RecordOf<'sides'>): string {
  const { separationDb, separationAtLeastDb } = result;
  const separation =
    separationDb !== null
      ? `separation ${fixed(separationDb, 0)} dB`
      : separationAtLeastDb === null
        ? 'separation not known'
        : `separation over ${Math.floor(separationAtLeastDb)} dB`;
  return `${VERDICT_WORDS[result.verdict]}, ${separation}, at the ${POINT_WORDS[result.point]}.`;
}

export function turnOnRecordWords({ result }: RecordOf<'turn-on'>): string {
  const lost = result.silences.find(({ slept }) => slept)?.lostSeconds ?? null;
  if (!result.sleeps) return `Awake through ${result.awakeForSeconds} s of silence.`;
  return `Asleep within ${result.sleepsWithinSeconds} s, ${lost === null ? 'and did not come back' : `${lost.toFixed(2)} s lost`}.`;
}
