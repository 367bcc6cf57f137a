import type { RigChannelConfig, RigConfig, RigControls, RigTone } from './rig.ts';

/** Supply at which a ceiling is stated where the config says nothing (CTA-2006). */
const RATED_SUPPLY_VOLTS = 14.4;

/** What controls and tone come to, in the units in which the chain computes. */
export interface RigSettings {
  /** Peak of the tone on each radio output, full scale 1.0. */
  leftPeak: number;
  rightPeak: number;
  /** Peak volts at the radio's output for a peak of 1.0, were there no ceiling; 0 at step 0. */
  radioPeakVolts: number;
  /** 1 where this radio output reaches the probed channel, else 0. */
  leftWeight: number;
  rightWeight: number;
  amplifierGainDb: number;
  amplifierCeilingPeakVolts: number;
  amplifierNoiseVolts: number;
}

function outOfRange(what: string, value: number, right: string): RangeError {
  return new RangeError(`${what} of ${value} cannot be simulated: it must be ${right}.`);
}

/** @throws RangeError naming the figure that cannot be simulated */
export function checkRigConfig(config: RigConfig): void {
  const { radio, converter, input } = config;
  if (!Number.isInteger(config.sampleRateHz) || config.sampleRateHz < 8000 || config.sampleRateHz > 192_000) {
    throw outOfRange('A sample rate', config.sampleRateHz, 'a whole number of hertz from 8000 to 192000');
  }
  if (config.channels.length === 0) throw new RangeError('A practice rig needs at least one channel.');
  const softness = radio.softness ?? 0;
  if (!(softness >= 0 && softness < 1)) throw outOfRange('A softness', softness, 'from 0 to below 1');
  const positive: [string, number][] = [
    ['A number of volume steps', radio.volumeSteps],
    ['A radio voltage', radio.fullScaleVolts],
    ['A radio ceiling', radio.ceilingPeakVolts],
    ['A converter ceiling', converter.ceilingPeakVolts],
    ['A voltage per full scale', input.voltsPerFs],
    ['A rated supply', config.ratedSupplyVolts ?? RATED_SUPPLY_VOLTS],
    ...config.channels.flatMap((channel): [string, number][] => [
      [`A ceiling of channel "${channel.id}"`, channel.ceilingPeakVolts],
      [`A load of channel "${channel.id}"`, channel.loadOhms],
    ]),
  ];
  for (const [what, value] of positive) {
    if (!(value > 0 && Number.isFinite(value))) throw outOfRange(what, value, 'above 0');
  }
}

/** @throws RangeError when there is no such channel */
function probedChannel(config: RigConfig, probe: string): RigChannelConfig {
  const channel = config.channels.find((candidate) => candidate.id === probe);
  if (channel) return channel;
  const known = config.channels.map((candidate) => candidate.id).join(', ');
  throw new RangeError(`The practice rig has no channel "${probe}": it has ${known}.`);
}

/**
 * Ceiling at the terminals, peak volts: in proportion to the supply, and
 * divided between load and output resistance while the load is connected.
 */
function amplifierCeiling(config: RigConfig, channel: RigChannelConfig, controls: RigControls): number {
  const ratedSupplyVolts = config.ratedSupplyVolts ?? RATED_SUPPLY_VOLTS;
  const supply = (controls.supplyVolts ?? ratedSupplyVolts) / ratedSupplyVolts;
  const sag = controls.loaded ? channel.loadOhms / (channel.loadOhms + channel.outputOhms) : 1;
  return channel.ceilingPeakVolts * supply * sag;
}

/**
 * An audio taper: equal turns of the control are equal steps in dB.
 * `gainSetting` is its inverse.
 *
 * @param setting 0 (fully down) to 1 (fully up); beyond either end the stop holds
 */
export function amplifierGainDb(channel: RigChannelConfig, setting: number): number {
  const turned = Math.min(1, Math.max(0, setting));
  return channel.lowestGainDb + turned * (channel.highestGainDb - channel.lowestGainDb);
}

/** Setting of the control for a gain; inverse of `amplifierGainDb`. Outside 0 to 1 the control cannot reach it. */
export function gainSetting(channel: RigChannelConfig, gainDb: number): number {
  return (gainDb - channel.lowestGainDb) / (channel.highestGainDb - channel.lowestGainDb);
}

/** @throws RangeError for an unknown probe, or a control or tone that is not a finite number in its range */
export function rigSettings(config: RigConfig, controls: RigControls, tone: RigTone): RigSettings {
  const channel = probedChannel(config, controls.probe);
  const setting = controls.gains[channel.id] ?? 0;
  if (Number.isNaN(setting)) throw outOfRange('A gain setting', setting, 'from 0 to 1');
  const { volumeSteps, stepDb, fullScaleVolts } = config.radio;
  const step = controls.volumeStep;
  if (!(step >= 0 && step <= volumeSteps))
    throw outOfRange('A volume step', step, `from 0 to ${volumeSteps}`);
  if (controls.supplyVolts !== undefined && !(controls.supplyVolts > 0)) {
    throw outOfRange('A supply', controls.supplyVolts, 'above 0 V');
  }
  if (tone.kind === 'sine') checkTone(config, tone);
  const peak = tone.kind === 'sine' ? 10 ** (tone.levelDbfs / 20) : 0;
  return {
    leftPeak: tone.channels === 'right' ? 0 : peak,
    rightPeak: tone.channels === 'left' ? 0 : peak,
    radioPeakVolts:
      step === 0 ? 0 : fullScaleVolts * Math.SQRT2 * 10 ** (((step - volumeSteps) * stepDb) / 20),
    leftWeight: channel.fedBy === 'right' ? 0 : 1,
    rightWeight: channel.fedBy === 'left' ? 0 : 1,
    amplifierGainDb: amplifierGainDb(channel, setting),
    amplifierCeilingPeakVolts: amplifierCeiling(config, channel, controls),
    amplifierNoiseVolts: channel.noiseVolts,
  };
}

function checkTone(config: RigConfig, tone: RigTone): void {
  if (!(tone.frequencyHz > 0 && tone.frequencyHz < config.sampleRateHz / 2)) {
    throw outOfRange('A tone frequency', tone.frequencyHz, `above 0 and below ${config.sampleRateHz / 2} Hz`);
  }
  if (!(tone.levelDbfs <= 0)) throw outOfRange('A tone level', tone.levelDbfs, '0 dBFS or lower');
}
