import type { SweepDeconvolver } from './deconvolver.ts';
import type { Gate } from './gate.ts';
import { findCluster } from './locate.ts';
import { type QuietStretch, type ResponseSpectrum, responseSpectrum } from './response-spectrum.ts';
import { harmonicLeadSeconds } from './sweep-law.ts';

/**
 * The gate: 0.15 s ahead holds what a band limited to 20 Hz rings ahead of its arrival and what lossy coding
 * smears, 0.5 s holds the decay of an eighth-order filter at 20 Hz (12 of its time constants) and any cabin.
 */
const BEFORE_SECONDS = 0.15;
const AFTER_SECONDS = 0.5;
/** No more of the way to the 2nd harmonic's arrival than this. */
const SHARE_TO_SECOND = 0.45;
/** Harmonics up to this order are kept out of the noise. */
const HIGHEST_HARMONIC = 10;

/** The frames of a recording ahead of the sweep's start that its window takes in. */
export function leadFrames(sampleRateHz: number): number {
  return Math.round(0.3 * sampleRateHz);
}

export function gateFor(deconvolver: SweepDeconvolver): Gate {
  const { sampleRateHz, spec } = deconvolver;
  const before = Math.min(BEFORE_SECONDS, SHARE_TO_SECOND * harmonicLeadSeconds(spec, 2));
  return { before: Math.round(before * sampleRateHz), after: Math.round(AFTER_SECONDS * sampleRateHz) };
}

export interface AnalysedSweep {
  /** Circular impulse response. */
  response: Float64Array;
  /** Frame of the response at which the energy arrives. */
  arrival: number;
  /** Where there is noise alone. */
  quiet: QuietStretch;
  spectrum: ResponseSpectrum;
}

/** @returns `null` where the window holds no sweep */
export function analyseSweep(
  deconvolver: SweepDeconvolver,
  recording: ArrayLike<number>,
): AnalysedSweep | null {
  const { sampleRateHz, length, sweepFrames, spec } = deconvolver;
  const response = new Float64Array(length);
  deconvolver.matchedResponse(recording, response);
  const found = findCluster(response, length - sweepFrames, sampleRateHz);
  if (found === null) return null;
  deconvolver.impulseResponse(recording, response);
  const gate = gateFor(deconvolver);
  const arrival = found.delayFrames;
  const quiet = {
    from: arrival + gate.after,
    to:
      arrival + length - Math.round(harmonicLeadSeconds(spec, HIGHEST_HARMONIC) * sampleRateHz) - gate.before,
  };
  return {
    response,
    arrival,
    quiet,
    spectrum: responseSpectrum(response, sampleRateHz, arrival, gate, quiet),
  };
}
