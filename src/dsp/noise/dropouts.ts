import { median } from '../statistics/median.ts';
export interface Dropout {
  /** `zeros`: exact zeros in a sound. `held`: one value repeated. `gap`: the level falls away and comes back. `phase-break`: a tone goes on at another place of its cycle. */
  kind: 'zeros' | 'held' | 'gap' | 'phase-break';
  /** Of its first frame, from the start of the record. */
  seconds: number;
  /** 0 for a phase break. */
  lengthSeconds: number;
  /** Of a phase break; `null` for the others. */
  phaseRadians: number | null;
}

/** A converter's noise never gives so many exact zeros in a row. */
const ZERO_RUN_FRAMES = 32;

/** One value so often in a row, where the samples around it hardly ever repeat. */
const HELD_RUN_FRAMES = 24;

/** Of the samples around a held run, at most this share repeat the one before. */
const MOST_REPEATS = 0.25;

/** How far around a run its surroundings reach, frames. */
const AROUND_FRAMES = 256;

/** Zeros beside samples smaller than this (four steps of 16 bits) may be a faint sound's own rounding. */
const QUIET_EDGE = 4 / 32_768;

const CELL_SECONDS = 0.005;
/** A level that falls by so much within two cells, and comes back as fast, was cut. */
const GAP_DB = 26;
const LONGEST_GAP_SECONDS = 0.3;
/** Both sides of a gap are one sound. */
const SIDES_WITHIN_DB = 10;
/** Cells to each side over which that sound's level is taken. */
const SIDE_CELLS = 8;
/** Below this a level is a floor, and its gaps are of no account. */
const LEAST_LEVEL = 1e-4;

/** Stretches of a record that were lost: zeros, held values, level gaps. Earliest first. */
export function findDropouts(samples: Float32Array | Float64Array, sampleRateHz: number): Dropout[] {
  const runs = lostRuns(samples, sampleRateHz);
  const gaps = levelGaps(samples, sampleRateHz).filter(
    (gap) => !runs.some((run) => Math.abs(run.seconds - gap.seconds) < gap.lengthSeconds + 4 * CELL_SECONDS),
  );
  return [...runs, ...gaps].sort((a, b) => a.seconds - b.seconds);
}

function lostRuns(samples: Float32Array | Float64Array, sampleRateHz: number): Dropout[] {
  const found: Dropout[] = [];
  for (let first = 0; first < samples.length; ) {
    const value = samples[first]!;
    let end = first + 1;
    while (end < samples.length && samples[end] === value) end += 1;
    const kind = kindOfRun(samples, first, end);
    // What is silent from the start, or to the end, was not lost: nothing was there.
    if (kind !== null && first > 0 && end < samples.length) {
      const lengthSeconds = (end - first) / sampleRateHz;
      found.push({ kind, seconds: first / sampleRateHz, lengthSeconds, phaseRadians: null });
    }
    first = end;
  }
  return found;
}

function kindOfRun(
  samples: Float32Array | Float64Array,
  first: number,
  end: number,
): 'zeros' | 'held' | null {
  const length = end - first;
  if (length < HELD_RUN_FRAMES) return null;
  const around = surroundings(samples, first, end);
  if (samples[first] === 0) {
    return length >= ZERO_RUN_FRAMES && around.edge > QUIET_EDGE && around.repeats <= MOST_REPEATS
      ? 'zeros'
      : null;
  }
  // A flat top lies at the highest or lowest value; a held sample lies anywhere.
  const isCrest = samples[first]! >= around.highest || samples[first]! <= around.lowest;
  return !isCrest && around.repeats <= MOST_REPEATS ? 'held' : null;
}

function surroundings(samples: Float32Array | Float64Array, first: number, end: number) {
  let [repeats, count] = [0, 0];
  let [highest, lowest] = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
  let edge = 0;
  const look = (from: number, to: number) => {
    for (let n = Math.max(1, from); n < Math.min(samples.length, to); n += 1) {
      const x = samples[n]!;
      count += 1;
      if (x === samples[n - 1]) repeats += 1;
      highest = Math.max(highest, x);
      lowest = Math.min(lowest, x);
      edge = Math.max(edge, Math.abs(x));
    }
  };
  look(first - AROUND_FRAMES, first);
  look(end + 1, end + AROUND_FRAMES);
  return { repeats: count > 0 ? repeats / count : 1, highest, lowest, edge };
}

function levelGaps(samples: Float32Array | Float64Array, sampleRateHz: number): Dropout[] {
  const cellFrames = Math.max(1, Math.round(CELL_SECONDS * sampleRateHz));
  const levels = cellLevels(samples, cellFrames);
  const fall = 10 ** (-GAP_DB / 20);
  const found: Dropout[] = [];
  for (let cell = SIDE_CELLS; cell + SIDE_CELLS < levels.length; cell += 1) {
    const before = median(levels.subarray(cell - SIDE_CELLS, cell));
    if (before < LEAST_LEVEL || levels[cell]! > fall * before) continue;
    // The cell two earlier still held the sound: it was cut, it did not die away.
    if (levels[cell - 2]! < 0.3 * before) continue;
    let end = cell;
    while (end < levels.length && levels[end]! <= fall * before) end += 1;
    const after = median(levels.subarray(end + 1, end + 1 + SIDE_CELLS));
    const sides = Math.abs(20 * Math.log10(after / before));
    const cameBack = levels[end + 1] !== undefined && levels[end + 1]! > 0.3 * before;
    if (cameBack && sides < SIDES_WITHIN_DB && (end - cell) * CELL_SECONDS <= LONGEST_GAP_SECONDS) {
      const seconds = (cell * cellFrames) / sampleRateHz;
      found.push({
        kind: 'gap',
        seconds,
        lengthSeconds: ((end - cell) * cellFrames) / sampleRateHz,
        phaseRadians: null,
      });
    }
    cell = end;
  }
  return found;
}

function cellLevels(samples: Float32Array | Float64Array, cellFrames: number): Float64Array {
  const levels = new Float64Array(Math.floor(samples.length / cellFrames));
  for (let cell = 0; cell < levels.length; cell += 1) {
    let sum = 0;
    for (let n = cell * cellFrames; n < (cell + 1) * cellFrames; n += 1) sum += samples[n]! * samples[n]!;
    levels[cell] = Math.sqrt(sum / cellFrames);
  }
  return levels;
}
