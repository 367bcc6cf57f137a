/**
 * Length of the raised-cosine fade at both ends of every tone. 15 ms spreads
 * the onset over some 70 Hz, which no tweeter answers with a click, and is
 * still short against the quarter second that a reading needs.
 */
export const FADE_SECONDS = 0.015;

/**
 * Fades both ends of `samples` in place with a raised cosine; the first and
 * the last sample become exactly 0. Stretches shorter than two fades are
 * faded over half their length each.
 */
export function fadeEnds(samples: Float64Array, sampleRateHz: number): void {
  const frames = Math.min(Math.round(FADE_SECONDS * sampleRateHz), Math.floor(samples.length / 2));
  const last = samples.length - 1;
  for (let frame = 0; frame < frames; frame += 1) {
    const gain = 0.5 - 0.5 * Math.cos((Math.PI * frame) / frames);
    samples[frame] = samples[frame]! * gain;
    samples[last - frame] = samples[last - frame]! * gain;
  }
}
