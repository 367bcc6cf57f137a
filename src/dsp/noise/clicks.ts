import { median } from '../statistics/median.ts';
import { predictionResidual } from './prediction-residual.ts';

export interface Click {
  /** Of its largest sample, from the start of the record. */
  seconds: number;
  /** Peak of what it adds to the sound around it, dB against full scale 1.0. */
  peakDbfs: number;
}

/** Over the scatter of the residual around it. White noise reaches it once in 1e22 samples. */
const DEVIATIONS = 10;

/** Softer ones are below a 16-bit recording's own steps. */
const LEAST_PEAK = 2 / 32_768;

/** ... and softer ones than this, against the sound around them (-70 dB), nobody hears. */
const LEAST_SHARE = 10 ** (-70 / 20);

/** The scale is worked out in cells of this many frames. */
const CELL_FRAMES = 256;

/** Excesses nearer than this belong to one event; an event that lasts longer is a sound, not a click. */
const SAME_SECONDS = 0.005;
const LONGEST_SECONDS = 0.004;

/** Median of the magnitude of normal noise, in standard deviations. */
const MEDIAN_OF_NORMAL = 0.6745;

/**
 * Impulses that stand out of the sound around them, with their times. The start of a note is none unless it
 * jumps. The corners of a clipped wave are, so a clipped record shows crowds of them.
 */
export function findClicks(samples: Float32Array | Float64Array, sampleRateHz: number): Click[] {
  const residual = predictionResidual(samples);
  const scatter = cellScale(residual, (cell) => median(cell.map(Math.abs)) / MEDIAN_OF_NORMAL);
  const loudness = cellScale(samples, (cell) =>
    Math.sqrt(cell.reduce((sum, x) => sum + x * x, 0) / cell.length),
  );
  const clicks: Click[] = [];
  let event: { first: number; last: number; top: number } | null = null;
  const close = () => {
    if (event !== null && event.last - event.first <= LONGEST_SECONDS * sampleRateHz) {
      const peak = Math.abs(residual[event.top]!);
      clicks.push({ seconds: event.top / sampleRateHz, peakDbfs: 20 * Math.log10(peak) });
    }
    event = null;
  };
  for (let n = 0; n < residual.length; n += 1) {
    const size = Math.abs(residual[n]!);
    if (size < LEAST_PEAK) continue;
    const cell = Math.floor(n / CELL_FRAMES);
    if (size < DEVIATIONS * scatter[cell]! || size < LEAST_SHARE * loudness[cell]!) continue;
    if (event !== null && n - event.last > SAME_SECONDS * sampleRateHz) close();
    event ??= { first: n, last: n, top: n };
    event.last = n;
    if (size > Math.abs(residual[event.top]!)) event.top = n;
  }
  close();
  return clicks;
}

/** A figure of each cell; the largest of it and its neighbours, so that an onset weighs on what is before it. */
function cellScale(
  values: Float32Array | Float64Array,
  figure: (cell: Float64Array) => number,
): Float64Array {
  const cells = Math.ceil(values.length / CELL_FRAMES);
  const own = new Float64Array(cells);
  for (let cell = 0; cell < cells; cell += 1) {
    own[cell] = figure(Float64Array.from(values.subarray(cell * CELL_FRAMES, (cell + 1) * CELL_FRAMES)));
  }
  return own.map((value, cell) => Math.max(value, own[cell - 1] ?? 0, own[cell + 1] ?? 0));
}
