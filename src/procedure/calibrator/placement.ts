/**
 * The microphone with an acoustic calibrator on it: whether one placement's tone may be believed, and its level.
 * Each placement is one take, read in two halves, so that a level that moves is seen.
 */
import type { PlacementLevel, SoundCalibrator } from '../../plan/calibration/sound-scale.ts';
import { doubtSentence } from '../gain/doubts.ts';
import type { Take } from '../take/take.ts';
import type { ToneTakeReading, ToneTakeRequest } from '../take/tone-take.ts';

/** How long one placement is recorded. */
export const PLACEMENT_SECONDS = 6;

/** A calibrator is cheaper than a clock: class 2 may be 2 % off its frequency (from memory of IEC 60942). */
const FREQUENCY_SHARE = 0.02;
/** What a level may move between the halves; a settled calibrator moves less than 0.1 dB in 20 s (from memory of IEC 60942). */
const DRIFT_DB = 0.1;
/** A sealed coupler stands far over the cabin; less is a leak, or another sound (common practice). */
const LEAST_SINAD_DB = 20;
/** Two placements further apart: one of them did not seal (common practice). */
const MOST_APART_DB = 0.5;

/** How a placement's take is read. */
export function placementRequest(calibrator: SoundCalibrator, channelIndex: number): ToneTakeRequest {
  const { frequencyHz } = calibrator;
  return { kind: 'tone', channelIndex, frequencyHz, withinShare: FREQUENCY_SHARE };
}

/** First and second half, of equal length. */
export function halvesOf(take: Take): [Take, Take] {
  const half = Math.floor((take.channels[0]?.length ?? 0) / 2);
  const part = (from: number): Take => ({
    ...take,
    startFrame: take.startFrame + from,
    channels: take.channels.map((samples) => samples.subarray(from, from + half)),
  });
  return [part(0), part(half)];
}

/** Level of a placement, or the one sentence why it says nothing. */
export function placementLevel(
  halves: readonly [ToneTakeReading, ToneTakeReading],
  { frequencyHz }: SoundCalibrator,
): PlacementLevel | string {
  const doubts = halves.flatMap((half) => half.doubts);
  if (doubts.includes('input-overload')) {
    return 'The calibrator overloads this input: lower the input’s level, then measure again.';
  }
  if (halves.some((half) => half.grade === 'invalid')) {
    return `${doubtSentence(doubts[0] ?? 'gap')} Measure again.`;
  }
  const [first, second] = halves.map((half) => half.channel);
  const [before, after] = [first?.tone ?? null, second?.tone ?? null];
  if (before === null || after === null) {
    return `No steady tone of ${frequencyHz} Hz was heard: switch the calibrator on, seat it fully on the microphone, and measure again.`;
  }
  if (first?.clipping.verdict === 'clipped' || second?.clipping.verdict === 'clipped') {
    return 'The tone arrives clipped: lower the input’s level, or take the calibrator’s lower level.';
  }
  const sinadDb = Math.min(before.sinadDb, after.sinadDb);
  if (sinadDb < LEAST_SINAD_DB) {
    return `The tone stands only ${sinadDb.toFixed(0)} dB over everything else: seat the calibrator so that it seals, and keep quiet.`;
  }
  const driftDb = Math.abs(after.levelDbfs - before.levelDbfs);
  if (driftDb > DRIFT_DB) {
    return `The level moved by ${driftDb.toFixed(2)} dB while it was measured: let the calibrator settle, hold it still, and measure again.`;
  }
  return {
    levelDbfs: (before.levelDbfs + after.levelDbfs) / 2,
    uncertaintyDb: Math.hypot(before.uncertainty.levelDb, after.uncertainty.levelDb, driftDb) / 2,
  };
}

/** Why these placements do not belong together, one sentence; `null` where they do. */
export function whyNotTogether(levels: readonly PlacementLevel[]): string | null {
  const all = levels.map(({ levelDbfs }) => levelDbfs);
  const apartDb = Math.max(...all) - Math.min(...all);
  if (levels.length < 2 || apartDb <= MOST_APART_DB) return null;
  return `The placements differ by ${apartDb.toFixed(1)} dB: one of them did not seal, so begin again.`;
}
