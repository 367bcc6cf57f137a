import { microphoneRms } from './cabin-path.ts';
import { radioFullScalePeakVolts } from './channel-drive.ts';
import { amplifierGainDb, gainSetting } from './gain-control.ts';
import { rippleHz } from './noise-truth.ts';
import { outOfRange } from './out-of-range.ts';
import { type RadioShape, radioShape } from './radio-shape.ts';
import { RIG_POINTS, type RigConfig, type RigControls, type RigTone } from './rig.ts';
import { amplifierCeiling, rigSupply } from './supply.ts';
import { asEndlessSine, checkTone } from './tone.ts';

export { amplifierGainDb, gainSetting };

/** What controls and tone come to, in the units in which the chain computes. */
export interface SharedSettings extends RadioShape {
  /** Peak of the endless sine on each radio output, full scale 1.0. */
  leftPeak: number;
  rightPeak: number;
  /** Peak volts at the radio's output for a peak of 1.0, were there no ceiling; 0 at step 0. */
  radioPeakVolts: number;
  /** 1 with the filters, 0 past them. */
  filterShare: number;
  whinePeakVolts: number;
  whineHz: number;
  humPeakVolts: number;
  /** How much of each point reaches the input: 1 where it is connected. */
  radioLeft: number;
  radioRight: number;
  converterLeft: number;
  converterRight: number;
  cabin: number;
  /** 1 for the place where the microphone stands. */
  position0: number;
  position1: number;
  position2: number;
  position3: number;
  /** 1 while the speakers are connected. */
  speakers: number;
  /** What the microphone hears besides, against its full scale 1.0. */
  ambientRms: number;
}

export interface ChannelSettings {
  /** 1 while the amplifier's input is plugged in. */
  inputShare: number;
  gainDb: number;
  ceilingPeakVolts: number;
  /** 1 where the input is connected to these terminals. */
  tap: number;
}

export interface RigSettings {
  shared: SharedSettings;
  channels: ChannelSettings[];
}

/** @throws RangeError for an unknown point or channel, or a control that is not a finite number in its range */
function checkControls(config: RigConfig, controls: RigControls): void {
  const ids = config.channels.map((channel) => channel.id);
  const points: string[] = [...ids, ...RIG_POINTS];
  if (!points.includes(controls.probe)) {
    throw new RangeError(
      `The practice rig has no channel "${controls.probe}": its points are ${points.join(', ')}.`,
    );
  }
  for (const id of controls.muted ?? []) {
    if (ids.includes(id)) continue;
    throw new RangeError(`The practice rig has no channel "${id}" to unplug: it has ${ids.join(', ')}.`);
  }
  for (const setting of Object.values(controls.gains)) {
    if (Number.isNaN(setting)) throw outOfRange('A gain setting', setting, 'from 0 to 1');
  }
  const { volumeSteps } = config.radio;
  const step = controls.volumeStep;
  if (!(step >= 0 && step <= volumeSteps)) {
    throw outOfRange('A volume step', step, `from 0 to ${volumeSteps}`);
  }
  if (controls.supplyVolts !== undefined && !(controls.supplyVolts > 0)) {
    throw outOfRange('A supply', controls.supplyVolts, 'above 0 V');
  }
  const position = controls.position ?? 0;
  const lastPosition = config.cabin.positions.length - 1;
  if (!(Number.isInteger(position) && position >= 0 && position <= lastPosition)) {
    throw outOfRange('A microphone position', position, `a whole number from 0 to ${lastPosition}`);
  }
}

/** @throws RangeError for controls or a tone that the rig does not have */
export function rigSettings(config: RigConfig, controls: RigControls, tone: RigTone): RigSettings {
  checkControls(config, controls);
  checkTone(tone, config.sampleRateHz);
  const { ceilingVolts } = rigSupply(config, controls, tone);
  return {
    shared: sharedSettings(config, controls, tone),
    channels: config.channels.map((channel) => ({
      inputShare: controls.muted?.includes(channel.id) ? 0 : 1,
      gainDb: amplifierGainDb(channel, controls.gains[channel.id] ?? 0) + channel.levelTrimDb,
      ceilingPeakVolts: amplifierCeiling(config, channel, ceilingVolts, controls.loaded),
      tap: controls.probe === channel.id ? 1 : 0,
    })),
  };
}

function sharedSettings(config: RigConfig, controls: RigControls, tone: RigTone): SharedSettings {
  const sine = asEndlessSine(tone);
  const peak = sine?.kind === 'sine' ? 10 ** (sine.levelDbfs / 20) : 0;
  const { engine, mains, cabin } = config;
  const ripple = rippleHz(config, controls);
  const isRunning = ripple !== null;
  const at = (point: string) => (controls.probe === point ? 1 : 0);
  const stands = (position: number) => ((controls.position ?? 0) === position ? 1 : 0);
  return {
    ...radioShape(config, controls),
    leftPeak: sine?.channels === 'right' ? 0 : peak,
    rightPeak: sine?.channels === 'left' ? 0 : peak,
    radioPeakVolts: radioFullScalePeakVolts(config, controls.volumeStep),
    filterShare: controls.filtersOff ? 0 : 1,
    whinePeakVolts: isRunning ? engine.whine.volts * Math.SQRT2 : 0,
    whineHz: ripple ?? 0,
    humPeakVolts: mains.volts * Math.SQRT2,
    radioLeft: at('radio-left'),
    radioRight: at('radio-right'),
    converterLeft: at('converter-left'),
    converterRight: at('converter-right'),
    cabin: at('cabin'),
    position0: stands(0),
    position1: stands(1),
    position2: stands(2),
    position3: stands(3),
    speakers: controls.loaded ? 1 : 0,
    ambientRms: microphoneRms(cabin, isRunning ? cabin.engineSplDb : cabin.ambientSplDb),
  };
}
