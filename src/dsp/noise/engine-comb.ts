import { bestCombTrack, type CombTrack } from './comb-track.ts';
import { type Comb, type CombLine, combOf } from './mains-comb.ts';
import { type ShortTimePower, usualPower } from './short-time-power.ts';

/** A comb that moves: what follows the engine's speed. */
export interface EngineComb extends Comb {
  /** `fundamentalHz` is the middle of these; levels are means over the time it was heard. */
  lowestHz: number;
  highestHz: number;
  /** Where the fundamental was, frame by frame. */
  trackSeconds: number[];
  trackHz: number[];
  /** Part of the frames in which it stands over the floor, 0 to 1. */
  presence: number;
}

/**
 * The path's score in noise alone is 1.90, with a scatter of some 0.25/sqrt(frames) (measured: 48 records
 * of white noise, 3 to 30 s; the highest 1.99, of 3 s). This bar is eight standard deviations up.
 */
const SCORE_IN_NOISE = 1.9;
const SCORE_MARGIN = 2.1;

/** Less motion than this is a steady tone or a path that sits still. */
const LEAST_MOTION = 0.03;
const LEAST_MOTION_BINS = 2;

/** A frame shows the comb where a harmonic holds this much more than the floor under it. */
const PRESENT = 3;

const HIGHEST_ORDER = 6;

/**
 * A comb of unknown fundamental that moves with time, if there is one. Steady lines do not disturb it,
 * because each bin is weighed against its own usual power.
 *
 * @param spectra of samples from which a mains comb was taken out
 */
export function findEngineComb(spectra: ShortTimePower): EngineComb | null {
  const floor = usualPower(spectra);
  const track = bestCombTrack(spectra, floor);
  if (track === null || track.score < SCORE_IN_NOISE + SCORE_MARGIN / Math.sqrt(spectra.frames)) return null;
  const trackHz = smoothTrack(track, spectra.binHz);
  const sorted = Float64Array.from(trackHz).sort();
  const [lowestHz, middleHz, highestHz] = [0.05, 0.5, 0.95].map(
    (part) => sorted[Math.round(part * (sorted.length - 1))]!,
  ) as [number, number, number];
  const motionHz = highestHz - lowestHz;
  if (motionHz < LEAST_MOTION * middleHz || motionHz < LEAST_MOTION_BINS * spectra.binHz) return null;
  const { lines, presence } = harmonicLevels(spectra, floor, trackHz, middleHz);
  if (lines.length === 0) return null;
  return {
    ...combOf(middleHz, lines),
    lowestHz,
    highestHz,
    trackSeconds: trackHz.map((_, frame) => (frame + 1) * spectra.hopSeconds),
    trackHz,
    presence,
  };
}

/** The path runs on a grid of half bins; a mean over five frames that lie on a line brings it between them. */
function smoothTrack({ halfBins }: CombTrack, binHz: number): number[] {
  return Array.from(halfBins, (_, frame) => {
    const reach = Math.min(2, frame, halfBins.length - 1 - frame);
    let sum = 0;
    for (let at = frame - reach; at <= frame + reach; at += 1) sum += halfBins[at]!;
    return ((sum / (2 * reach + 1)) * binHz) / 2;
  });
}

function harmonicLevels(
  spectra: ShortTimePower,
  floor: Float64Array,
  trackHz: readonly number[],
  middleHz: number,
): { lines: CombLine[]; presence: number } {
  const shown = new Uint8Array(spectra.frames);
  const lines: CombLine[] = [];
  for (let order = 1; order <= HIGHEST_ORDER; order += 1) {
    let [over, aside, frames] = [0, 0, 0];
    for (let frame = 0; frame < spectra.frames; frame += 1) {
      const at = harmonicPower(spectra, floor, frame, trackHz, order);
      if (at === null) continue;
      over += at.power - at.floor;
      aside += thirdOctave(floor, (order * trackHz[frame]!) / spectra.binHz);
      frames += 1;
      if (at.power > PRESENT * at.floor) shown[frame] = 1;
    }
    // A harmonic that is not there still gathers the noise's scatter: a tenth of the floor is none.
    if (frames === 0 || over < 0.1 * aside) continue;
    const meanSquare = over / frames / spectra.noiseBandwidthBins;
    lines.push({
      order,
      frequencyHz: order * middleHz,
      levelDbfs: 10 * Math.log10(2 * meanSquare),
      overFloorDb: 10 * Math.log10(over / aside),
      wanderHz: order * scatter(trackHz),
    });
  }
  return { lines, presence: shown.reduce((sum, value) => sum + value, 0) / spectra.frames };
}

function scatter(values: readonly number[]): number {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  return Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / values.length);
}

/** What lies in the bins over which the harmonic sweeps while the frame lasts; `null` past the top. */
function harmonicPower(
  spectra: ShortTimePower,
  floor: Float64Array,
  frame: number,
  trackHz: readonly number[],
  order: number,
): { power: number; floor: number } | null {
  const before = trackHz[Math.max(0, frame - 1)]!;
  const after = trackHz[Math.min(trackHz.length - 1, frame + 1)]!;
  const swept = (order * Math.abs(after - before)) / 2 / spectra.binHz;
  const centre = Math.round((order * trackHz[frame]!) / spectra.binHz);
  const reach = 2 + Math.ceil(swept);
  if (centre + reach >= spectra.bins) return null;
  let [power, under] = [0, 0];
  for (let bin = Math.max(1, centre - reach); bin <= centre + reach; bin += 1) {
    power += spectra.power[frame * spectra.bins + bin]!;
    under += floor[bin]!;
  }
  return { power, floor: under };
}

function thirdOctave(floor: Float64Array, centreBin: number): number {
  const from = Math.max(1, Math.round(centreBin / 2 ** (1 / 6)));
  const to = Math.min(floor.length - 1, Math.round(centreBin * 2 ** (1 / 6)));
  let sum = 0;
  for (let bin = from; bin <= to; bin += 1) sum += floor[bin]!;
  return sum;
}
