import { describe, expect, test } from 'vitest';
import { findKnee } from '../../src/dsp/knee/find-knee.ts';
import { kneeFromTrace } from '../../src/dsp/knee/knee-from-trace.ts';
import { shapedTerms } from './clipping-views.ts';
import { type Heard, hard, hear } from './knee-ramp.ts';

const TONE_HZ = 997;
const HIGHEST_ORDER = 20;

const dotsOf = (heard: readonly Heard[]) =>
  heard.map(({ tone, clipping }) => ({
    levelDbfs: tone.levelDbfs,
    thdPercent: tone.thdPercent,
    verdict: clipping.verdict,
    shape: clipping.shape ?? null,
  }));
const overdrivenOf = (heard: readonly Heard[]) =>
  heard.flatMap(({ tone, clipping: { overdriveDb, kneeDbfs } }) =>
    overdriveDb === null || kneeDbfs === null ? [] : [{ levelDbfs: tone.levelDbfs, overdriveDb, kneeDbfs }],
  );
const turned = (curve: (x: number) => number, seed: number, goalsDb: readonly number[]) =>
  hear({ curve, toneHz: TONE_HZ, seed, snrDb: 60, goalsDb });

/** By definition: the level of 1 % THD less the level above its ceiling at which an ideal limiter has 1 %. */
function trueKneeDb(curve: (x: number) => number): number {
  const at = (driveDb: number) => {
    const terms = shapedTerms((x) => curve(10 ** (driveDb / 20) * x));
    const fundamental = terms(1)[0];
    const rest = Array.from({ length: HIGHEST_ORDER - 1 }, (_, k) => terms(k + 2)[0] ** 2);
    return {
      percent: (100 * Math.sqrt(rest.reduce((a, b) => a + b, 0))) / fundamental,
      levelDb: 20 * Math.log10(fundamental),
    };
  };
  let [low, high] = [-20, 3];
  while (high - low > 1e-3) {
    const middle = (low + high) / 2;
    if (at(middle).percent < 1) low = middle;
    else high = middle;
  }
  // References 3.2: 0.2011 dB with all harmonics; 0.2018 with those up to the 20th.
  return at(low).levelDb - 0.2018;
}

describe('a ceiling with a sharp corner, turned by hand at 60 dB', () => {
  test.each([1, 2, 3, 4])('hand %d: within 0.05 dB, by wave and by trace', (seed) => {
    const heard = turned(hard, seed, [-6, 1, -1, 0.6, -0.4, 1.4]);
    const knee = findKnee(dotsOf(heard), overdrivenOf(heard), { highestOrder: HIGHEST_ORDER });
    const trace = kneeFromTrace(dotsOf(heard), { highestOrder: HIGHEST_ORDER });
    // Issue 3's figure.
    expect(knee?.from).toBe('overdrive');
    expect(Math.abs(knee?.levelDbfs ?? 9)).toBeLessThan(0.05);
    expect(Math.abs(trace?.levelDbfs ?? 9)).toBeLessThan(0.05);
    expect(knee?.disputed).toBe(false);
  });
});

describe('soft ceilings, turned by hand at 60 dB: within 0.2 dB', () => {
  const rounded = (p: number) => (x: number) => x / (1 + Math.abs(x) ** p) ** (1 / p);
  test.each([
    ['hyperbolic tangent', Math.tanh, [-12, 1, -3, 2]],
    [
      'cubic, flat from 1.5 on',
      (x: number) => (Math.abs(x) >= 1.5 ? Math.sign(x) : x - (4 / 27) * x ** 3),
      [-9, 1, -2, 2],
    ],
    ['bend of sharpness 4', rounded(4), [-9, 1, -2, 2]],
    ['bend of sharpness 8', rounded(8), [-7, 1, -2, 2]],
    ['a quadratic bend of a tenth', (x: number) => quadraticBend(x, 0.1), [-6, 1, -1, 1.5]],
  ] as [string, (x: number) => number, number[]][])('%s', (_, curve, goalsDb) => {
    const heard = turned(curve, 5, goalsDb);
    const knee = findKnee(dotsOf(heard), overdrivenOf(heard), { highestOrder: HIGHEST_ORDER });
    const errorDb = (knee?.levelDbfs ?? 99) - trueKneeDb(curve);
    // Issue 3's figure, and what the finding says of itself.
    expect(Math.abs(errorDb)).toBeLessThan(0.2);
    expect(Math.abs(errorDb)).toBeLessThan(3 * (knee?.uncertaintyDb ?? 0));
    expect(knee?.from).toBe('trace');
  });
});

describe('where there is none', () => {
  test.each([
    ['a straight line', (x: number) => x],
    ["a driver's 2nd and 3rd of 5 %", (x: number) => x + 0.1 * x * x + 0.2 * (x ** 3 - 0.75 * x)],
  ])('%s', (_, curve) => {
    const heard = turned(curve, 6, [-8, -0.2, -3, -0.1]);
    expect(heard.length).toBeGreaterThan(60);
    expect(findKnee(dotsOf(heard), overdrivenOf(heard), { highestOrder: HIGHEST_ORDER })).toBeNull();
  });
});

function quadraticBend(x: number, width: number): number {
  const size = Math.abs(x);
  if (size <= 1 - width) return x;
  return Math.sign(x) * (size >= 1 + width ? 1 : size - (size - 1 + width) ** 2 / (4 * width));
}
