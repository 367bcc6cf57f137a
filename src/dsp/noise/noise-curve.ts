import { fractionalOctaveBands } from '../bands/fractional-octave.ts';
import { SpectrumBands } from '../bands/spectrum-bands.ts';
import { AUDIO_BAND } from '../reading.ts';
import type { PowerDensity } from './power-density.ts';

/**
 * A noise spectrum to look at: the level in each twelfth of an octave, 20 Hz to 20 kHz as far as half the
 * sample rate holds it. A line shows with its own level, a floor with what falls into the band.
 */
export interface NoiseCurve {
  frequenciesHz: number[];
  /** Sine convention; `null` for digital silence. */
  levelsDbfs: (number | null)[];
}

/** Below some 50 Hz a band is narrower than a line's own lobe, which then shows a decibel or three low. */
export function noiseCurve(spectrum: PowerDensity): NoiseCurve {
  const highestHz = (spectrum.values.length - 1) * spectrum.binHz;
  const bands = fractionalOctaveBands(12, AUDIO_BAND.lowHz, AUDIO_BAND.highHz).filter(
    (band) => band.highHz <= highestHz,
  );
  const meanSquares = new Float64Array(bands.length);
  // Every band is shown, resolved or not, so the noise bandwidth is of no account here.
  new SpectrumBands(bands, { binHz: spectrum.binHz, noiseBandwidthHz: spectrum.binHz }).meanSquares(
    spectrum.values,
    meanSquares,
  );
  return {
    frequenciesHz: bands.map((band) => band.centreHz),
    levelsDbfs: Array.from(meanSquares, (square) => (square > 0 ? 10 * Math.log10(2 * square) : null)),
  };
}
