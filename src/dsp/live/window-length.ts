/**
 * How long a stretch one live reading covers. A window must hold some 15
 * periods of the tone, or neighbouring harmonics and the fundamental's own
 * mirror image run into one another; a longer one answers later.
 */

const SHORT_FRAMES = 8192;
/** Rate at which the lengths above are meant; other rates are scaled by whole octaves. */
const NOMINAL_RATE_HZ = 48_000;
const SHORT_ABOVE_HZ = 150;
const MIDDLE_ABOVE_HZ = 40;
/** A tone that sits on a border must not flip the window to and fro. */
const HYSTERESIS = 0.1;

/** The longest window at this rate, frames. */
export function longestWindowFrames(sampleRateHz: number): number {
  return 4 * shortestWindowFrames(sampleRateHz);
}

/** The shortest window at this rate, frames: a power of two near 0.17 s. */
function shortestWindowFrames(sampleRateHz: number): number {
  return SHORT_FRAMES * 2 ** Math.round(Math.log2(sampleRateHz / NOMINAL_RATE_HZ));
}

/**
 * @param toneHz the tone's frequency, or `null` where none is known: the middle length, which finds any tone.
 * @param currentFrames the length in use, or 0; it is kept within 10 % of a border.
 */
export function windowFramesFor(toneHz: number | null, sampleRateHz: number, currentFrames: number): number {
  const short = shortestWindowFrames(sampleRateHz);
  if (toneHz === null) return 2 * short;
  const wanted = short * octavesLonger(toneHz);
  if (currentFrames === 0 || wanted === currentFrames) return wanted;
  const lenient = currentFrames > wanted ? toneHz / (1 + HYSTERESIS) : toneHz * (1 + HYSTERESIS);
  return short * octavesLonger(lenient) === currentFrames ? currentFrames : wanted;
}

function octavesLonger(toneHz: number): number {
  if (toneHz >= SHORT_ABOVE_HZ) return 1;
  return toneHz >= MIDDLE_ABOVE_HZ ? 2 : 4;
}
