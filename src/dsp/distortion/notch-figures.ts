import { fitFourParameters } from '../fit/sine-fit.ts';
import { AUDIO_BAND, type Band } from '../reading.ts';
import { kaiserWindow } from '../spectrum/kaiser.ts';
import { RealFft, transformLength } from '../spectrum/real-fft.ts';
import { Notch } from './notch.ts';

/** Side lobes at -155 dB: what leaks into the band from outside stays under 24 bits. */
const BETA = 20;

/** Resolution at which the band's edges are cut, Hz; the window's lobe is 6.4 times as wide. */
const BIN_HZ = 1.5;

/** Where the notch takes more than half of a line's power, nothing is given back. */
const LEAST_RESPONSE = 0.5;

export interface NotchOptions {
  sampleRateHz: number;
  /** About where the tone is, within half a bin of the record; the notch follows the tone itself. */
  frequencyHz: number;
  /** 1.2 to 3; 2 unless given. */
  q?: number;
  /** 20 Hz to 20 kHz unless given. */
  band?: Band;
}

export interface NotchFigures {
  /** What an analyser with this notch shows: residual over total, AES17-2015 6.3.1. */
  thdPlusNoisePercent: number;
  sinadDb: number;
  /**
   * The same with the notch's own attenuation (0.2 to 1.2 dB at the 2nd harmonic) given back outside its
   * 3 dB width. Only the noise within half of frequency over Q of the tone stays reduced.
   */
  compensatedThdPlusNoisePercent: number;
  compensatedSinadDb: number;
  /** Frequency that the notch was set to. */
  frequencyHz: number;
}

/**
 * THD+N and SINAD by a notch at the tone, then a sharp band in the frequency domain (AES17-2015 5.2.5,
 * 5.2.8, 5.2.10). The total is the fitted fundamental, wherever it lies, and the compensated residual.
 *
 * @returns `null` where no tone is found, or the record is no longer than the notch's settling
 * @throws RangeError for a Q outside 1.2 to 3
 */
export function notchFigures(
  samples: Float32Array | Float64Array,
  options: NotchOptions,
): NotchFigures | null {
  const { sampleRateHz, q = 2, band = AUDIO_BAND } = options;
  const tone = fitFourParameters(samples, sampleRateHz, options.frequencyHz);
  const line = tone?.lines[0];
  if (!tone || !line) return null;
  const notch = new Notch(line.frequencyHz, sampleRateHz, q);
  if (samples.length < 2 * notch.settlingFrames) return null;
  const level = Float64Array.from(samples, (x) => x - tone.dc);
  const rest = notch.filtered(level).subarray(notch.settlingFrames);
  const { plain, compensated } = bandPower(rest, notch, sampleRateHz, band);
  const total = line.amplitude ** 2 / 2 + compensated;
  return {
    thdPlusNoisePercent: 100 * Math.sqrt(plain / total),
    sinadDb: -10 * Math.log10(plain / total),
    compensatedThdPlusNoisePercent: 100 * Math.sqrt(compensated / total),
    compensatedSinadDb: -10 * Math.log10(compensated / total),
    frequencyHz: line.frequencyHz,
  };
}

/** Mean square inside the band, as it is and with the notch's response divided out. */
function bandPower(
  rest: Float64Array,
  notch: Notch,
  sampleRateHz: number,
  band: Band,
): { plain: number; compensated: number } {
  const frames = Math.min(rest.length, transformLength(sampleRateHz / BIN_HZ));
  const fft = new RealFft(transformLength(frames));
  const window = kaiserWindow(BETA, frames);
  const power = new Float64Array(fft.length / 2 + 1);
  let weight = 0;
  for (let from = 0; from + frames <= rest.length; from += Math.ceil(frames / 4)) {
    for (let n = 0; n < frames; n += 1) {
      fft.input[n] = rest[from + n]! * window[n]!;
      weight += window[n]! * window[n]!;
    }
    fft.transform();
    for (let b = 0; b < power.length; b += 1) {
      power[b]! += fft.spectrum[2 * b]! ** 2 + fft.spectrum[2 * b + 1]! ** 2;
    }
  }
  const perBin = 2 / (fft.length * weight);
  const binHz = sampleRateHz / fft.length;
  let plain = 0;
  let compensated = 0;
  for (let b = 0; b < power.length; b += 1) {
    const share = Math.min(b + 0.5, band.highHz / binHz) - Math.max(b - 0.5, band.lowHz / binHz, 0);
    if (share <= 0) continue;
    const response = notch.powerResponse((2 * Math.PI * b) / fft.length);
    const passed = share * perBin * power[b]!;
    plain += passed;
    compensated += response > LEAST_RESPONSE ? passed / response : passed;
  }
  return { plain, compensated };
}
