/**
 * Short bursts at full level, after a gain was set at a reduced one: do the rails reach as far as the
 * reduced reading promises? The fold says when the tone sounds and for how long; whoever plays it obeys.
 */
import type { Clipping } from '../../../dsp/reading.ts';
import type { GainReading } from '../gain.ts';

/**
 * Limits of a burst. Common practice; the reason is arithmetic: with a pause of ten times its length a burst
 * at rated power heats like 1/11 of it (-10.4 dB), and a voice coil takes seconds to follow. The player keeps
 * them as well (`audio/playback/protection.ts`), since a page that hangs steps no fold; the pause here is
 * longer by what a player's fades and buffers add to a burst.
 */
export const BURST_SECONDS = 1;
export const PAUSE_PER_BURST = 12;

/** What was asked of one burst, and what it read. */
export interface BurstReading {
  /** Level of the tone, dBFS. */
  toneDbfs: number;
  /** Fundamental, carried on from the volts of the reduced tone by the rise of the level; volts RMS. */
  volts: number;
  levelDbfs: number;
  /** Where the wave itself showed the ceiling, volts RMS. */
  kneeVolts: number | null;
  /** Rise over the reduced tone less the rise asked for, dB: 0 where everything is linear. */
  strayDb: number;
  thdPercent: number | null;
  verdict: Clipping['verdict'];
  overdriveDb: number | null;
  /** How long the tone was asked for, seconds. */
  seconds: number;
}

/** `app`: the tone is switched by this program. `track`: a track with bursts and pauses plays from the radio. */
export type BurstDriver = 'app' | 'track';

export interface BurstRun {
  driver: BurstDriver;
  /**
   * `resting`: a pause runs, nothing sounds. `sounding`: the burst is on. `listening`: it is over, or plays
   * from a track, and its sound may still arrive. `done`: all that will be heard has been.
   */
  phase: 'resting' | 'sounding' | 'listening' | 'done';
  /** Levels of the bursts in their order, dBFS. */
  tonesDbfs: number[];
  /** Which of them sounds or comes next. */
  index: number;
  /** Seconds of the stream at which the phase began and ends at the latest. */
  sinceSeconds: number;
  untilSeconds: number;
  /** What the reduced tone read when the bursts began. */
  setVolts: number;
  setLevelDbfs: number;
  setDbfs: number;
  /** Readings of the present burst. */
  heard: GainReading[];
  bursts: BurstReading[];
  /** Why it ended before its last burst; `null` where it did not. */
  stopped: 'not-clean' | 'nothing-heard' | 'asked' | null;
}

/** What the bursts showed. */
export type BurstConclusion =
  /** Clean up to `cleanVolts`, so that the knee lies above by an unknown amount. */
  | { verdict: 'clean'; cleanVolts: number; marginDb: number }
  /** The knee; `turnBackDb` is how far this gain must come down, 0 where the knee lies above the target. */
  | { verdict: 'clipped'; kneeVolts: number; marginDb: number; turnBackDb: number }
  | { verdict: 'undecided'; why: string };
