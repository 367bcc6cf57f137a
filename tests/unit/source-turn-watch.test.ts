/** A volume control that is turned by hand is measured by itself once it rests. */
import { describe, expect, it } from 'vitest';
import { type TurnSeen, turnSeen, watchTurn } from '../../src/procedure/source/turn-watch.ts';

const AT_REST: TurnSeen = {
  seconds: 0,
  grade: 'valid',
  motion: 'steady',
  frequencyHz: 997.02,
  levelDbfs: -30,
};

/** Readings 20 a second; when the watch is satisfied, or `null`. */
function doneAt(readings: readonly Partial<TurnSeen>[], fromDbfs = -30): number | null {
  let watch = watchTurn(997, fromDbfs);
  for (const [index, part] of readings.entries()) {
    const seen = turnSeen(watch, { ...AT_REST, ...part, seconds: index / 20 });
    if (seen.isDone) return index / 20;
    watch = seen.watch;
  }
  return null;
}

const forSeconds = (seconds: number, part: Partial<TurnSeen>) =>
  Array<Partial<TurnSeen>>(seconds * 20).fill(part);

describe('a turn of the volume', () => {
  it('is seen once the level has changed and rested for 0.8 s', () => {
    const turned = [
      ...forSeconds(1, {}),
      ...forSeconds(0.5, { motion: 'changing' }),
      ...forSeconds(2, { levelDbfs: -28.5 }),
    ];
    // To one reading, a twentieth of a second.
    expect(Math.abs((doneAt(turned) ?? 0) - (1.5 + 0.8))).toBeLessThan(0.051);
  });

  it('is not seen while the level stays as it was, whatever moved between', () => {
    expect(
      doneAt([
        ...forSeconds(1, {}),
        ...forSeconds(1, { motion: 'changing' }),
        ...forSeconds(3, { levelDbfs: -29.8 }),
      ]),
    ).toBeNull();
  });

  it('waits for a hand that goes on turning', () => {
    const step = (levelDbfs: number) => [
      ...forSeconds(0.5, { levelDbfs }),
      ...forSeconds(0.2, { motion: 'changing' as const }),
    ];
    expect(doneAt([...step(-28.5), ...step(-27), ...step(-25.5)])).toBeNull();
  });

  it('takes no other tone, no torn reading and no silence for a turn', () => {
    expect(doneAt(forSeconds(3, { levelDbfs: -20, frequencyHz: 43 }))).toBeNull();
    expect(doneAt(forSeconds(3, { levelDbfs: -20, grade: 'invalid' }))).toBeNull();
    expect(doneAt(forSeconds(3, { levelDbfs: null, frequencyHz: null }))).toBeNull();
  });
});
