import type { Comb } from '../../dsp/noise/mains-comb.ts';
import type { NoiseTakeReading } from '../take/noise-take.ts';
import type { NoiseState, WayIn } from './noise.ts';

/** What pulling the signal lead took away of a sound, and what that means. */
export interface Traced {
  wayIn: WayIn;
  /** `null` where not tried. A sound that is gone lost at least this much. */
  lossUnpluggedDb: number | null;
}

const NOT_TOLD: Traced = { wayIn: 'not-told', lossUnpluggedDb: null };

/** Less of a change than this is the engine's own unsteadiness; more than the other, and the lead carried it. Common practice. */
const REMAINS_DB = 3;
const GONE_DB = 10;

/** An idle wanders by so much between two recordings. */
const SAME_PITCH = 0.05;

/** @param combs as heard with the lead plugged in */
export function traceRipple(
  { unplugged }: Pick<NoiseState, 'unplugged'>,
  combs: { idle: Comb | null; revved: Comb | null },
): Traced {
  if (unplugged === null || unplugged.engine === 'off') return NOT_TOLD;
  const plugged = combs[unplugged.engine];
  return plugged === null ? NOT_TOLD : traced(plugged, unplugged.reading);
}

export function traceHum({ unplugged, takes }: Pick<NoiseState, 'unplugged' | 'takes'>): Traced {
  if (unplugged === null) return NOT_TOLD;
  const plugged = takes[unplugged.engine]?.mains ?? null;
  return plugged === null ? NOT_TOLD : traced(plugged, unplugged.reading);
}

function traced(plugged: Comb, without: NoiseTakeReading): Traced {
  const lossUnpluggedDb = plugged.levelDbfs - levelLeft(plugged, without);
  if (lossUnpluggedDb >= GONE_DB) return { wayIn: 'signal-lead', lossUnpluggedDb };
  return { wayIn: lossUnpluggedDb <= REMAINS_DB ? 'amplifier-supply' : 'both', lossUnpluggedDb };
}

/** Everything at the comb's places in the other recording: lines, or what a line would need to stand over the floor. */
function levelLeft({ fundamentalHz, lines }: Comb, without: NoiseTakeReading): number {
  const orders = lines.map(({ order }) => order);
  const moving = without.engine;
  if (moving !== null && Math.abs(moving.fundamentalHz / fundamentalHz - 1) <= SAME_PITCH) {
    return moving.levelDbfs;
  }
  const found = without.floor.lines.filter(({ frequencyHz }) =>
    orders.some((order) => Math.abs(frequencyHz / (order * fundamentalHz) - 1) <= SAME_PITCH),
  );
  const power = found.reduce((sum, line) => sum + 10 ** (line.levelDbfs / 10), 0);
  return power > 0 ? 10 * Math.log10(power) : floorAround(fundamentalHz, without);
}

/** Floor in the third of an octave around the fundamental, from its octave's. */
function floorAround(fundamentalHz: number, { floor }: NoiseTakeReading): number {
  const nearest = floor.octaves.reduce((best, octave) =>
    Math.abs(Math.log(octave.nominalHz / fundamentalHz)) < Math.abs(Math.log(best.nominalHz / fundamentalHz))
      ? octave
      : best,
  );
  const THIRD_OF_IT_DB = 10 * Math.log10(3);
  return nearest.floorDbfs === null ? Number.NEGATIVE_INFINITY : nearest.floorDbfs - THIRD_OF_IT_DB;
}
