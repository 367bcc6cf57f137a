/** Whether a tone that holds still is moved by what records it. */
import { expect, test } from 'vitest';
import { creepDb } from '../../src/procedure/check/creep.ts';
import { seededGauss, seededUniform } from './seeded-random.ts';

const RATE_HZ = 48_000;
const TONE_HZ = 43;

/** Half a second, its level as said, with a little noise. */
function tone(levelDb: (seconds: number) => number, noise = 1e-4): Float32Array {
  const gauss = seededGauss(seededUniform(3));
  return Float32Array.from({ length: RATE_HZ / 2 }, (_, frame) => {
    const seconds = frame / RATE_HZ;
    return 10 ** (levelDb(seconds) / 20) * Math.sin(2 * Math.PI * TONE_HZ * seconds) + noise * gauss();
  });
}

const creep = (samples: Float32Array) => creepDb(samples, TONE_HZ, RATE_HZ);

test.each([-12, -3, 6])(
  'a level that moves by %d dB a second does so between the middles of its outer quarters',
  (perSecond) => {
    // Three quarters of half a second; a quarter holds five periods and a third, of which the third tilts the fit a little.
    expect(creep(tone((seconds) => -20 + perSecond * seconds))).toBeCloseTo(0.375 * perSecond, 0);
  },
);

test.each<[string, (seconds: number) => number]>([
  ['that holds', () => -20],
  ['that starts late', (seconds) => (seconds < 0.05 ? -120 : -20)],
  ['that steps once', (seconds) => (seconds < 0.3 ? -20 : -26)],
])('a level %s does not creep', (_, levelDb) => {
  const found = creep(tone(levelDb));
  expect(found === null || Math.abs(found) < 0.1).toBe(true);
});

test('without a tone nothing is said', () => {
  expect(creep(tone(() => -200, 0.01))).toBeNull();
});
