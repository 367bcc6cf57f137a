import type { PulseChannel } from '../../procedure/pulses/pulse-channel.ts';
import type { Job, JobChannel } from '../document.ts';

type Bands = PulseChannel['bands'];
type Filter = Bands[number][number];

/** Up to here a driver is a bass driver, and its own roll-off lies inside its band. */
const BASS_HZ = 200;
/** From here up a driver is a tweeter, with its resonance well below its filter. */
const TREBLE_HZ = 1000;

/** Where a driver rolls off by itself, in its enclosure: second order, between these (common practice). */
const BASS_ROLL_OFF_HZ = [30, 45];
const DOOR_ROLL_OFF_HZ = [50, 90];
const TREBLE_ROLL_OFF_SHARES = [0.25, 0.5];

type Slope = { alignment: 'butterworth' | 'linkwitz-riley' | 'bessel'; order: number };

/**
 * What a channel may pass: its filters as its newest crossover record found them, else as wanted, and its driver's own
 * roll-off, of which only the usual range is known: one band for each end of it. A filter other than expected puts a
 * subwoofer's arrival out by milliseconds. Where the job asks for no slope, Linkwitz-Riley of fourth order stands in
 * (common practice); a Bessel is taken for the Butterworth of its order, which it resembles within the band.
 */
export function expectedBands(
  { id, band, slopes }: Pick<JobChannel, 'id' | 'band' | 'slopes'>,
  records: Job['records'] = [],
): Bands {
  const last = records.findLast((one) => one.kind === 'crossover' && one.result.channelId === id);
  const measured = last?.kind === 'crossover' ? last.result : null;
  const filters = [
    filter('high-pass', measured?.highPass.found ?? null, band.highPassHz, slopes.highPass),
    filter('low-pass', measured?.lowPass.found ?? null, band.lowPassHz, slopes.lowPass),
  ].filter((one) => one !== null);
  return rollOffs(band).map((cutoffHz) => [
    ...filters,
    { kind: 'high-pass', alignment: 'butterworth', order: 2, cutoffHz },
  ]);
}

/** A corner that was found without a shape of its own has the wanted one. */
function filter(
  kind: Filter['kind'],
  found: { alignment: Slope['alignment'] | null; order: number | null; cutoffHz: number } | null,
  wantedHz: number | null,
  wanted: Slope | null,
): Filter | null {
  const cutoffHz = found?.cutoffHz ?? wantedHz;
  if (cutoffHz === null) return null;
  const fallback = wanted ?? { alignment: 'linkwitz-riley', order: 4 };
  const alignment = found?.alignment ?? fallback.alignment;
  const order = found?.order ?? fallback.order;
  // No Linkwitz-Riley is of odd order.
  const isLinkwitzRiley = alignment === 'linkwitz-riley' && order % 2 === 0;
  return { kind, alignment: isLinkwitzRiley ? 'linkwitz-riley' : 'butterworth', order, cutoffHz };
}

function rollOffs({ highPassHz, lowPassHz }: JobChannel['band']): number[] {
  if (lowPassHz !== null && lowPassHz <= BASS_HZ) return BASS_ROLL_OFF_HZ;
  if (highPassHz !== null && highPassHz >= TREBLE_HZ) {
    return TREBLE_ROLL_OFF_SHARES.map((share) => share * highPassHz);
  }
  return DOOR_ROLL_OFF_HZ;
}
