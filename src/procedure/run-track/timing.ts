/**
 * How much room a run track leaves around what it plays, each length for a reason. Nobody hears which recorder, coder
 * or radio it went through, so the track allows for the worst of each.
 */
import { FADE_SECONDS } from '../../dsp/tones/fade.ts';

export { MARKER_SECONDS } from '../../dsp/tones/marker.ts';

/** A closed cabin falls by 60 dB within this (common practice: 0.05 to 0.1 s above the bass). */
const CABIN_SECONDS = 0.1;
/**
 * Lossy coders spread what they code over one window: 2048 samples of AAC (ISO/IEC 13818-7) are 46 ms at 44.1 kHz,
 * and MP3's filter bank (ISO/IEC 11172-3) reaches no further.
 */
const CODER_SECONDS = 0.05;
/** Where only one marker was recorded, parts are found by the clocks' rates; two plain clocks differ by no more. */
const CLOCK_PPM = 200;
/** A level and its distortion are read from this much: at 50 dB of noise 0.001 dB and 5 ppm (measured). */
const READING_SECONDS = 0.5;
/** Fewer periods do not tell the harmonics of a low tone apart. */
const READING_PERIODS = 20;
/** ln 1000: an exponential decay by 60 dB, in time constants. */
const TIME_CONSTANTS = Math.log(1000);
/** Whole frames at every usual rate from 16 kHz up, 22.05 kHz included, so that parts begin exactly where they say. */
const GRID_SECONDS = 0.02;

/** A high-pass of the chain: the lower its corner and the higher its order, the longer it rings. */
export interface RingingFilter {
  cutoffHz: number;
  order: number;
}

/** Room around the parts of one run track, seconds. */
export interface RunTiming {
  /** Least silence between two parts, and between a marker and its neighbour. */
  guardSeconds: number;
  /** What of a steady part's beginning and end is not steady yet, or no longer. */
  marginSeconds: { start: number; end: number };
}

/**
 * Slowest decay of the chain, 60 dB down: the cabin's, or that of a high-pass, whose slowest pair of poles falls with
 * the time constant `1 / (2 pi fc sin(pi / 2n))` (Butterworth's circle).
 */
function decaySeconds(filters: readonly RingingFilter[]): number {
  const ringing = filters.map(
    ({ cutoffHz, order }) => TIME_CONSTANTS / (2 * Math.PI * cutoffHz * Math.sin(Math.PI / (2 * order))),
  );
  return Math.max(CABIN_SECONDS, ...ringing);
}

/** @param totalSeconds of the track, over which the clocks drift apart */
export function runTiming(filters: readonly RingingFilter[], totalSeconds: number): RunTiming {
  const strayed = CLOCK_PPM * 1e-6 * totalSeconds;
  const decay = decaySeconds(filters);
  return {
    guardSeconds: onGrid(decay + CODER_SECONDS + strayed),
    marginSeconds: {
      start: onGrid(FADE_SECONDS + decay + CODER_SECONDS + strayed),
      end: onGrid(FADE_SECONDS + CODER_SECONDS + strayed),
    },
  };
}

/** How long a tone plays so that enough of it is steady. */
export function steadyToneSeconds(frequencyHz: number, { marginSeconds }: RunTiming): number {
  const read = Math.max(READING_SECONDS, READING_PERIODS / frequencyHz);
  return onGrid(marginSeconds.start + read + marginSeconds.end);
}

/** The next moment at which a part may begin. */
export function onGrid(seconds: number): number {
  const perSecond = 1 / GRID_SECONDS;
  return Math.ceil(seconds * perSecond - 1e-6) / perSecond;
}
