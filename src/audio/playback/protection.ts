/** What keeps coils, ears and the digital path from harm while a tone plays. */
import { pulsesDbfs } from '../../dsp/tones/polarity.ts';
import type { ToneSpec } from '../../dsp/tones/spec.ts';
import type { OutputChannels } from './player-state.ts';

/** Above this a tone must be confirmed: the last decibels before full scale meet mixers that add other sounds. */
export const HIGHEST_LEVEL_DBFS = -3;

/**
 * From this level on a tone counts as loud: a gain set with 5 to 20 dB of
 * overlap turns it into a hundredth of the rated power or more.
 */
const LOUD_FROM_DBFS = -20;

/** Rated power heats a voice coil within seconds (design, section 8); turning one control takes about half a minute. */
export const LOUD_LIMIT_SECONDS = 30;

/** No tone outlasts the attention of whoever started it. */
const QUIET_LIMIT_SECONDS = 600;

/**
 * Longest burst at full level, seconds, and the pause after it as a multiple of how long it sounded. Common
 * practice; the reason is arithmetic: 1 part in 11 of rated power, -10.4 dB, is all that a coil sees on average.
 */
export const BURST_LIMIT_SECONDS = 1;
const PAUSE_PER_BURST = 10;

/** Keeps bursts apart, whoever asks for them. Times in seconds of one clock that runs on. */
export class BurstRest {
  #beganAt: number | null = null;
  #restUntil = Number.NEGATIVE_INFINITY;

  /** @throws RangeError while a burst sounds or the pause after one still runs */
  begin(now: number): void {
    const waitSeconds = this.#beganAt === null ? this.#restUntil - now : BURST_LIMIT_SECONDS;
    if (waitSeconds > 0) {
      throw new RangeError(
        `The coil rests after a burst: the next one may begin in ${waitSeconds.toFixed(1)} s.`,
      );
    }
    this.#beganAt = now;
  }

  /** The burst is over, however it ended. Without one, nothing. */
  end(now: number): void {
    if (this.#beganAt === null) return;
    this.#restUntil = now + PAUSE_PER_BURST * (now - this.#beganAt);
    this.#beganAt = null;
  }
}

/** Level of the loudest part, dBFS; minus infinity for silence. */
export function loudestDbfs(spec: ToneSpec): number {
  switch (spec.kind) {
    case 'silence':
      return Number.NEGATIVE_INFINITY;
    case 'steps':
      return Math.max(...spec.levelsDbfs);
    case 'polarity':
      return spec.peakDbfs;
    default:
      return spec.levelDbfs;
  }
}

/** Level that a coil's heat goes by: of a train of pulses its mean power, not its peak. */
export function heatingDbfs(spec: ToneSpec): number {
  return spec.kind === 'polarity' ? pulsesDbfs(spec) : loudestDbfs(spec);
}

/** The longest that a tone of this level may sound, seconds. */
export function limitSeconds(levelDbfs: number, loudLimitSeconds: number): number {
  return levelDbfs >= LOUD_FROM_DBFS ? loudLimitSeconds : QUIET_LIMIT_SECONDS;
}

/** @throws RangeError for a level above the cap that nobody has confirmed */
export function checkLevelAllowed(levelDbfs: number, highestLevelDbfs: number, confirmed: boolean): void {
  if (levelDbfs <= highestLevelDbfs || confirmed) return;
  throw new RangeError(
    `A tone at ${levelDbfs} dBFS is not played without being confirmed: it must be ${highestLevelDbfs} dBFS or lower, or confirmed.`,
  );
}

/** One tone as it reaches the output: its highest sample, full scale 1.0, and where it goes. */
export interface Voice {
  peak: number;
  channels: OutputChannels;
}

/** Highest sample that either output channel could reach, were the crests of all voices to meet. */
export function summedPeak(voices: readonly Voice[]): number {
  let left = 0;
  let right = 0;
  for (const { peak, channels } of voices) {
    if (channels !== 'right') left += peak;
    if (channels !== 'left') right += peak;
  }
  return Math.max(left, right);
}

/** Float32 holds a full-scale sine's crest to this. */
const ROUNDING = 1e-6;

/** @throws RangeError where the voices together could pass full scale and be clipped by the output itself */
export function checkSummedPeak(voices: readonly Voice[]): void {
  const peak = summedPeak(voices);
  if (peak <= 1 + ROUNDING) return;
  throw new RangeError(
    `The output would clip: tones together reach ${peak.toFixed(3)} of full scale, and must stay at or below 1.`,
  );
}
