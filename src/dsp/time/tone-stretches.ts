import { fitAtKnownFrequency } from '../fit/known-frequency-fit.ts';

interface ToneStretch {
  startSeconds: number;
  endSeconds: number;
}

/** When a tone sounded, and how loud it was all along. */
export interface ToneStretches {
  /** Loudest half second, dBFS. */
  loudDbfs: number;
  /** Where the tone had at least half of that amplitude. */
  stretches: ToneStretch[];
  /** Level at the tone's frequency in one stretch of `everySeconds` after the other, dBFS; `null` for none at all. */
  levelsDbfs: (number | null)[];
  everySeconds: number;
}

/** Fine enough to see half a percent of the quietest tone that matters: 0.5 s lets 2 Hz of noise through. */
const EVERY_SECONDS = 0.5;
/** A window that places an edge: two cycles, which a fit needs to tell a tone from DC, or 20 ms. */
const EDGE_SECONDS = 0.02;
const EDGE_CYCLES = 2;
const HOPS_PER_WINDOW = 8;
/** The tone must hold most of what is heard in its loudest half second, or it is none. */
const LEAST_SHARE_OF_POWER = 0.5;
/** Shorter holes are noise in the envelope, shorter stretches are clicks. */
const SHORTEST_WINDOWS = 1;

/**
 * Finds where a tone of known frequency begins and ends. An edge is where the amplitude, fitted in a short
 * window (IEEE Std 1057, three parameters), passes half of the loud one: there the window is half filled, so
 * the edge lies at its middle, whatever the window's length.
 *
 * @returns `null` where no such tone stands out; silence and NaN give `null`
 */
export function toneStretches(
  samples: Float32Array,
  sampleRateHz: number,
  frequencyHz: number,
): ToneStretches | null {
  const w = (2 * Math.PI * frequencyHz) / sampleRateHz;
  const longFrames = Math.round(EVERY_SECONDS * sampleRateHz);
  const amplitudes = amplitudesOf(samples, w, longFrames, longFrames);
  const loudest = amplitudes.reduce((best, value, index) => (value > amplitudes[best]! ? index : best), 0);
  const loud = amplitudes[loudest] ?? 0;
  if (!(loud > 0) || !dominates(samples.subarray(loudest * longFrames, (loudest + 1) * longFrames), loud)) {
    return null;
  }
  const frames = Math.round(Math.max(EDGE_SECONDS, EDGE_CYCLES / frequencyHz) * sampleRateHz);
  const hop = Math.max(1, Math.round(frames / HOPS_PER_WINDOW));
  const envelope = amplitudesOf(samples, w, frames, hop);
  const shortest = (SHORTEST_WINDOWS * frames) / hop;
  return {
    loudDbfs: 20 * Math.log10(loud),
    stretches: runsAbove(envelope, loud / 2, shortest).map(({ from, to }) => ({
      startSeconds: (from * hop + frames / 2) / sampleRateHz,
      endSeconds: (to * hop + frames / 2) / sampleRateHz,
    })),
    levelsDbfs: Array.from(amplitudes, (value) => (value > 0 ? 20 * Math.log10(value) : null)),
    everySeconds: EVERY_SECONDS,
  };
}

function amplitudesOf(samples: Float32Array, w: number, frames: number, hop: number): Float64Array {
  const fit = { dc: 0, re: 0, im: 0 };
  const count = Math.max(0, Math.floor((samples.length - frames) / hop) + 1);
  const amplitudes = new Float64Array(count);
  for (let index = 0; index < count; index += 1) {
    fitAtKnownFrequency(samples, index * hop, frames, w, fit);
    amplitudes[index] = Math.hypot(fit.re, fit.im);
  }
  return amplitudes;
}

function dominates(samples: Float32Array, amplitude: number): boolean {
  let sum = 0;
  let power = 0;
  for (const value of samples) sum += value;
  const mean = sum / samples.length;
  for (const value of samples) power += (value - mean) ** 2;
  return amplitude ** 2 / 2 >= (LEAST_SHARE_OF_POWER * power) / samples.length;
}

/** Places (in hops, between two of them) where the envelope passes the threshold; short holes and runs left out. */
function runsAbove(
  envelope: Float64Array,
  threshold: number,
  shortest: number,
): { from: number; to: number }[] {
  const runs: { from: number; to: number }[] = [];
  const crossing = (index: number) => {
    const [before, after] = [envelope[index - 1]!, envelope[index]!];
    return index - 1 + (threshold - before) / (after - before);
  };
  let from: number | null = null;
  for (let index = 0; index <= envelope.length; index += 1) {
    const isAbove = index < envelope.length && envelope[index]! >= threshold;
    if (isAbove && from === null) from = index === 0 ? 0 : crossing(index);
    if (isAbove || from === null) continue;
    const to = index === envelope.length ? envelope.length - 1 : crossing(index);
    const last = runs.at(-1);
    if (last !== undefined && from - last.to < shortest) last.to = to;
    else runs.push({ from, to });
    from = null;
  }
  return runs.filter((run) => run.to - run.from >= shortest);
}
