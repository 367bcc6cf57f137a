import { fitAtKnownFrequency } from '../fit/known-frequency-fit.ts';
import type { StepsSpec } from '../tones/spec.ts';

/** Half-open stretch of frames. */
export interface Stretch {
  from: number;
  to: number;
}

export interface LocatedSteps {
  startSeconds: number;
  /** Each step without its fades. */
  steps: Stretch[];
  /** Before, between and after, away from the tone's ends; those too short to be used are left out. */
  pauses: Stretch[];
}

/** A cell holds at least one and a half cycles, which a fit needs. */
const CELL_SECONDS = 0.02;
const CELL_CYCLES = 1.5;

/** What the search is off by (two cells) and a fade of the tone are left out at each end. */
const EDGE_CELLS = 3;

/** Lead-in and tail that count against a place that is wrong. */
const OUTSIDE_SECONDS = 0.4;

/** On average the tone must stand this far over the pauses. */
const LEAST_CONTRAST_DB = 6;

/** A room's decay after the tone, over and above the edge. */
const DECAY_SECONDS = 0.04;

const SHORTEST_PAUSE_SECONDS = 0.1;

/**
 * Where the steps lie: the place at which the tone's level (dB) is highest inside the steps against the
 * pauses around them. Which step is how loud does not enter, since an input may have levelled them.
 *
 * @returns `null` where no place fits
 */
export function locateSteps(
  samples: Float32Array | Float64Array,
  sampleRateHz: number,
  spec: StepsSpec,
): LocatedSteps | null {
  const cellFrames = Math.round(Math.max(CELL_SECONDS, CELL_CYCLES / spec.frequencyHz) * sampleRateHz);
  const cellSeconds = cellFrames / sampleRateHz;
  const levels = cellLevels(samples, (2 * Math.PI * spec.frequencyHz) / sampleRateHz, cellFrames);
  const sums = new Float64Array(levels.length + 1);
  for (const [cell, level] of levels.entries()) sums[cell + 1] = sums[cell]! + level;
  const every = spec.stepSeconds + spec.pauseSeconds;
  const count = spec.levelsDbfs.length;
  const total = count * every - spec.pauseSeconds;
  const last = samples.length / sampleRateHz - total;
  let best: { start: number; contrast: number } | null = null;
  for (let start = -0.5 * spec.stepSeconds; start <= last + 0.5 * spec.stepSeconds; start += cellSeconds) {
    const contrast = contrastAt(sums, cellSeconds, start, spec);
    if (contrast !== null && (best === null || contrast > best.contrast)) best = { start, contrast };
  }
  if (best === null || best.contrast < LEAST_CONTRAST_DB) return null;
  const edgeSeconds = EDGE_CELLS * cellSeconds;
  if (best.start < -edgeSeconds || best.start > last + edgeSeconds) return null;
  return stretches(best.start, edgeSeconds, spec, { sampleRateHz, frames: samples.length });
}

function cellLevels(samples: Float32Array | Float64Array, w: number, frames: number): Float64Array {
  const fit = { dc: 0, re: 0, im: 0 };
  const levels = new Float64Array(Math.floor(samples.length / frames));
  for (let cell = 0; cell < levels.length; cell += 1) {
    fitAtKnownFrequency(samples, cell * frames, frames, w, fit);
    levels[cell] = 20 * Math.log10(Math.max(Math.hypot(fit.re, fit.im), 1e-7));
  }
  return levels;
}

/** Mean inside less mean outside, cells at edges left out; `null` where too little of the steps is recorded. */
function contrastAt(sums: Float64Array, cellSeconds: number, start: number, spec: StepsSpec): number | null {
  let [inside, insideCells, outside, outsideCells] = [0, 0, 0, 0];
  const every = spec.stepSeconds + spec.pauseSeconds;
  const total = (from: number, to: number): [number, number] => {
    const first = Math.max(0, Math.min(sums.length - 1, Math.ceil(from / cellSeconds + 1)));
    const end = Math.max(first, Math.min(sums.length - 1, Math.floor(to / cellSeconds - 1)));
    return [sums[end]! - sums[first]!, end - first];
  };
  for (let step = 0; step < spec.levelsDbfs.length; step += 1) {
    const from = start + step * every;
    const [sum, cells] = total(from, from + spec.stepSeconds);
    const isLast = step + 1 === spec.levelsDbfs.length;
    const [gap, gapCells] = total(
      from + spec.stepSeconds,
      from + spec.stepSeconds + (isLast ? OUTSIDE_SECONDS : spec.pauseSeconds),
    );
    inside += sum;
    insideCells += cells;
    outside += gap;
    outsideCells += gapCells;
  }
  const [before, beforeCells] = total(start - OUTSIDE_SECONDS, start);
  outside += before;
  outsideCells += beforeCells;
  if (insideCells * cellSeconds < 0.8 * spec.stepSeconds * spec.levelsDbfs.length || outsideCells === 0)
    return null;
  return inside / insideCells - outside / outsideCells;
}

function stretches(
  start: number,
  edgeSeconds: number,
  spec: StepsSpec,
  { sampleRateHz, frames }: { sampleRateHz: number; frames: number },
): LocatedSteps {
  const clip = (seconds: number) => Math.max(0, Math.min(frames, Math.round(seconds * sampleRateHz)));
  const every = spec.stepSeconds + spec.pauseSeconds;
  const ends = spec.levelsDbfs.map((_, step) => ({
    on: start + step * every,
    off: start + step * every + spec.stepSeconds,
  }));
  const steps = ends.map(({ on, off }) => ({ from: clip(on + edgeSeconds), to: clip(off - edgeSeconds) }));
  const between = ends.slice(1).map(({ on }, step) => ({
    from: clip(ends[step]!.off + edgeSeconds + DECAY_SECONDS),
    to: clip(on - edgeSeconds),
  }));
  const lead = { from: 0, to: clip(start - edgeSeconds) };
  const tail = { from: clip(ends.at(-1)!.off + edgeSeconds + DECAY_SECONDS), to: frames };
  const long = ({ from, to }: Stretch) => to - from >= SHORTEST_PAUSE_SECONDS * sampleRateHz;
  return { startSeconds: start, steps, pauses: [lead, ...between, tail].filter(long) };
}
