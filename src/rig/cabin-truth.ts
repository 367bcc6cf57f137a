import type { ComplexValue } from '../dsp/filters/filter-response.ts';
import { SENSITIVITY_VOLTS, upperCornerHz } from './cabin-channel.ts';
import { soundPaths } from './cabin-path.ts';
import { radioFullScalePeakVolts } from './channel-drive.ts';
import { Decimator, MICROPHONE_STOPBAND_DB } from './decimator.ts';
import { rigFilterResponse } from './filter-truth.ts';
import { amplifierGainDb } from './gain-control.ts';
import { radioShapeGain } from './radio-shape.ts';
import type { RigChannelConfig, RigConfig, RigControls } from './rig.ts';

/** One channel as it reaches the microphone, reflections apart. */
export interface CabinChannelTruth {
  id: string;
  /** Through the air and the channel's own delay; the same electronics stand before all of them. */
  arrivalMs: number;
  metres: number;
  polarity: 1 | -1;
}

/** How each channel arrives where the microphone stands. */
export function cabinTruth(config: RigConfig, controls: RigControls): CabinChannelTruth[] {
  return config.channels.map((channel) => {
    const [direct] = soundPaths(config.cabin, channel.driver.place, microphoneOf(config, controls));
    const { seconds, metres } = direct!;
    return {
      id: channel.id,
      arrivalMs: 1000 * seconds + channel.delayMs,
      metres,
      polarity: channel.polarity,
    };
  });
}

/** Milliseconds that the rig's samples lag behind what they stand for, with the microphone, for all channels alike. */
export function cabinLagMs(sampleRateHz: number): number {
  return (1000 * new Decimator(sampleRateHz, MICROPHONE_STOPBAND_DB).delayFrames) / sampleRateHz;
}

function microphoneOf(config: RigConfig, controls: RigControls) {
  const position = config.cabin.positions[controls.position ?? 0];
  if (position === undefined) throw new RangeError(`The cabin has no position ${controls.position}.`);
  return position;
}

const times = (a: ComplexValue, b: ComplexValue): ComplexValue => ({
  re: a.re * b.re - a.im * b.im,
  im: a.re * b.im + a.im * b.re,
});

/** `1 / (1 + j r / q - r^2)`, a low-pass of second order; a high-pass for `-1 / r`. */
function secondOrder(ratio: number, quality: number): ComplexValue {
  const re = 1 - ratio * ratio;
  const im = ratio / quality;
  const square = re * re + im * im;
  return { re: re / square, im: -im / square };
}

/** The driver's two filters as the rig runs them: made by the bilinear transform, exact at their corners. */
function driverResponse(config: RigConfig, channel: RigChannelConfig, frequencyHz: number): ComplexValue {
  const warped = (hz: number) => Math.tan((Math.PI * hz) / config.sampleRateHz);
  const { resonanceHz, quality, upperHz } = channel.driver;
  const low = -warped(resonanceHz) / warped(frequencyHz);
  const high = warped(frequencyHz) / warped(upperCornerHz(upperHz, config.sampleRateHz));
  return times(secondOrder(low, quality), secondOrder(high, Math.SQRT1_2));
}

/** Direct sound and reflections, with the lag of each; a reflection is placed on the nearest frame. */
function airResponse(
  config: RigConfig,
  controls: RigControls,
  channel: RigChannelConfig,
  frequencyHz: number,
): ComplexValue {
  const sum: ComplexValue = { re: 0, im: 0 };
  const paths = soundPaths(config.cabin, channel.driver.place, microphoneOf(config, controls));
  for (const [index, { seconds, gain }] of paths.entries()) {
    const exact = seconds + channel.delayMs / 1000;
    const lag = index === 0 ? exact : Math.round(exact * config.sampleRateHz) / config.sampleRateHz;
    sum.re += gain * Math.cos(2 * Math.PI * frequencyHz * lag);
    sum.im -= gain * Math.sin(2 * Math.PI * frequencyHz * lag);
  }
  return sum;
}

/**
 * From a full-scale sine at the radio to the microphone, against its full
 * scale: the whole chain of one channel far below every ceiling, the rig's own
 * lag left out.
 */
export function cabinResponse(
  config: RigConfig,
  controls: RigControls,
  channel: RigChannelConfig,
  frequencyHz: number,
): ComplexValue {
  const inputs = channel.fedBy === 'both' ? 2 : 1;
  const gainDb =
    config.converter.gainDb + amplifierGainDb(channel, controls.gains[channel.id] ?? 0) + channel.levelTrimDb;
  const pressureDb = channel.driver.sensitivityDb - config.cabin.fullScaleSplDb;
  const factor =
    (channel.polarity *
      inputs *
      radioFullScalePeakVolts(config, controls.volumeStep) *
      radioShapeGain(config, controls, frequencyHz) *
      10 ** ((gainDb + pressureDb) / 20)) /
    (SENSITIVITY_VOLTS * Math.SQRT2);
  const electric = rigFilterResponse(channel, frequencyHz, controls.filtersOff);
  const acoustic = times(
    driverResponse(config, channel, frequencyHz),
    airResponse(config, controls, channel, frequencyHz),
  );
  const whole = times(electric, acoustic);
  return { re: factor * whole.re, im: factor * whole.im };
}

/** Lines at which a band's power is summed: closer than any reflection's ripple (10 ms, 100 Hz) in the bands in use. */
const LINES = 2000;

/**
 * Level at the microphone, dBFS, of pink noise of `levelDbfs` between two
 * frequencies, in that band: equal power in equal ratios of frequency.
 */
export function cabinPinkDbfs(
  config: RigConfig,
  controls: RigControls,
  channel: RigChannelConfig,
  noise: { lowHz: number; highHz: number; levelDbfs: number },
): number {
  let power = 0;
  for (let line = 0; line < LINES; line += 1) {
    const frequencyHz = noise.lowHz * (noise.highHz / noise.lowHz) ** ((line + 0.5) / LINES);
    const { re, im } = cabinResponse(config, controls, channel, frequencyHz);
    power += (re * re + im * im) / LINES;
  }
  return noise.levelDbfs + 10 * Math.log10(power);
}
