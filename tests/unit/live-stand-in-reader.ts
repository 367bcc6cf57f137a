/**
 * A four-parameter sine fit (IEEE 1057, annex on sine fitting) by Gauss-Newton,
 * written for these tests alone, so that the live part is tested apart from the
 * analyser it is used with.
 */
import type { MakeWindowReader } from '../../src/dsp/live/live-analyser.ts';
import type { ChannelReading, ToneReading } from '../../src/dsp/reading.ts';

/** @param nearHz the tone to fit, known to the test to within a bin. */
export function standInReader(nearHz: number): MakeWindowReader {
  return (_frames, sampleRateHz) => ({
    analyse: (samples) => readChannel(samples, nearHz, sampleRateHz),
  });
}

function readChannel(samples: Float32Array, nearHz: number, rateHz: number): ChannelReading {
  const mean = samples.reduce((sum, x) => sum + x, 0) / samples.length;
  const rms = Math.sqrt(samples.reduce((sum, x) => sum + (x - mean) ** 2, 0) / samples.length);
  const tone = rms > 0 ? fitSine(samples, nearHz, rateHz) : null;
  const peak = samples.reduce((highest, x) => Math.max(highest, Math.abs(x)), 0);
  return {
    levelDbfs: rms > 0 ? 20 * Math.log10(rms * Math.SQRT2) : null,
    samplePeakDbfs: peak > 0 ? 20 * Math.log10(peak) : null,
    truePeakDbtp: null,
    crestFactorDb: null,
    dcFullScale: mean,
    tone,
    clipping: {
      verdict: peak >= 1 ? 'input-overload' : 'clean',
      side: null,
      overdriveDb: null,
      kneeDbfs: null,
      evidence: [],
    },
  };
}

function fitSine(samples: Float32Array, nearHz: number, rateHz: number): ToneReading | null {
  let omega = (2 * Math.PI * nearHz) / rateHz;
  let solved = [0, 0, 0, 0];
  for (let pass = 0; pass < 6; pass++) {
    solved = leastSquares(samples, omega, solved);
    omega += solved[3] as number;
  }
  const [a, b] = solved as [number, number];
  const amplitude = Math.hypot(a, b);
  const noise = residualRms(samples, omega, solved);
  const snr = amplitude ** 2 / 2 / Math.max(noise ** 2, 1e-20);
  if (snr < 4) return null;
  const n = samples.length;
  // Cramer-Rao bound for the frequency of one sine, Rife and Boorstyn 1974.
  const sigmaHz = (Math.sqrt(12 / (snr * n)) / n / (2 * Math.PI)) * rateHz;
  return {
    frequencyHz: (omega * rateHz) / (2 * Math.PI),
    levelDbfs: 20 * Math.log10(amplitude),
    phaseRadians: Math.atan2(-b, a),
    thdPercent: 0,
    thdPlusNoisePercent: 100 / Math.sqrt(snr + 1),
    sinadDb: 10 * Math.log10(snr + 1),
    noiseDbfs: 20 * Math.log10(Math.max(noise, 1e-10) * Math.SQRT2),
    harmonicsDbc: [],
    uncertainty: { levelDb: 8.7 / Math.sqrt(snr * n), frequencyHz: sigmaHz },
  };
}

/** Solves for cosine, sine, offset and a step of omega. */
function leastSquares(samples: Float32Array, omega: number, last: readonly number[]): number[] {
  const matrix = Array.from({ length: 4 }, () => new Float64Array(5));
  const withStep = last.some((value) => value !== 0);
  for (let n = 0; n < samples.length; n++) {
    const c = Math.cos(omega * n);
    const s = Math.sin(omega * n);
    const slope = withStep ? n * (-(last[0] as number) * s + (last[1] as number) * c) : 0;
    const row = [c, s, 1, slope];
    for (let i = 0; i < 4; i++) {
      for (let j = 0; j < 4; j++) (matrix[i] as Float64Array)[j]! += (row[i] as number) * (row[j] as number);
      (matrix[i] as Float64Array)[4]! += (row[i] as number) * (samples[n] as number);
    }
  }
  return eliminate(matrix, withStep ? 4 : 3);
}

function eliminate(matrix: Float64Array[], size: number): number[] {
  const out = [0, 0, 0, 0];
  for (let i = 0; i < size; i++)
    for (let k = i + 1; k < size; k++) {
      const factor = matrix[k]![i]! / matrix[i]![i]!;
      for (let j = i; j < 5; j++) matrix[k]![j]! -= factor * matrix[i]![j]!;
    }
  for (let i = size - 1; i >= 0; i--) {
    let sum = matrix[i]![4]!;
    for (let j = i + 1; j < size; j++) sum -= matrix[i]![j]! * out[j]!;
    out[i] = sum / matrix[i]![i]!;
  }
  return out;
}

function residualRms(samples: Float32Array, omega: number, solved: readonly number[]): number {
  let sum = 0;
  for (let n = 0; n < samples.length; n++) {
    const model = solved[0]! * Math.cos(omega * n) + solved[1]! * Math.sin(omega * n) + solved[2]!;
    sum += (samples[n]! - model) ** 2;
  }
  return Math.sqrt(sum / samples.length);
}
