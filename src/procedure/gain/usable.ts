import type { Doubt } from '../../dsp/reading.ts';
import { isAskedTone } from '../asked-tone.ts';
import type { GainReading, GainTask } from './gain.ts';

/**
 * Why the latest reading says nothing about the control: the first thing wrong, from the input inward.
 * `null` where the reading is of the asked tone and may be looked at.
 */
export type Obstacle =
  | { kind: 'silent' }
  | { kind: 'input-overload' }
  | { kind: 'invalid'; doubts: Doubt[] }
  | { kind: 'no-tone' }
  | { kind: 'wrong-tone'; heardHz: number };

export function obstacle(reading: GainReading | null, task: GainTask): Obstacle | null {
  if (reading === null) return { kind: 'silent' };
  if (reading.clipping.verdict === 'input-overload' || reading.doubts.includes('input-overload')) {
    return { kind: 'input-overload' };
  }
  if (reading.grade === 'invalid') return { kind: 'invalid', doubts: reading.doubts };
  if (reading.levelDbfs === null || reading.frequencyHz === null) return { kind: 'no-tone' };
  if (!isAskedTone(reading.frequencyHz, task.toneHz)) {
    return { kind: 'wrong-tone', heardHz: reading.frequencyHz };
  }
  return null;
}

/**
 * Whether a reading may be built upon while the control turns: plainly valid, or doubted only because its
 * level moves, which is what turning means.
 */
export function isSound(reading: GainReading): boolean {
  if (reading.grade === 'valid') return true;
  return (
    reading.grade === 'suspect' &&
    reading.doubts.length > 0 &&
    reading.doubts.every((doubt) => doubt === 'level-unsteady')
  );
}
