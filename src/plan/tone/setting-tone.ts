import { figure } from '../figures.ts';
import { PlanRefused, positive } from '../refused.ts';

/** Pass band of one channel; `null` where there is no filter on that side. */
export interface ChannelBand {
  highPassHz: number | null;
  lowPassHz: number | null;
}

/** Where a meter's volts are to be believed. */
export interface MeterBand {
  lowHz: number;
  highHz: number;
}

/**
 * Band of an inexpensive multimeter's AC range. Common practice, not a
 * standard: 40 to 400 Hz is specified nearly everywhere, 1 kHz mostly holds
 * within a little more; read the meter's own sheet.
 */
export const USUAL_METER_BAND: MeterBand = { lowHz: 40, highHz: 1000 };

/** 997 Hz: AES17's test frequency; a prime, so it divides no sample rate and walks through every code. */
const USUAL_TONE_HZ = 997;

const HEARING_HZ = { low: 20, high: 20_000 };

/** Least distance from a multiple of 50 or 60 Hz, so that hum stays apart from the tone and its harmonics. */
const MAINS_CLEARANCE_HZ = 3;

/** Harmonics that must stay clear of the mains as well: those a clipped tone shows first. */
const HARMONICS_CLEAR = 5;

export interface SettingTone {
  frequencyHz: number;
  /** False where the channel's band leaves no room inside the meter's: then the meter's reading needs a check. */
  insideMeterBand: boolean;
}

/**
 * Frequency of the tone that a channel's gain is set with: {@link settingTone}
 * with the usual meter band.
 */
export function settingToneHz(band: ChannelBand): number {
  return settingTone(band).frequencyHz;
}

/**
 * Chooses the setting tone of a channel.
 *
 * An octave inside the band its filters take little (a fourth-order
 * Linkwitz-Riley 0.5 dB, against 6 dB at its corner), so the tone keeps that
 * far in where the band is two octaves wide, and else sits in its middle.
 * 997 Hz where that and the meter's band allow it. Else as near the band's
 * middle (geometric, open ends at 20 Hz and 20 kHz) as the meter's band
 * allows; from there the nearest prime that keeps {@link MAINS_CLEARANCE_HZ}
 * from every multiple of 50 and 60 Hz, its first harmonics too. A prime above
 * 7 divides none of the usual sample rates (8000 to 192 000 Hz have no prime
 * factor but 2, 3, 5 and 7), so the tone does not repeat the same few codes.
 * A band too narrow to hold one gets its middle.
 *
 * @throws PlanRefused where high-pass and low-pass leave no band, or a corner is not above 0 Hz.
 */
export function settingTone(band: ChannelBand, meter: MeterBand = USUAL_METER_BAND): SettingTone {
  const pass = passBand(band);
  const inner = innerBand(band, pass);
  if (isInside(USUAL_TONE_HZ, inner) && isInside(USUAL_TONE_HZ, meter)) {
    return { frequencyHz: USUAL_TONE_HZ, insideMeterBand: true };
  }
  const middleHz = Math.sqrt(pass.lowHz * pass.highHz);
  const wishHz = Math.min(Math.max(middleHz, meter.lowHz), meter.highHz);
  const aimHz = Math.min(Math.max(wishHz, inner.lowHz), inner.highHz);
  const shared = { lowHz: Math.max(pass.lowHz, meter.lowHz), highHz: Math.min(pass.highHz, meter.highHz) };
  const room = isInside(aimHz, shared) ? shared : pass;
  const frequencyHz = nearest(aimHz, room, isClearPrime) ?? nearest(aimHz, room, isPrimeOffMains) ?? aimHz;
  return { frequencyHz, insideMeterBand: isInside(frequencyHz, meter) };
}

/** The band less an octave at each filter; its middle alone where the filters stand too close for that. */
function innerBand(band: ChannelBand, pass: MeterBand): MeterBand {
  const lowHz = band.highPassHz === null ? pass.lowHz : 2 * pass.lowHz;
  const highHz = band.lowPassHz === null ? pass.highHz : pass.highHz / 2;
  if (lowHz <= highHz) return { lowHz, highHz };
  const middleHz = Math.sqrt(pass.lowHz * pass.highHz);
  return { lowHz: middleHz, highHz: middleHz };
}

function passBand(band: ChannelBand): MeterBand {
  const lowHz =
    band.highPassHz === null ? HEARING_HZ.low : positive(band.highPassHz, 'The high-pass, in Hz,');
  const highHz = band.lowPassHz === null ? HEARING_HZ.high : positive(band.lowPassHz, 'The low-pass, in Hz,');
  if (lowHz < highHz) return { lowHz, highHz };
  throw new PlanRefused(
    `A high-pass at ${figure(lowHz)} Hz and a low-pass at ${figure(highHz)} Hz leave no band; the high-pass must be the lower one.`,
  );
}

function isInside(hz: number, band: MeterBand): boolean {
  return hz >= band.lowHz && hz <= band.highHz;
}

/** Whole number in the band, nearest to `aimHz` by ratio, that passes. */
function nearest(aimHz: number, band: MeterBand, passes: (hz: number) => boolean): number | null {
  let up = Math.ceil(aimHz);
  let down = up - 1;
  while (up <= band.highHz || down >= band.lowHz) {
    const goUp = up <= band.highHz && (down < band.lowHz || up / aimHz <= aimHz / down);
    const hz = goUp ? up++ : down--;
    if (passes(hz)) return hz;
  }
  return null;
}

function isClearPrime(hz: number): boolean {
  if (!isPrime(hz)) return false;
  return Array.from({ length: HARMONICS_CLEAR }, (_, index) => (index + 1) * hz).every(isOffMains);
}

function isPrimeOffMains(hz: number): boolean {
  return isPrime(hz) && isOffMains(hz);
}

function isOffMains(hz: number): boolean {
  return [50, 60].every((mains) => {
    const past = hz % mains;
    return hz < mains / 2 || Math.min(past, mains - past) >= MAINS_CLEARANCE_HZ;
  });
}

/** Prime and above 7, the largest prime factor of a usual sample rate. */
function isPrime(hz: number): boolean {
  if (hz <= 7) return false;
  for (let divisor = 2; divisor * divisor <= hz; divisor++) {
    if (hz % divisor === 0) return false;
  }
  return true;
}
