import { highestPlace } from './golden-section.ts';
import { SincInterpolator } from './sinc-interpolator.ts';

const sinc = new SincInterpolator();

export interface PeakArrival {
  /** Fraction of a frame from the first sample. */
  frame: number;
  /** Value there; its sign is not polarity (see `polarity.ts`). */
  value: number;
}

/**
 * Absolute peak of an impulse response or cross-correlation, between samples: the delay of wide-band equipment as in
 * AES17-2015 6.8.2. In a narrow band the peak is late by the filter's own delay, and reflections move it:
 * `polarity.ts` fits those.
 *
 * @returns null for silence, for nothing, or where a sample is no number
 */
export function peakArrival(response: ArrayLike<number>): PeakArrival | null {
  let top = 0;
  for (let frame = 0; frame < response.length; frame += 1) {
    const height = Math.abs(response[frame]!);
    if (!Number.isFinite(height)) return null;
    if (height > Math.abs(response[top]!)) top = frame;
  }
  if (response.length === 0 || response[top] === 0) return null;
  const sign = Math.sign(response[top]!);
  const frame = highestPlace((place) => sign * sinc.valueAt(response, place), top - 1, top + 1);
  return { frame, value: sinc.valueAt(response, frame) };
}
