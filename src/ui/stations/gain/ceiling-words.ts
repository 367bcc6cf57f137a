/** Two ceilings side by side, in words. */
import { type Ceiling, firstToGive } from '../../../job/ceilings.ts';
import { fixed } from '../../../job/format/number.ts';
import { volts } from '../../../job/format/quantity.ts';

export function ceilingFigure(ceiling: Ceiling): string {
  const { toneDbfs, isAtLeast } = ceiling;
  const level = toneDbfs > 0 ? `${fixed(toneDbfs, 1)} dB past full scale` : `${fixed(toneDbfs, 1)} dBFS`;
  const point = ceiling.volts === null ? '' : ` (${volts(ceiling.volts)})`;
  return `${isAtLeast ? 'at least ' : ''}${level}${point}`;
}

/**
 * @param point what the source's record was measured behind
 * @param overlapDb what the plan lets the amplifier give up earlier
 */
export function comparison(
  source: Ceiling,
  amplifier: Ceiling,
  point: 'radio' | 'converter',
  overlapDb: number,
): string {
  const name = point === 'radio' ? 'radio' : 'radio with its converter';
  const found = firstToGive(source, amplifier);
  switch (found.first) {
    case 'neither':
      return 'Nothing that can be played at this volume step reaches either ceiling.';
    case 'both':
      return `The ${name} and the amplifier give up together.`;
    case null:
      return 'Which of the two gives up first these records do not say.';
    case 'source':
      return `The ${name} gives up ${atLeast(found)}${fixed(found.byDb, 1)} dB before the amplifier: the volume is too high for this gain.`;
    case 'amplifier':
      return `The amplifier gives up ${atLeast(found)}${fixed(found.byDb, 1)} dB before the ${name}; ${fixed(overlapDb, 1)} dB of that is the planned overlap.`;
  }
}

function atLeast({ isAtLeast }: { isAtLeast: boolean }): string {
  return isAtLeast ? 'at least ' : '';
}
