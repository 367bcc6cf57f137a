import type { GainReading, GainTask } from '../gain.ts';
import { settled } from '../settled.ts';
import { obstacle } from '../usable.ts';
import {
  BURST_SECONDS,
  type BurstDriver,
  type BurstReading,
  type BurstRun,
  PAUSE_PER_BURST,
} from './burst.ts';
import { burstTonesDbfs } from './burst-plan.ts';

/** Sound that was asked for arrives later: buffers of output and input, and a player that begins slowly. */
const LATENESS_SECONDS = 1.5;
/** Readings come some 20 a second, so that a limit is noticed this late. */
const READING_SECONDS = 0.05;
/** Somebody walks to the radio and starts a track. */
const TRACK_PATIENCE_SECONDS = 120;
/** A burst stands at least this far above the reduced tone, which must not be taken for it, dB. */
const ABOVE_REDUCED_DB = 8;

export interface BurstBegin {
  task: GainTask;
  driver: BurstDriver;
  seconds: number;
  setVolts: number;
  setLevelDbfs: number;
  /** Seconds before which nothing may sound: the pause of the burst before this run. */
  restUntilSeconds: number;
}

export function beginBursts(begin: BurstBegin): BurstRun {
  const { task, driver, seconds, setVolts, setLevelDbfs, restUntilSeconds } = begin;
  const run: BurstRun = {
    driver,
    phase: 'resting',
    tonesDbfs: burstTonesDbfs(task),
    index: 0,
    sinceSeconds: seconds,
    untilSeconds: Math.max(seconds, restUntilSeconds),
    setVolts,
    setLevelDbfs,
    setDbfs: task.toneDbfs,
    heard: [],
    bursts: [],
    stopped: null,
  };
  if (driver === 'app') return run.untilSeconds > seconds ? run : sound(run, seconds);
  return { ...run, phase: 'listening', untilSeconds: seconds + TRACK_PATIENCE_SECONDS };
}

/** The run after one more reading. */
export function burstsHeard(run: BurstRun, reading: GainReading, task: GainTask): BurstRun {
  switch (run.phase) {
    case 'done':
      return run;
    case 'resting':
      if (run.driver === 'track') return isQuiet(reading, run, task) ? listenOn(run, reading.seconds) : run;
      return reading.seconds < run.untilSeconds ? run : sound(run, reading.seconds);
    case 'sounding':
    case 'listening':
      return listened(run, reading, task);
  }
}

/** Stopped by hand; what was read stays. */
export function stopBursts(run: BurstRun, seconds: number): BurstRun {
  return run.phase === 'done' ? run : ended(run, seconds, 'asked');
}

/** Seconds of the stream before which the next run may not sound. */
export function restUntilSeconds(run: BurstRun): number {
  // One that broke off may have been the longest.
  const lastedSeconds = run.stopped === null ? (run.bursts.at(-1)?.seconds ?? BURST_SECONDS) : BURST_SECONDS;
  return run.sinceSeconds + PAUSE_PER_BURST * lastedSeconds;
}

/** Level that should sound now, dBFS; `null` for silence. */
export function soundingDbfs(run: BurstRun): number | null {
  return run.phase === 'sounding' ? (run.tonesDbfs[run.index] ?? null) : null;
}

function sound(run: BurstRun, seconds: number): BurstRun {
  return {
    ...run,
    phase: 'sounding',
    sinceSeconds: seconds,
    untilSeconds: seconds + BURST_SECONDS - READING_SECONDS,
    heard: [],
  };
}

function listened(run: BurstRun, reading: GainReading, task: GainTask): BurstRun {
  const heard = [...run.heard, reading].slice(-40);
  const found = isRaised(reading, run) ? settled(heard, task) : null;
  const settledOne = found?.at(-1);
  if (settledOne !== undefined && (found ?? []).every((one) => isRaised(one, run))) {
    return read({ ...run, heard }, settledOne);
  }
  if (reading.seconds < run.untilSeconds) return { ...run, heard };
  if (run.phase === 'sounding') {
    return {
      ...run,
      heard,
      phase: 'listening',
      untilSeconds: reading.seconds + LATENESS_SECONDS,
    };
  }
  return ended({ ...run, heard }, reading.seconds, 'nothing-heard');
}

function isRaised(reading: GainReading, run: BurstRun): boolean {
  return reading.levelDbfs !== null && reading.levelDbfs > run.setLevelDbfs + ABOVE_REDUCED_DB;
}

/** A track's burst is over when its tone is gone; only then does the next one count. */
function isQuiet(reading: GainReading, run: BurstRun, task: GainTask): boolean {
  return obstacle(reading, task) !== null && !isRaised(reading, run);
}

function listenOn(run: BurstRun, seconds: number): BurstRun {
  const untilSeconds = seconds + (1 + PAUSE_PER_BURST) * BURST_SECONDS + LATENESS_SECONDS;
  return { ...run, phase: 'listening', sinceSeconds: seconds, untilSeconds, heard: [] };
}

function read(run: BurstRun, reading: GainReading): BurstRun {
  const toneDbfs = run.tonesDbfs[run.index] ?? run.setDbfs;
  const levelDbfs = reading.levelDbfs ?? run.setLevelDbfs;
  const riseDb = levelDbfs - run.setLevelDbfs;
  const lastedSeconds = Math.min(BURST_SECONDS, reading.seconds - run.sinceSeconds);
  const burst: BurstReading = {
    toneDbfs,
    volts: run.setVolts * 10 ** (riseDb / 20),
    levelDbfs,
    strayDb: riseDb - (toneDbfs - run.setDbfs),
    kneeVolts: voltsOf(run, reading.clipping.kneeDbfs),
    thdPercent: reading.thdPercent,
    verdict: reading.clipping.verdict,
    overdriveDb: reading.clipping.overdriveDb,
    seconds: run.driver === 'track' ? BURST_SECONDS : lastedSeconds,
  };
  const next = { ...run, index: run.index + 1, bursts: [...run.bursts, burst] };
  if (burst.verdict !== 'clean') return ended(next, reading.seconds, 'not-clean');
  if (next.index >= run.tonesDbfs.length) return ended(next, reading.seconds, null);
  return {
    ...next,
    phase: 'resting',
    sinceSeconds: reading.seconds,
    untilSeconds: reading.seconds + PAUSE_PER_BURST * lastedSeconds,
  };
}

/** Volts of a level at the input, carried on from those of the reduced tone. */
function voltsOf(run: BurstRun, levelDbfs: number | null): number | null {
  return levelDbfs === null ? null : run.setVolts * 10 ** ((levelDbfs - run.setLevelDbfs) / 20);
}

function ended(run: BurstRun, seconds: number, stopped: BurstRun['stopped']): BurstRun {
  return { ...run, phase: 'done', sinceSeconds: seconds, untilSeconds: seconds, stopped };
}
