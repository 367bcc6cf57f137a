import { CoarseToneFinder } from '../fit/coarse-tone.ts';
import { fitAtKnownFrequency } from '../fit/known-frequency-fit.ts';
import { wrappedPhase } from '../fit/wrapped-phase.ts';
import { transformLength } from '../spectrum/real-fft.ts';
import { median, NORMAL_PER_MEDIAN } from '../statistics/median.ts';
import type { Dropout } from './dropouts.ts';

/** A tone that holds less of the power is one among others; its phase is not looked at. */
const LEAST_SHARE = 0.5;

/** The tone's phase is read in blocks of so many seconds or cycles, whichever is longer. */
const BLOCK_SECONDS = 0.01;
const BLOCK_CYCLES = 4;

/** A jump smaller than this (one frame of a 1 kHz tone at 48 kHz is 0.13) is taken for noise. */
const LEAST_JUMP = 0.06;
const DEVIATIONS = 8;

const SEARCH_SECONDS = 1;

/**
 * Places where a steady tone goes on at another place of its cycle: frames were lost or put in twice.
 * Two clocks that drift apart bend the phase; they do not break it.
 *
 * @returns nothing where no single tone makes up most of the record
 */
export function findPhaseBreaks(samples: Float32Array | Float64Array, sampleRateHz: number): Dropout[] {
  const search = Math.min(samples.length, transformLength(SEARCH_SECONDS * sampleRateHz) / 2);
  if (search < 256) return [];
  const middle = Math.floor((samples.length - search) / 2);
  const coarse = new CoarseToneFinder(search, sampleRateHz).find(samples.subarray(middle), null);
  if (coarse === null || coarse.share < LEAST_SHARE) return [];
  const blockFrames = Math.round(Math.max(BLOCK_SECONDS, BLOCK_CYCLES / coarse.frequencyHz) * sampleRateHz);
  const { phases, amplitudes } = blockPhases(
    samples,
    (2 * Math.PI * coarse.frequencyHz) / sampleRateHz,
    blockFrames,
  );
  // Second differences over one block: what the frequency is off by falls out, and a jump stays.
  const steps = phases.slice(1).map((phase, at) => wrappedPhase(phase - phases[at]!));
  const usual = median(steps);
  const away = steps.map((step) => wrappedPhase(step - usual));
  const scatter = NORMAL_PER_MEDIAN * median(away.map(Math.abs));
  const bar = Math.max(LEAST_JUMP, DEVIATIONS * scatter);
  const level = median(amplitudes);
  return jumps(away, bar, (block) => Math.abs(amplitudes[block]! / level - 1) < 0.5).map(
    ({ block, phaseRadians }) => ({
      kind: 'phase-break',
      seconds: ((block + 1) * blockFrames) / sampleRateHz,
      lengthSeconds: 0,
      phaseRadians,
    }),
  );
}

/** A break inside a block shows half to each side: neighbouring steps beyond the bar are one jump, summed. */
function jumps(
  away: Float64Array,
  bar: number,
  steady: (block: number) => boolean,
): { block: number; phaseRadians: number }[] {
  const found: { block: number; phaseRadians: number }[] = [];
  for (let at = 1; at + 2 < away.length; at += 1) {
    const pair = away[at]! + away[at + 1]!;
    const alone = Math.abs(away[at - 1]!) < bar / 2 && Math.abs(away[at + 2]!) < bar / 2;
    if (!alone || Math.abs(wrappedPhase(pair)) < bar || Math.abs(away[at]!) < bar / 8) continue;
    if (!steady(at - 1) || !steady(at + 3)) continue;
    found.push({ block: at, phaseRadians: wrappedPhase(pair) });
    at += 2;
  }
  return found;
}

function blockPhases(samples: Float32Array | Float64Array, w: number, blockFrames: number) {
  const blocks = Math.floor(samples.length / blockFrames);
  const phases = new Float64Array(blocks);
  const amplitudes = new Float64Array(blocks);
  const fit = { dc: 0, re: 0, im: 0 };
  for (let block = 0; block < blocks; block += 1) {
    fitAtKnownFrequency(samples, block * blockFrames, blockFrames, w, fit);
    phases[block] = Math.atan2(fit.im, fit.re) - w * block * blockFrames;
    amplitudes[block] = Math.hypot(fit.re, fit.im);
  }
  return { phases, amplitudes };
}
