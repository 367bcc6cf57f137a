import { describe, expect, it } from 'vitest';
import type { BlockTones } from '../../src/dsp/fit/block-tones.ts';
import { STEADY_RECORD, steadiestStretch, withoutFades } from '../../src/dsp/measure/steadiness.ts';

const NOISE = 1e-4;

/** Twenty blocks of one tone, noise of one part in ten thousand, the last block off by `lastAway`. */
function blocks(lastAway: number, lastWeight: number): BlockTones {
  const count = 20;
  const amplitude = Float64Array.from({ length: count }, (_, n) => 1 + NOISE * (n % 2 === 0 ? 1 : -1));
  amplitude[count - 1] = 1 + lastAway;
  const noiseWeight = new Float64Array(count).fill(1);
  noiseWeight[count - 1] = lastWeight;
  return { count, amplitude, phaseAway: new Float64Array(count), noiseWeight };
}

const kept = (tones: BlockTones) =>
  withoutFades(tones, steadiestStretch(tones, STEADY_RECORD, NOISE), NOISE).last;

describe('the end of a record', () => {
  it('is a fade where a whole block falls out of the noise', () => {
    expect(kept(blocks(-20 * NOISE, 1))).toBe(19);
  });

  it('is no fade where the block is short and noise alone explains it', () => {
    // A block a 25th as long: noise weighs five times as much in it.
    expect(kept(blocks(-20 * NOISE, 5))).toBe(20);
  });

  it('is no break either where noise alone carries a short block half a decibel away', () => {
    expect(steadiestStretch(blocks(-0.08, 200), STEADY_RECORD, NOISE).last).toBe(20);
    expect(steadiestStretch(blocks(-0.08, 1), STEADY_RECORD, NOISE).last).toBe(19);
  });
});
