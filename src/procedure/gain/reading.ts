import { highOrderPercent } from '../../dsp/knee/high-order.ts';
import type { LiveReading } from '../../dsp/reading.ts';
import { dbfsToVolts } from '../../plan/units/full-scale.ts';
import type { GainReading } from './gain.ts';

/** What one full-scale sine is in volts at the measured point, and how well that is known. */
export interface InputScale {
  voltsPerFs: number;
  /** Relative standard uncertainty (k = 1), dB. */
  uncertaintyDb: number;
}

const VOLTS_PER_DB = Math.LN10 / 20;

/**
 * The Gain station's part of a live reading.
 *
 * `volts` is the fundamental's RMS at the measured point, `voltsPerFs * 10^(levelDbfs / 20)`;
 * `null` without calibration or without a tone (silence has none). Its standard uncertainty joins the
 * calibration's and the sine fit's in quadrature (JCGM 100, 5.1.2). A level that is not a finite
 * number counts as no tone.
 *
 * @throws RangeError where the reading has no such channel.
 */
export function gainReading(
  live: LiveReading,
  channelIndex: number,
  calibration: InputScale | null,
): GainReading {
  const channel = live.channels[channelIndex];
  if (channel === undefined) {
    throw new RangeError(
      `Input channel ${channelIndex + 1} was asked for; this input has ${live.channels.length}.`,
    );
  }
  const tone = channel.tone !== null && Number.isFinite(channel.tone.levelDbfs) ? channel.tone : null;
  const volts =
    tone !== null && calibration !== null ? dbfsToVolts(tone.levelDbfs, calibration.voltsPerFs) : null;
  const relativeDb =
    tone !== null && calibration !== null
      ? Math.hypot(calibration.uncertaintyDb, tone.uncertainty.levelDb)
      : null;
  return {
    seconds: live.endFrame / live.sampleRateHz,
    grade: live.grade,
    doubts: live.doubts,
    motion: live.motion,
    volts,
    voltsUncertainty: volts !== null && relativeDb !== null ? volts * VOLTS_PER_DB * relativeDb : null,
    levelDbfs: tone?.levelDbfs ?? null,
    frequencyHz: tone?.frequencyHz ?? null,
    thdPercent: tone?.thdPercent ?? null,
    highOrderPercent: tone === null ? null : highOrderPercent(tone.harmonicsDbc),
    clipping: channel.clipping,
  };
}
