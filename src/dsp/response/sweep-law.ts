import type { SweepSpec } from '../tones/spec.ts';

/** As the renderer has it: above this share of the rate no sweep is rendered. */
const HIGHEST_SHARE_OF_RATE = 0.45;

/** Seconds in which the frequency grows by a factor of e: the `L` of Farina's formula. */
export function growthSeconds(spec: SweepSpec): number {
  return spec.durationSeconds / Math.log(spec.endHz / spec.startHz);
}

/** How far ahead of the linear response that of harmonic `order` arrives: `L ln N` (Farina 2000). */
export function harmonicLeadSeconds(spec: SweepSpec, order: number): number {
  return growthSeconds(spec) * Math.log(order);
}

/**
 * The part of a sweep that a recording at this rate can hold: a sweep that runs past 0.45 of the rate ends there,
 * on the same law, so the recording of the whole still matches it up to that frequency.
 *
 * @throws RangeError where the recording's rate is too low for any of it
 */
export function sweepWithin(spec: SweepSpec, sampleRateHz: number): SweepSpec {
  const highestHz = HIGHEST_SHARE_OF_RATE * sampleRateHz;
  if (spec.endHz <= highestHz) return spec;
  if (highestHz < 2 * spec.startHz) {
    throw new RangeError(
      `A recording at ${sampleRateHz} Hz reaches ${highestHz} Hz; the sweep begins at ${spec.startHz} Hz.`,
    );
  }
  const durationSeconds = growthSeconds(spec) * Math.log(highestHz / spec.startHz);
  return { ...spec, endHz: highestHz, durationSeconds };
}
