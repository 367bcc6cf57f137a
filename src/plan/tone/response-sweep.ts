import type { ChannelBand } from './setting-tone.ts';

/** The exponential sweep that shows a channel's filters. Level in dB against a full-scale sine. */
export interface ResponseSweep {
  startHz: number;
  endHz: number;
  levelDbfs: number;
  durationSeconds: number;
}

/**
 * Three seconds from 15 Hz to 18 kHz: as short as serves, since each channel costs a wait. At a speaker's terminals,
 * 60 dB over the noise, a corner at 25 Hz comes out within 0.1 % (with 2 s 0.7 %, with 4 s no better: measured,
 * `tests/unit/crossover-sweep-take.test.ts`), and the 2nd harmonic stands 0.29 s ahead, clear of the response.
 * From 15 Hz, so that a high-pass at 25 Hz shows its slope; to 18 kHz, which every rate from 44.1 kHz holds, past the
 * 15 kHz up to which filters are looked for.
 */
export const FULL_SWEEP: ResponseSweep = { startHz: 15, endHz: 18_000, levelDbfs: -20, durationSeconds: 3 };

/** A high-pass from here on guards a driver that bass destroys. Common practice. */
const SMALL_DRIVER_HZ = 500;
/** So far below its high-pass such a driver's sweep begins: two octaves show the order and hold little power. */
const OCTAVES_BELOW = 2;
/** What a small driver gets less, dB: were its filter missing, its sweep must still be harmless. Common practice. */
const GENTLER_DB = 10;

/** Whether a channel's drivers must not get the whole band. */
export function isSmallDriver(band: ChannelBand): boolean {
  return (band.highPassHz ?? 0) >= SMALL_DRIVER_HZ;
}

/**
 * The sweep for one channel: the full one, or for a small driver the upper part of it, on the same law (octaves per
 * second), and softer.
 */
export function responseSweep(band: ChannelBand): ResponseSweep {
  if (!isSmallDriver(band)) return FULL_SWEEP;
  const startHz = Math.round(band.highPassHz! / 2 ** OCTAVES_BELOW);
  const { endHz, levelDbfs, durationSeconds } = FULL_SWEEP;
  const share = Math.log(endHz / startHz) / Math.log(endHz / FULL_SWEEP.startHz);
  return { startHz, endHz, levelDbfs: levelDbfs - GENTLER_DB, durationSeconds: durationSeconds * share };
}
