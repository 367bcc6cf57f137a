import { median } from '../statistics/median.ts';
import type { InputFinding } from './judgement.ts';
import type { Stretch } from './locate-steps.ts';
import type { BesideTone } from './noise-beside-tone.ts';

/** Noise in a pause this much under the noise beneath the tone was turned down. */
const GATED_DB = 10;

/** A pause whose noise falls by this much while it lasts. */
const DROP_DB = 6;

/** White noise of a player's 16-bit dither (references, item 17), dB against its full-scale sine, and a margin for it. */
const DITHER_DBFS = -93.3;
const DITHER_MARGIN_DB = 6;

const ZERO_RUN_FRAMES = 32;

const CELL_SECONDS = 0.05;

export interface PauseFacts {
  pauses: readonly Stretch[];
  underTone: BesideTone;
  inPause: BesideTone | null;
  /** The softest step: what was asked, and what came back. */
  askedDbfs: number;
  levelDbfs: number;
}

/**
 * Noise gates: noise that goes when the tone goes. Noise under the tone that the player's own dither or a
 * 16-bit input's own steps explain proves nothing, and is passed over.
 */
export function pauseFindings(
  samples: Float32Array | Float64Array,
  sampleRateHz: number,
  facts: PauseFacts,
): InputFinding[] {
  if (facts.pauses.length === 0) return [];
  const drop = largestDrop(samples, sampleRateHz, facts.pauses);
  if (drop !== null && drop >= DROP_DB) {
    return [gate(`the noise in a pause falls by ${drop.toFixed(0)} dB while nothing plays`)];
  }
  const under = facts.underTone.levelDbfs;
  const dither = DITHER_DBFS + facts.levelDbfs - facts.askedDbfs;
  if (under === null || under < Math.max(dither, DITHER_DBFS) + DITHER_MARGIN_DB) return [];
  const zeros = zeroShare(samples, facts.pauses);
  if (zeros > 0.05) {
    return [
      gate(
        `${Math.round(100 * zeros)} % of the pauses are exact zeros, while the tone has noise of ${under.toFixed(1)} dBFS under it`,
      ),
    ];
  }
  const pause = facts.inPause?.levelDbfs ?? null;
  if (pause === null || under - pause < GATED_DB) return [];
  return [
    gate(`the noise is ${pause.toFixed(1)} dBFS in the pauses and ${under.toFixed(1)} dBFS under the tone`),
  ];
}

function gate(what: string): InputFinding {
  return { fault: 'noise-gate', evidence: `A gate closes on silence: ${what}.` };
}

/**
 * Fall of the noise from a pause's first cells to its last, the largest of all pauses but the one before
 * the tone, where an input may just be starting. Levels are of the differences between neighbouring
 * samples, which leaves rumble out. `null` where every pause is too short.
 */
function largestDrop(
  samples: Float32Array | Float64Array,
  sampleRateHz: number,
  pauses: readonly Stretch[],
): number | null {
  const cell = Math.round(CELL_SECONDS * sampleRateHz);
  let most: number | null = null;
  for (const pause of pauses) {
    const cells = Math.floor((pause.to - pause.from) / cell);
    if (pause.from === 0 || cells < 4) continue;
    const levels = Float64Array.from({ length: cells }, (_, at) =>
      roughness(samples, pause.from + at * cell, cell),
    );
    const drop = 10 * Math.log10(Math.max(levels[0]!, levels[1]!) / Math.max(median(levels.slice(2)), 1e-20));
    // Below a 16-bit input's own rounding (differences have twice its variance) a fall proves nothing.
    if (Math.max(levels[0]!, levels[1]!) < 4 / 12 / 32_768 ** 2) continue;
    most = most === null ? drop : Math.max(most, drop);
  }
  return most;
}

function roughness(samples: Float32Array | Float64Array, from: number, frames: number): number {
  let sum = 0;
  for (let n = from + 1; n < from + frames; n += 1) sum += (samples[n]! - samples[n - 1]!) ** 2;
  return sum / frames;
}

function zeroShare(samples: Float32Array | Float64Array, pauses: readonly Stretch[]): number {
  let [zeros, frames] = [0, 0];
  for (const pause of pauses) {
    let run = 0;
    frames += pause.to - pause.from;
    for (let n = pause.from; n <= pause.to; n += 1) {
      if (n < pause.to && samples[n] === 0) {
        run += 1;
        continue;
      }
      if (run >= ZERO_RUN_FRAMES) zeros += run;
      run = 0;
    }
  }
  return zeros / frames;
}
