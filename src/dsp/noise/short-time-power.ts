import { cosineWindow, HANN } from '../spectrum/cosine-windows.ts';
import { RealFft } from '../spectrum/real-fft.ts';

/** Power spectra of short frames, one after the other. */
export interface ShortTimePower {
  binHz: number;
  bins: number;
  frames: number;
  /** Middle of frame `m` is `(m + 1) * hopSeconds` from the start. */
  hopSeconds: number;
  /** Mean square of each bin (full scale 1.0 squared): frame after frame, `bins` at a time. */
  power: Float64Array;
  /** Of the window: a line's mean square is the sum over its bins divided by this. */
  noiseBandwidthBins: number;
}

const HANN_NOISE_BANDWIDTH = 1.5;

/** @param frameFrames a power of two; frames overlap by half */
export function shortTimePower(
  samples: Float64Array,
  sampleRateHz: number,
  frameFrames: number,
): ShortTimePower {
  const window = cosineWindow(HANN, frameFrames);
  const fft = new RealFft(frameFrames);
  const hop = frameFrames / 2;
  const bins = frameFrames / 2 + 1;
  const frames = Math.max(0, Math.floor(samples.length / hop) - 1);
  const power = new Float64Array(frames * bins);
  // Hann's coherent gain is 1/2; a line's mean square is half its peak squared.
  const scale = 2 / (0.5 * frameFrames) ** 2;
  const { input, spectrum } = fft;
  for (let frame = 0; frame < frames; frame += 1) {
    for (let n = 0; n < frameFrames; n += 1) input[n] = samples[frame * hop + n]! * window[n]!;
    fft.transform();
    for (let bin = 0; bin < bins; bin += 1) {
      const re = spectrum[2 * bin]!;
      const im = spectrum[2 * bin + 1]!;
      power[frame * bins + bin] = scale * (re * re + im * im);
    }
  }
  return {
    binHz: sampleRateHz / frameFrames,
    bins,
    frames,
    hopSeconds: hop / sampleRateHz,
    power,
    noiseBandwidthBins: HANN_NOISE_BANDWIDTH,
  };
}

/** Median over time of every bin, put right to the mean that noise of that median has (ln 2 of it). */
export function usualPower(spectra: ShortTimePower): Float64Array {
  const usual = new Float64Array(spectra.bins);
  const series = new Float64Array(spectra.frames);
  for (let bin = 0; bin < spectra.bins; bin += 1) {
    for (let frame = 0; frame < spectra.frames; frame += 1)
      series[frame] = spectra.power[frame * spectra.bins + bin]!;
    series.sort();
    usual[bin] = series[spectra.frames >> 1]! / Math.LN2;
  }
  return usual;
}

/** Median over time of a line's power at a bin (Hann spreads it over three), sine convention; 0 past the ends. */
export function medianPowerAround(spectra: ShortTimePower, bin: number): number {
  if (bin < 1 || bin + 1 >= spectra.bins) return 0;
  const series = new Float64Array(spectra.frames);
  for (let frame = 0; frame < spectra.frames; frame += 1) {
    const at = frame * spectra.bins + bin;
    series[frame] = spectra.power[at - 1]! + spectra.power[at]! + spectra.power[at + 1]!;
  }
  series.sort();
  return (2 * series[spectra.frames >> 1]!) / spectra.noiseBandwidthBins;
}
