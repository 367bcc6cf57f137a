import type { PulseChannel } from '../../procedure/pulses/pulse-channel.ts';
import type { JobChannel } from '../document.ts';

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

/**
 * What a channel may pass: its filters as wanted, and its driver's own roll-off, of which only the usual range is
 * known: one band for each end of it. Where the job asks for no slope, Linkwitz-Riley of fourth order stands in (common
 * practice); a Bessel is taken for the Butterworth of its order, which it resembles within the band.
 */
export function expectedBands({ band, slopes }: Pick<JobChannel, 'band' | 'slopes'>): Bands {
  const filters = [
    filter('high-pass', band.highPassHz, slopes.highPass),
    filter('low-pass', band.lowPassHz, slopes.lowPass),
  ].filter((one) => one !== null);
  return rollOffs(band).map((cutoffHz) => [
    ...filters,
    { kind: 'high-pass', alignment: 'butterworth', order: 2, cutoffHz },
  ]);
}

function filter(
  kind: Filter['kind'],
  cutoffHz: number | null,
  wanted: JobChannel['slopes']['highPass'],
): Filter | null {
  if (cutoffHz === null) return null;
  const { alignment, order } = wanted ?? { alignment: 'linkwitz-riley', order: 4 };
  const isOdd = order % 2 === 1;
  return {
    kind,
    alignment: alignment === 'linkwitz-riley' && !isOdd ? 'linkwitz-riley' : 'butterworth',
    order,
    cutoffHz,
  };
}

function rollOffs({ highPassHz, lowPassHz }: JobChannel['band']): number[] {
  if (lowPassHz !== null && lowPassHz <= BASS_HZ) return BASS_ROLL_OFF_HZ;
  if (highPassHz !== null && highPassHz >= TREBLE_HZ) {
    return TREBLE_ROLL_OFF_SHARES.map((share) => share * highPassHz);
  }
  return DOOR_ROLL_OFF_HZ;
}
