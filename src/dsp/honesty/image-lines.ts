import { type SpectralLine, spectralLines } from '../noise/spectral-lines.ts';
import type { InputFinding } from './judgement.ts';
import type { BesideTone } from './noise-beside-tone.ts';

/** Rates that sound is made at. */
const OTHER_RATES_HZ = [8000, 11_025, 16_000, 22_050, 24_000, 32_000, 44_100, 48_000, 88_200, 96_000];

/** Multiples of the other rate about which images are looked for. */
const HIGHEST_MULTIPLE = 6;

/** Softer images do not matter to any reading. */
const LEAST_DBC = -100;

/** A line at a harmonic, or one that the pause has as well (within this), is no image. */
const SAME_DB = 10;

const TOLERANCE_BINS = 1.5;

/**
 * Images of the tone at places that only another sample rate explains: a tone `f` carried from rate `R`
 * keeps remnants at `k R - f` and `k R + f`, folded into the new band. Two of one rate are asked for.
 */
export function imageFinding(
  loud: BesideTone,
  pause: BesideTone | null,
  sampleRateHz: number,
  tone: { frequencyHz: number; levelDbfs: number },
): InputFinding | null {
  const { binHz } = loud.spectrum;
  const within = TOLERANCE_BINS * binHz;
  const strange = spectralLines(loud.spectrum, loud.floor, 100, 0.495 * sampleRateHz).filter(
    (line) =>
      line.levelDbfs > tone.levelDbfs + LEAST_DBC &&
      !isHarmonic(line.frequencyHz, tone.frequencyHz, sampleRateHz, within) &&
      !inPause(line, pause),
  );
  if (strange.length < 2) return null;
  let best: { otherHz: number; hits: SpectralLine[]; weight: number } | null = null;
  for (const otherHz of OTHER_RATES_HZ) {
    if (otherHz === sampleRateHz) continue;
    const hits = strange.filter(
      (line) => multipleAt(line.frequencyHz, tone, otherHz, sampleRateHz, within) !== null,
    );
    // The strongest images lie about the lowest multiple: 44100 Hz explains with 1 what 4 * 11025 Hz does with 4.
    const weight = hits.reduce((sum, line) => {
      const multiple = multipleAt(line.frequencyHz, tone, otherHz, sampleRateHz, within)!;
      return sum + 10 ** (line.levelDbfs / 20) / multiple;
    }, 0);
    if (hits.length >= 2 && (best === null || weight > best.weight)) best = { otherHz, hits, weight };
  }
  return best === null ? null : sentence(best.otherHz, best.hits, sampleRateHz, tone.levelDbfs);
}

function sentence(
  otherHz: number,
  hits: SpectralLine[],
  sampleRateHz: number,
  toneDbfs: number,
): InputFinding {
  const loudestFirst = [...hits].sort((a, b) => b.levelDbfs - a.levelDbfs);
  const listed = loudestFirst.slice(0, 4).map((line) => line.frequencyHz.toFixed(0));
  return {
    fault: 'resampled',
    evidence: `Images of the tone at ${listed.join(', ')} Hz, the strongest ${(loudestFirst[0]!.levelDbfs - toneDbfs).toFixed(0)} dBc: the sound was converted between ${otherHz} and ${sampleRateHz} Hz.`,
  };
}

/** The lowest multiple of the other rate about which the tone has an image here; `null` where none has. */
function multipleAt(
  hz: number,
  tone: { frequencyHz: number },
  otherHz: number,
  sampleRateHz: number,
  within: number,
): number | null {
  for (let multiple = 1; multiple <= HIGHEST_MULTIPLE; multiple += 1) {
    for (const sign of [-1, 1]) {
      const image = folded(multiple * otherHz + sign * tone.frequencyHz, sampleRateHz);
      if (Math.abs(image - hz) <= within) return multiple;
    }
  }
  return null;
}

/** Harmonics past half the rate fold back; they are the tone's own, wherever they land. */
function isHarmonic(hz: number, fundamentalHz: number, sampleRateHz: number, within: number): boolean {
  for (let order = 1; order * fundamentalHz < 3 * sampleRateHz; order += 1) {
    if (Math.abs(folded(order * fundamentalHz, sampleRateHz) - hz) <= within)
      return order <= 10 || order % 2 === 1;
  }
  return false;
}

function inPause(line: { frequencyHz: number; levelDbfs: number }, pause: BesideTone | null): boolean {
  if (pause === null) return false;
  const binHz = pause.spectrum.binHz;
  return spectralLines(pause.spectrum, pause.floor, 100, 1e9).some(
    (other) =>
      Math.abs(other.frequencyHz - line.frequencyHz) <= 2 * pause.spectrum.lobeBins * binHz &&
      other.levelDbfs > line.levelDbfs - SAME_DB,
  );
}

function folded(hz: number, sampleRateHz: number): number {
  const within = Math.abs(hz) % sampleRateHz;
  return Math.min(within, sampleRateHz - within);
}
