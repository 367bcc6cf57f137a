import { cosineWindow, HANN } from '../spectrum/cosine-windows.ts';

/** Enough for a handful of lines over noise; more would begin to predict a click from itself. */
const ORDER = 32;

const BLOCK_FRAMES = 2048;

/** White noise mixed into the model, -100 dB: keeps the equations solvable for a pure tone. */
const REGULARISATION = 1e-10;

/**
 * What each sample has that those before it do not foretell: the residual of linear prediction, by the
 * autocorrelation method with the Levinson-Durbin recursion (J. Makhoul, Proc. IEEE 63(4) 1975), block by
 * block. Tones and coloured noise come out flat and small; a click comes out as it is. The first samples
 * have no past and are left 0.
 */
export function predictionResidual(samples: Float32Array | Float64Array): Float64Array {
  const residual = new Float64Array(samples.length);
  const window = cosineWindow(HANN, BLOCK_FRAMES);
  const windowed = new Float64Array(BLOCK_FRAMES);
  const correlation = new Float64Array(ORDER + 1);
  const predictor = new Float64Array(ORDER + 1);
  const hop = BLOCK_FRAMES / 2;
  for (let start = 0; start < samples.length; start += hop) {
    const centred = Math.max(0, Math.min(start - hop / 2, samples.length - BLOCK_FRAMES));
    for (let n = 0; n < BLOCK_FRAMES; n += 1) windowed[n] = (samples[centred + n] ?? 0) * window[n]!;
    autocorrelate(windowed, correlation);
    solve(correlation, predictor);
    const end = Math.min(samples.length, start + hop);
    for (let n = Math.max(start, ORDER); n < end; n += 1) {
      let sum = samples[n]!;
      for (let k = 1; k <= ORDER; k += 1) sum += predictor[k]! * samples[n - k]!;
      residual[n] = sum;
    }
  }
  return residual;
}

function autocorrelate(windowed: Float64Array, into: Float64Array): void {
  for (let lag = 0; lag <= ORDER; lag += 1) {
    let sum = 0;
    for (let n = lag; n < windowed.length; n += 1) sum += windowed[n]! * windowed[n - lag]!;
    into[lag] = sum;
  }
  into[0] = into[0]! * (1 + REGULARISATION);
}

/** Levinson and Durbin: `into[1..]` are the predictor's coefficients with `into[0]` = 1; all 0 for silence. */
function solve(correlation: Float64Array, into: Float64Array): void {
  into.fill(0);
  into[0] = 1;
  let error = correlation[0]!;
  for (let order = 1; order <= ORDER && error > 0; order += 1) {
    let sum = correlation[order]!;
    for (let k = 1; k < order; k += 1) sum += into[k]! * correlation[order - k]!;
    const reflection = -sum / error;
    for (let k = 1; 2 * k <= order; k += 1) {
      const [low, high] = [into[k]!, into[order - k]!];
      into[k] = low + reflection * high;
      if (2 * k !== order) into[order - k] = high + reflection * low;
    }
    into[order] = reflection;
    error *= 1 - reflection * reflection;
  }
}
