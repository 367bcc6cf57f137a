import type { BlockTones } from '../fit/block-tones.ts';
import { wrappedPhase } from '../fit/wrapped-phase.ts';
import { median, NORMAL_PER_MEDIAN } from '../statistics/median.ts';

/** What still passes for one steady tone. */
export interface Stillness {
  /** Largest ratio of a block's amplitude to the usual one, either way. */
  amplitudeRatio: number;
  /** Largest phase away from one straight line, radians. */
  phaseRadians: number;
}

/** A recording: a level that wanders by 0.5 dB is no longer one level. */
export const STEADY_RECORD: Stillness = { amplitudeRatio: 10 ** (0.5 / 20), phaseRadians: 0.5 };

/** A live window while a control is being turned: still one tone, whose motion others judge. */
export const STEADY_WINDOW: Stillness = { amplitudeRatio: 2, phaseRadians: 1 };

/** Noise may carry a block this many standard deviations away. */
const NOISE_ALLOWANCE = 6;

/** Ends that differ by less than this ratio do not move the level by as much as 0.0001 dB. */
const SAME = 2e-5;

/** Phase wander that costs 0.00001 dB: less is not worth making good. */
const LEAST_WANDER = 1.5e-3;

/** Half-open run of blocks. */
export interface Stretch {
  first: number;
  last: number;
}

/**
 * Longest run of blocks that hold one level and go on in phase.
 *
 * @param relativeNoise standard deviation of a block's amplitude by noise alone, against the amplitude
 */
export function steadiestStretch(tones: BlockTones, still: Stillness, relativeNoise: number): Stretch {
  const usual = median(tones.amplitude.subarray(0, tones.count));
  const longest: Stretch = { first: 0, last: 0 };
  let first = 0;
  for (let block = 0; block < tones.count; block += 1) {
    const ratio = tones.amplitude[block]! / usual;
    const allowance = NOISE_ALLOWANCE * relativeNoise * tones.noiseWeight[block]!;
    if (ratio > still.amplitudeRatio + allowance || ratio < 1 / still.amplitudeRatio - allowance) {
      first = block + 1;
      continue;
    }
    if (block > first && phaseJump(tones, block) > still.phaseRadians + allowance) first = block;
    if (block + 1 - first > longest.last - longest.first) {
      longest.first = first;
      longest.last = block + 1;
    }
  }
  return longest;
}

function phaseJump(tones: BlockTones, block: number): number {
  return Math.abs(wrappedPhase(tones.phaseAway[block]! - tones.phaseAway[block - 1]!));
}

/** Largest phase away from the fitted line within a stretch, radians. */
export function worstPhase(tones: BlockTones, stretch: Stretch): number {
  let worst = 0;
  for (let block = stretch.first; block < stretch.last; block += 1) {
    worst = Math.max(worst, Math.abs(tones.phaseAway[block]!));
  }
  return worst;
}

/**
 * What a fit with one straight phase line leaves of the amplitude where the phase wanders about it, as
 * two clocks do: the mean of its cosine. 1 where the wander is no more than noise would show.
 */
export function wanderLoss(tones: BlockTones, stretch: Stretch, relativeNoise: number): number {
  let squares = 0;
  let weighted = 0;
  let total = 0;
  for (let block = stretch.first; block < stretch.last; block += 1) {
    squares += tones.phaseAway[block]! ** 2;
    weighted += tones.amplitude[block]! * Math.cos(tones.phaseAway[block]!);
    total += tones.amplitude[block]!;
  }
  const rms = Math.sqrt(squares / (stretch.last - stretch.first));
  return rms > Math.max(LEAST_WANDER, 2 * relativeNoise) ? weighted / total : 1;
}

/**
 * Drops blocks at the ends that fall out of what the rest does by more than noise explains: a fade, or a
 * stop inside a block. The rest's own scatter is the measure.
 */
export function withoutFades(tones: BlockTones, stretch: Stretch, relativeNoise: number): Stretch {
  const length = stretch.last - stretch.first;
  if (length < 4) return stretch;
  const usual = median(tones.amplitude.subarray(stretch.first, stretch.last));
  const away = new Float64Array(length);
  for (let n = 0; n < length; n += 1) {
    const block = stretch.first + n;
    away[n] = Math.abs(tones.amplitude[block]! / usual - 1) / tones.noiseWeight[block]!;
  }
  const scatter = NORMAL_PER_MEDIAN * median(away);
  const most = Math.max(SAME, NOISE_ALLOWANCE * Math.max(scatter, relativeNoise));
  let [first, last] = [stretch.first, stretch.last];
  while (last - first > 2 && away[first - stretch.first]! > most) first += 1;
  while (last - first > 2 && away[last - 1 - stretch.first]! > most) last -= 1;
  return { first, last };
}
