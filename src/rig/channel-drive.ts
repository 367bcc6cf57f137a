import { rigFilterResponse } from './filter-truth.ts';
import { amplifierGainDb } from './gain-control.ts';
import { limitedFundamental } from './limited-sine.ts';
import { radioShapeGain } from './radio-shape.ts';
import type { RigChannelConfig, RigConfig, RigControls, RigSineTone } from './rig.ts';

/** How a sine runs through the chain up to one channel, ceilings apart. */
export interface ChannelDrive {
  /** Peak of the sine at the radio's output, were there no ceiling; 0 where the tone does not reach the channel. */
  radioPeakVolts: number;
  converterGain: number;
  /** From one converter output to the terminals, all inputs that carry the tone counted. */
  amplifierGain: number;
}

/** Peak volts at the radio's output for a peak of 1.0, were there no ceiling; 0 at step 0. */
export function radioFullScalePeakVolts(config: RigConfig, volumeStep: number): number {
  const { volumeSteps, stepDb, fullScaleVolts } = config.radio;
  if (volumeStep === 0) return 0;
  return fullScaleVolts * Math.SQRT2 * 10 ** (((volumeStep - volumeSteps) * stepDb) / 20);
}

/** Peak of the sine at the radio's output, were there no ceiling. */
export function radioSinePeakVolts(config: RigConfig, controls: RigControls, sine: RigSineTone): number {
  if (sine.kind === 'silence') return 0;
  return (
    10 ** (sine.levelDbfs / 20) *
    radioFullScalePeakVolts(config, controls.volumeStep) *
    radioShapeGain(config, controls, sine.frequencyHz)
  );
}

/** How many of a channel's inputs carry the tone. */
function sidesFed(channel: RigChannelConfig, sine: RigSineTone): number {
  const left = channel.fedBy !== 'right' && sine.channels !== 'right' ? 1 : 0;
  const right = channel.fedBy !== 'left' && sine.channels !== 'left' ? 1 : 0;
  return left + right;
}

export function channelDrive(
  config: RigConfig,
  controls: RigControls,
  channel: RigChannelConfig,
  sine: RigSineTone,
): ChannelDrive {
  const sides = controls.muted?.includes(channel.id) ? 0 : sidesFed(channel, sine);
  const gainDb = amplifierGainDb(channel, controls.gains[channel.id] ?? 0) + channel.levelTrimDb;
  const filter = rigFilterResponse(channel, sine.frequencyHz, controls.filtersOff);
  return {
    radioPeakVolts: sides === 0 ? 0 : radioSinePeakVolts(config, controls, sine),
    converterGain: 10 ** (config.converter.gainDb / 20),
    amplifierGain: sides * 10 ** (gainDb / 20) * Math.hypot(filter.re, filter.im),
  };
}

/**
 * Fundamental at the terminals, volts RMS. Exact as long as not both a stage
 * ahead of a filter and the amplifier behind it flatten the wave: a filter
 * then turns the first one's harmonics, which is left out here.
 */
export function channelVolts(config: RigConfig, drive: ChannelDrive, ceilingPeakVolts: number): number {
  const chainGain = drive.converterGain * drive.amplifierGain;
  if (drive.radioPeakVolts === 0 || chainGain === 0) return 0;
  const peak = limitedFundamental({
    peak: drive.radioPeakVolts,
    ceiling: config.radio.ceilingPeakVolts,
    softness: config.radio.softness ?? 0,
    clamp: Math.min(config.converter.ceilingPeakVolts / drive.converterGain, ceilingPeakVolts / chainGain),
  });
  return (chainGain * peak) / Math.SQRT2;
}
