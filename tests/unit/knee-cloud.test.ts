import { describe, expect, test } from 'vitest';
import { kneeFromTrace } from '../../src/dsp/knee/knee-from-trace.ts';
import type { KneePoint } from '../../src/dsp/knee/knee-point.ts';
import { limited } from './gain-turn.ts';
import { seededUniform } from './seeded-random.ts';

const KNEE_DBFS = -5.6;

/**
 * Dots of one turn up to `topDb` past an ideal ceiling, over a floor. Four neighbours share one error, as live
 * readings of overlapping windows do.
 */
function cloud(random: () => number, topDb: number, floorPercent: number, scatter: number): KneePoint[] {
  const gauss = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
  return Array.from({ length: 50 }, () => {
    const [driveDb, levelError, thdError] = [-8 + (8 + topDb) * random(), 0.01 * gauss(), scatter * gauss()];
    return [0, 0.03, 0.06, 0.09].map((movedDb): KneePoint => {
      const { fundamentalDb, thdPercent } = limited(driveDb + movedDb);
      return {
        levelDbfs: KNEE_DBFS + fundamentalDb + levelError,
        thdPercent: Math.hypot(thdPercent, floorPercent) * Math.exp(thdError),
        verdict: 'undecided',
      };
    });
  }).flat();
}

test('the uncertainty covers: 300 clouds of random floors, scatters and reach', () => {
  let [found, within2, worst] = [0, 0, 0];
  const clouds = 300;
  for (let seed = 1; seed <= clouds; seed++) {
    const random = seededUniform(seed);
    const points = cloud(random, 0.6 + 2 * random(), 0.01 + 0.5 * random(), 0.02 + 0.15 * random());
    const knee = kneeFromTrace(points);
    if (knee === null) continue;
    found++;
    const errors = Math.abs(knee.levelDbfs - KNEE_DBFS) / knee.uncertaintyDb;
    if (errors < 2) within2++;
    worst = Math.max(worst, errors);
  }
  expect(found).toBeGreaterThan(0.9 * clouds);
  // 95.4 % of normal errors lie within two standard uncertainties; 300 draws scatter that by 1.2 %.
  expect(within2 / found).toBeGreaterThan(0.92);
  expect(worst).toBeLessThan(4.5);
});

describe('never where there is none', () => {
  test('400 turns: flat floor, falling with level, growing as a driver, noisy', () => {
    for (let seed = 1; seed <= 400; seed++) {
      const random = seededUniform(seed);
      const growth = [0, -1, 2, 1][seed % 4]!;
      const scatter = 0.05 + 0.4 * random();
      const percent = 0.01 + 3 * random();
      const points = Array.from({ length: 120 }, (): KneePoint => {
        const levelDbfs = -20 + 15 * random();
        const gauss = Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
        const thdPercent = percent * 10 ** ((growth * (levelDbfs + 10)) / 20) * Math.exp(scatter * gauss);
        return { levelDbfs, thdPercent, verdict: 'clean' };
      });
      expect(kneeFromTrace(points), `seed ${seed}`).toBeNull();
    }
  });

  test('nor where waves are clipped alike at every level, as by an earlier stage', () => {
    const points = Array.from(
      { length: 80 },
      (_, at): KneePoint => ({ levelDbfs: -20 + 0.15 * at, thdPercent: 4.6, verdict: 'clipped' }),
    );
    expect(kneeFromTrace(points)).toBeNull();
  });

  test('nor where clipping that is there all along only creeps past 1 %', () => {
    const points = Array.from(
      { length: 80 },
      (_, at): KneePoint => ({
        levelDbfs: -20 + 0.15 * at,
        thdPercent: 0.85 + 0.005 * at,
        verdict: 'clipped',
      }),
    );
    expect(kneeFromTrace(points)).toBeNull();
  });
});
