import { type Comb, combOf } from '../../dsp/noise/mains-comb.ts';
import type { SpectralLine } from '../../dsp/noise/spectral-lines.ts';
import { findSteadyComb } from '../../dsp/noise/steady-comb.ts';
import type { NoiseTakeReading } from '../take/noise-take.ts';

/** Two lines are one where they lie this near, in spacings of the spectrum or as a share of the frequency. */
const SAME_SPACINGS = 2;
const SAME_SHARE = 0.002;

/** A line that was there before counts as new once it stands so much higher. */
const RISEN_DB = 6;

function isSameHz(aHz: number, bHz: number, resolutionHz: number): boolean {
  return Math.abs(aHz - bHz) <= Math.max(SAME_SPACINGS * resolutionHz, SAME_SHARE * aHz);
}

/** Lines of a recording that are not the mains'; none where clicks or a programme make lines of their own. */
export function ownLines({ floor, mains, otherSound, resolutionHz }: NoiseTakeReading): SpectralLine[] {
  if (otherSound?.kind === 'programme') return [];
  return floor.lines.filter(
    (line) => !mains?.lines.some((held) => isSameHz(line.frequencyHz, held.frequencyHz, resolutionHz)),
  );
}

/** Lines that the other recording has not got, or has much lower. */
export function withoutThoseOf(
  lines: readonly SpectralLine[],
  others: readonly SpectralLine[],
  resolutionHz: number,
): SpectralLine[] {
  return lines.filter(
    (line) =>
      !others.some(
        (other) =>
          isSameHz(line.frequencyHz, other.frequencyHz, resolutionHz) &&
          line.levelDbfs < other.levelDbfs + RISEN_DB,
      ),
  );
}

/** Lines that stand in both recordings at one place. */
export function alsoIn(
  lines: readonly SpectralLine[],
  others: readonly SpectralLine[],
  resolutionHz: number,
): SpectralLine[] {
  return lines.filter((line) =>
    others.some((other) => isSameHz(line.frequencyHz, other.frequencyHz, resolutionHz)),
  );
}

export function withoutComb(
  lines: readonly SpectralLine[],
  comb: Comb | null,
  resolutionHz: number,
): SpectralLine[] {
  if (comb === null) return [...lines];
  return lines.filter(
    (line) => !comb.lines.some((held) => isSameHz(line.frequencyHz, held.frequencyHz, resolutionHz)),
  );
}

/** The strongest comb among lines; its fundamental is the mean of what its lines say, strong ones first. */
export function combAmong(lines: readonly SpectralLine[], resolutionHz: number): Comb | null {
  const found = findSteadyComb(lines, resolutionHz);
  if (found === null) return null;
  let [sum, weights] = [0, 0];
  for (const { frequencyHz, order, levelDbfs, wanderHz } of found.lines) {
    // A line tells the fundamental the better the higher its order, and the worse the more it wanders.
    const weight = (order ** 2 * 10 ** (levelDbfs / 10)) / (resolutionHz ** 2 + wanderHz ** 2);
    sum += (weight * frequencyHz) / order;
    weights += weight;
  }
  return combOf(sum / weights, found.lines);
}
