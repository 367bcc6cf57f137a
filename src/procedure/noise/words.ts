/** How the noise part words its figures. */
import { belowTargetDb, dbvOf } from './levels.ts';
import type { EngineState, NoiseTask } from './noise.ts';

export const ENGINE_WORDS: Record<EngineState, string> = {
  off: 'with the engine off',
  idle: 'with the engine idling',
  revved: 'with the engine revved',
};

/** "1185.0 Hz": a tenth of a hertz, which is 0.1 % at the lowest ripple. */
export function hertz(value: number): string {
  return `${value.toFixed(1)} Hz`;
}

export function minus(text: string): string {
  return text.replace('-', '−');
}

/** "−48.1 dBV, 73 dB below the target", with as much of it as is known. */
export function levelWords(levelDbfs: number, task: NoiseTask): string {
  const levelDbv = dbvOf(levelDbfs, task);
  const belowDb = belowTargetDb(levelDbfs, task);
  if (levelDbv === null) return minus(`${levelDbfs.toFixed(1)} dBFS`);
  const volts = minus(`${levelDbv.toFixed(1)} dBV`);
  return belowDb === null ? volts : `${volts}, ${minus(belowDb.toFixed(0))} dB below the target`;
}

/** "a, b and c" */
export function listed(words: readonly string[]): string {
  if (words.length < 2) return words.join('');
  return `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;
}
