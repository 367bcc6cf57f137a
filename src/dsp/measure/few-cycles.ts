import { SegmentSpectrum } from '../distortion/segment-spectrum.ts';
import { fittedLine } from '../fit/fitted-line.ts';
import { type JointFit, jointFit } from '../fit/joint-fit.ts';
import { subtractPhasor } from '../fit/phasor-sums.ts';
import type { FittedTone, ToneBound } from '../fit/tone-fit.ts';

/** Below this many cycles in the whole record harmonics and DC leak into the tone's sums too much for closed forms. */
export const FEW_CYCLES = 12;

/** Fewer than two cycles are not told from a drift; a hair less, since noise moves the frequency found. */
const FEWEST = 1.95;

/** A tone of so few cycles that the usual search does not see it must carry this share of all that varies (THD up to 22 %). */
const LEAST_PURITY = 0.95;

/** Where that search gives up: it looks from 2.5 cycles up, and sees well from 4. */
const SEARCHED_TO = 4.5;
const SEARCH_STEP = 0.1;

/** Harmonics fitted together with the tone, first to see whether there are any, then to take them all. */
const FIRST_ORDERS = 8;
const MOST_ORDERS = 40;

/** A harmonic that is not this many standard uncertainties high would add more noise than it takes away. */
const SIGNIFICANT = 4;

export interface FewCycles {
  tone: FittedTone;
  bound: ToneBound;
  /** Of one segment, the record itself. */
  spectrum: SegmentSpectrum;
  /** Of the whole, DC out: the tone's own power and that of all it does not explain. */
  meanSquare: number;
}

/**
 * Measures a tone of which the whole record holds few cycles, from 2 up, by fitting it together with DC
 * and every significant harmonic: the fit reaches the Cramer-Rao bound of these unknowns.
 *
 * @param samples the whole record
 * @param startHz within half a bin of the tone, or `null` where the usual search saw none
 * @returns `null` where there is no such tone
 */
export function readFewCycles(
  samples: Float64Array,
  sampleRateHz: number,
  startHz: number | null,
): FewCycles | null {
  const start = startHz === null ? searchedStart(samples) : (2 * Math.PI * startHz) / sampleRateHz;
  const fit = start === null ? null : fitSignificant(samples, start);
  if (fit === null || fit.at.bases[0]! * samples.length < 2 * Math.PI * FEWEST) return null;
  const w = fit.at.bases[0]!;
  const [re, im] = [fit.at.cosine[0]!, -fit.at.sine[0]!];
  const amplitude = Math.hypot(re, im);
  const meanSquare = (amplitude * amplitude) / 2 + unexplained(samples, fit);
  if (startHz === null && amplitude * amplitude < 2 * LEAST_PURITY * meanSquare) return null;
  const frames = samples.length;
  const tone = { angularFrequency: w, amplitude, re, im, frames, centreFrame: (frames - 1) / 2 };
  const spectrum = spectrumBeside(samples, fit, sampleRateHz);
  const { uncertainty } = fittedLine(fit, 0, 2 * Math.PI);
  const noisier = Math.sqrt(Math.max(1, spectrum.noise.besideHarmonic(1) / fit.noiseVariance));
  return {
    tone,
    bound: {
      relativeAmplitude: (noisier * uncertainty.amplitude) / amplitude,
      angularFrequency: noisier * uncertainty.frequencyHz,
    },
    spectrum,
    meanSquare,
  };
}

/** Frequency from 2 to 4.5 cycles over the record at which a sine explains most, radians per frame. */
function searchedStart(samples: Float64Array): number | null {
  let best: { w: number; left: number } | null = null;
  for (let cycles = FEWEST; cycles <= SEARCHED_TO; cycles += SEARCH_STEP) {
    const w = (2 * Math.PI * cycles) / samples.length;
    const left = jointFit(samples, [[1]], [w], false)?.noiseVariance;
    if (left !== undefined && (best === null || left < best.left)) best = { w, left };
  }
  return best?.w ?? null;
}

/** The tone with all those harmonics that stand out of the noise. */
function fitSignificant(samples: Float64Array, start: number): JointFit | null {
  const alone = jointFit(samples, [[1]], [start], true);
  if (alone === null) return null;
  let fit = fitPruned(samples, alone.at.bases[0]!, FIRST_ORDERS);
  if (fit !== null && fit.orders.length > 1) fit = fitPruned(samples, fit.at.bases[0]!, MOST_ORDERS) ?? fit;
  return fit ?? alone;
}

function fitPruned(samples: Float64Array, w: number, mostOrders: number): JointFit | null {
  const held = Math.min(mostOrders, Math.ceil(Math.PI / w) - 1);
  const orders = Array.from({ length: held }, (_, at) => [at + 1]);
  const all = jointFit(samples, orders, [w], true);
  if (all === null) return null;
  const kept = orders.filter((_, k) => {
    if (k === 0) return true;
    const line = fittedLine(all, k, 2 * Math.PI);
    return line.amplitude > SIGNIFICANT * line.uncertainty.amplitude;
  });
  return kept.length === held ? all : jointFit(samples, kept, [all.at.bases[0]!], true);
}

/** Mean square of everything but DC and the fundamental. */
function unexplained(samples: Float64Array, fit: JointFit): number {
  const rest = withoutLines(samples, fit, [0]);
  let sum = 0;
  for (const left of rest) sum += (left - fit.at.dc) ** 2;
  return sum / rest.length;
}

function withoutLines(samples: Float64Array, fit: JointFit, lines: readonly number[]): Float64Array {
  const rest = samples.slice();
  for (const k of lines) {
    subtractPhasor(rest, fit.orders[k]![0]! * fit.at.bases[0]!, fit.at.cosine[k]!, fit.at.sine[k]!);
  }
  return rest;
}

/** Harmonics and noise of the record; those harmonics that were fitted are out of the way while the rest is read. */
function spectrumBeside(samples: Float64Array, fit: JointFit, sampleRateHz: number): SegmentSpectrum {
  const frames = samples.length;
  const frequencyHz = (fit.at.bases[0]! * sampleRateHz) / (2 * Math.PI);
  const spectrum = new SegmentSpectrum({ frames, sampleRateHz, lowestHz: frequencyHz * 0.97 });
  const harmonics = fit.orders.map((_, k) => k).slice(1);
  spectrum.begin(frequencyHz);
  spectrum.add(withoutLines(samples, fit, harmonics), 0);
  spectrum.finish(frames);
  const { view } = spectrum;
  const phase = Math.atan2(-fit.at.sine[0]!, fit.at.cosine[0]!);
  for (const k of harmonics) {
    const order = fit.orders[k]![0]!;
    if (order - 2 >= view.count) continue;
    const turn = order * phase;
    const [cosine, sine] = [fit.at.cosine[k]!, fit.at.sine[k]!];
    view.cosine[order - 2]! += cosine * Math.cos(turn) - sine * Math.sin(turn);
    view.sine[order - 2]! += cosine * Math.sin(turn) + sine * Math.cos(turn);
  }
  return spectrum;
}
