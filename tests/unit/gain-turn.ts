/**
 * A control being turned, as readings: an ideal limiter in closed form (references, section 3.2, formulas
 * of the clipped sine), noise, and the blur of a window while the level moves.
 */
import type { Clipping } from '../../src/dsp/reading.ts';
import type { GainReading, GainTask } from '../../src/procedure/gain/gain.ts';
import { seededGauss, seededUniform } from './seeded-random.ts';

export const FRONT_LEFT: GainTask = {
  channelId: 'front-left',
  aimVolts: 17.3205,
  targetVolts: 17.3205,
  toneHz: 997,
  toneDbfs: -5,
  level: 'planned',
  plannedDbfs: -5,
  overlapDb: 5,
  summedInputs: 1,
  inputsWithTone: 1,
  toleranceDb: 0.5,
  way: 'wire',
};

export interface Bench {
  kneeVolts: number;
  /** THD + of everything ahead of the limiter, per cent, at the knee. */
  floorPercent: number;
  /** Relative scatter of the distortion reading. */
  scatter: number;
  voltsPerFs: number;
  /** dB per dB by which the floor grows with level: 0 electronics, up to 2 a driver's third harmonic. */
  floorGrowth?: number;
  /** An earlier stage's constant overdrive, dB. */
  earlierOverdriveDb?: number;
}

export const RIG: Bench = { kneeVolts: 18.4, floorPercent: 0.02, scatter: 0.1, voltsPerFs: 35 };

/** Fundamental (re clip level) and THD (F) of a sine driven `overdriveDb` past a symmetric limiter. */
export function limited(overdriveDb: number): { fundamentalDb: number; thdPercent: number } {
  if (overdriveDb <= 0) return { fundamentalDb: overdriveDb, thdPercent: 0 };
  const amplitude = 10 ** (overdriveDb / 20);
  const angle = Math.asin(1 / amplitude);
  const fundamental = ((2 * amplitude) / Math.PI) * (angle + Math.sin(angle) * Math.cos(angle));
  const meanSquare =
    (2 / Math.PI) * (amplitude ** 2 * (angle / 2 - Math.sin(2 * angle) / 4) + (Math.PI / 2 - angle));
  const harmonics = Math.sqrt(Math.max(0, meanSquare - fundamental ** 2 / 2));
  return {
    fundamentalDb: 20 * Math.log10(fundamental),
    thdPercent: (100 * harmonics * Math.SQRT2) / fundamental,
  };
}

function verdictOf(overdriveDb: number, kneeDbfs: number, random: () => number): Clipping {
  if (overdriveDb < 0.03) {
    return {
      verdict: 'clean',
      side: null,
      overdriveDb: null,
      kneeDbfs: null,
      shape: null,
      compressionDb: null,
      uncertainty: null,
      evidence: [],
    };
  }
  const error = 0.01 * seededGauss(random)();
  return {
    verdict: 'clipped',
    side: 'both',
    overdriveDb: overdriveDb + error,
    kneeDbfs: kneeDbfs - error,
    shape: null,
    compressionDb: null,
    uncertainty: null,
    evidence: ['flattened crests'],
  };
}

/** One reading with the drive at `driveDb` relative to the knee; `spanDb` is how far it moved in the window. */
export function reading(
  bench: Bench,
  driveDb: number,
  seconds: number,
  random: () => number,
  spanDb = 0,
): GainReading {
  const parts = [-0.5, -0.25, 0, 0.25, 0.5].map((share) => limited(driveDb + share * spanDb));
  const kneeDbfs = 20 * Math.log10(bench.kneeVolts / bench.voltsPerFs);
  const fundamentalDb = mean(parts.map((part) => part.fundamentalDb));
  const earlier = bench.earlierOverdriveDb ?? 0;
  const floor = bench.floorPercent * 10 ** (((bench.floorGrowth ?? 0) * fundamentalDb) / 20);
  const thdPercent =
    Math.hypot(mean(parts.map((part) => part.thdPercent)), floor, limited(earlier).thdPercent) *
    Math.exp(bench.scatter * seededGauss(random)());
  const levelDbfs = kneeDbfs + fundamentalDb + 0.002 * seededGauss(random)();
  const volts = bench.voltsPerFs * 10 ** (levelDbfs / 20);
  return {
    seconds,
    // As the live analyser grades a level that moves.
    grade: spanDb === 0 ? 'valid' : 'suspect',
    doubts: spanDb === 0 ? [] : ['level-unsteady'],
    motion: spanDb === 0 ? 'steady' : 'changing',
    volts,
    voltsUncertainty: volts * 0.01,
    levelDbfs,
    frequencyHz: 997.003,
    thdPercent,
    highOrderPercent: null,
    clipping:
      earlier > 0
        ? verdictOf(earlier, levelDbfs - limited(earlier).fundamentalDb, random)
        : verdictOf(driveDb, kneeDbfs, random),
  };
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

/** Readings at 20 a second while the drive goes through these points at `dbPerSecond`, resting 0.5 s at each. */
export function turn(bench: Bench, drivesDb: number[], dbPerSecond: number, seed: number): GainReading[] {
  const random = seededUniform(seed);
  const readings: GainReading[] = [];
  let drive = drivesDb[0] ?? 0;
  let seconds = 0;
  const push = (spanDb: number) => {
    seconds += 0.05;
    readings.push(reading(bench, drive, seconds, random, spanDb));
  };
  for (const goal of drivesDb) {
    const step = dbPerSecond * 0.05;
    while (Math.abs(goal - drive) > step) {
      drive += Math.sign(goal - drive) * step;
      push(step * 4);
    }
    drive = goal;
    for (let rest = 0; rest < 10; rest++) push(0);
  }
  return readings;
}
