import { Random } from '../dsp/tones/random.ts';
import { AmplifierChannel } from './amplifier-channel.ts';
import { Cabin } from './cabin.ts';
import { checkRigConfig } from './check-config.ts';
import { ConverterSense } from './converter-sense.ts';
import { Decimator, OVERSAMPLING } from './decimator.ts';
import { InputConverter } from './input-converter.ts';
import { Interference } from './interference.ts';
import { RadioSide } from './radio-side.ts';
import { RadioSignal } from './radio-signal.ts';
import { Ramp } from './ramp.ts';
import type { RigConfig, RigControls, RigTone } from './rig.ts';
import { rigSettings, type SharedSettings } from './settings.ts';
import { WhiteNoise } from './white-noise.ts';

/**
 * Runs the chain at `OVERSAMPLING` times the sample rate, so that harmonics do
 * not fold back into the audio band. Controls and tone take effect at once and
 * without a click, over `RAMP_SECONDS`. What does not reach the probed point is
 * not computed.
 */
export class PracticeRig {
  readonly #config: RigConfig;
  readonly #noise: WhiteNoise;
  readonly #signal: RadioSignal;
  readonly #left: RadioSide;
  readonly #right: RadioSide;
  readonly #sense: ConverterSense | null;
  readonly #interference: Interference;
  readonly #channels: readonly AmplifierChannel[];
  /** What reaches the probe's wires, through one frame. */
  readonly #probed = new Float64Array(OVERSAMPLING);
  /** The one sample that comes of it. In an array: a number handed from call to call is an object each time. */
  readonly #heardVolts = new Float64Array(1);
  readonly #decimator: Decimator;
  readonly #cabin: Cabin;
  readonly #input: InputConverter;
  readonly #ramp: Ramp;
  /** Which channels' chains can be heard at the probed point, and which radio outputs they need. */
  readonly #audible: boolean[];
  #needsLeft = true;
  #needsRight = true;
  #hearsCabin = false;
  #controls: RigControls;
  /** What sounds and loads the supply: of a run track the part whose turn it is. */
  #sounding: RigTone;

  /** @throws RangeError for a config, controls or tone that cannot be simulated */
  constructor(config: RigConfig, controls: RigControls, tone: RigTone) {
    checkRigConfig(config);
    const { sampleRateHz } = config;
    const fastHz = sampleRateHz * OVERSAMPLING;
    const random = new Random(config.seed);
    this.#config = config;
    this.#controls = controls;
    this.#ramp = new Ramp(rigSettings(config, controls, tone), sampleRateHz);
    this.#noise = new WhiteNoise(random, sampleRateHz);
    this.#signal = new RadioSignal(sampleRateHz);
    this.#signal.setTone(tone);
    this.#sounding = this.#signal.sounding;
    this.#left = new RadioSide(config, fastHz);
    this.#right = new RadioSide(config, fastHz);
    const { sleep } = config.converter;
    this.#sense = sleep === null ? null : new ConverterSense(sleep, sampleRateHz);
    this.#interference = new Interference(config);
    this.#channels = config.channels.map((channel) => new AmplifierChannel(channel, fastHz));
    this.#decimator = new Decimator(sampleRateHz);
    this.#cabin = new Cabin(config, random);
    this.#input = new InputConverter(config.input, sampleRateHz, random);
    this.#audible = config.channels.map(() => false);
    this.#follow();
  }

  /** @throws RangeError, the rig left as it was, for controls it does not have */
  setControls(controls: RigControls): void {
    this.#ramp.toward(rigSettings(this.#config, controls, this.#sounding));
    this.#controls = controls;
    this.#follow();
  }

  /**
   * The phase runs on through a change of frequency; a track begins with the next frame.
   *
   * @throws RangeError, the rig left as it was, for a tone that cannot be played
   */
  setTone(tone: RigTone): void {
    const settings = rigSettings(this.#config, this.#controls, tone);
    this.#signal.setTone(tone);
    this.#ramp.toward(settings);
    this.#sounding = this.#signal.sounding;
    this.#follow();
  }

  /**
   * Writes the next `frames` samples. The first channel is the probe; further
   * ones are inputs with nothing connected. Makes no object, but for a part of a run track as its turn comes;
   * what the engine boxes is 10 to 40 bytes a frame.
   *
   * @throws RangeError for a part of a run track whose peaks would pass full scale, as its turn comes
   */
  fill(channels: readonly Float32Array[], frames: number): void {
    for (let frame = 0; frame < frames; frame += 1) {
      if (this.#ramp.advance()) this.#follow();
      this.#runFrame();
      this.#input.convert(this.#heardVolts, channels, frame);
      if (this.#signal.sounding !== this.#sounding) this.#loadAnew();
    }
  }

  /** The supply follows the part of a run track that sounds. */
  #loadAnew(): void {
    this.#sounding = this.#signal.sounding;
    this.#ramp.toward(rigSettings(this.#config, this.#controls, this.#sounding));
    this.#follow();
  }

  /** What depends on where the settings stand and where they are led. */
  #follow(): void {
    const { now, to } = this.#ramp;
    const isSensing = this.#sense !== null;
    this.#hearsCabin = this.#isOn('cabin');
    this.#needsLeft = isSensing || this.#isOn('radioLeft') || this.#isOn('converterLeft');
    this.#needsRight = isSensing || this.#isOn('radioRight') || this.#isOn('converterRight');
    for (let index = 0; index < this.#channels.length; index += 1) {
      const channel = this.#channels[index]!;
      const from = now.channels[index]!;
      const next = to.channels[index]!;
      const isPlugged = from.inputShare > 0 || next.inputShare > 0;
      const isAudible = from.tap > 0 || next.tap > 0 || (this.#hearsCabin && isPlugged);
      channel.setGain(from.gainDb);
      this.#audible[index] = isAudible;
      this.#needsLeft ||= isAudible && channel.isFedLeft;
      this.#needsRight ||= isAudible && channel.isFedRight;
    }
  }

  #isOn(figure: keyof SharedSettings): boolean {
    return this.#ramp.now.shared[figure] > 0 || this.#ramp.to.shared[figure] > 0;
  }

  /** Leaves the volts at the probed point in `#heardVolts`. */
  #runFrame(): void {
    const now = this.#ramp.now.shared;
    this.#signal.advance(now.leftPeak, now.rightPeak);
    this.#interference.advance(now);
    const share = this.#sense?.share ?? 1;
    if (this.#needsLeft) this.#left.run(this.#signal.left, now, share, this.#noise);
    if (this.#needsRight) this.#right.run(this.#signal.right, now, share, this.#noise);
    this.#sense?.advance(Math.max(this.#left.peakVolts(), this.#right.peakVolts()));
    this.#runChannels();
    this.#decimator.run(this.#probed, this.#heardVolts);
    if (!this.#hearsCabin) return;
    const scale = now.cabin * this.#config.input.voltsPerFs * Math.SQRT2;
    this.#cabin.addHeard(now, scale, this.#heardVolts);
  }

  /** All channels that can be heard, and what of everything reaches the probe's wires. */
  #runChannels(): void {
    const { shared: now, channels } = this.#ramp.now;
    this.#probed.fill(0);
    this.#connect(now.radioLeft, this.#left.radioVolts);
    this.#connect(now.radioRight, this.#right.radioVolts);
    this.#connect(now.converterLeft, this.#left.converterVolts);
    this.#connect(now.converterRight, this.#right.converterVolts);
    for (let index = 0; index < this.#channels.length; index += 1) {
      if (!this.#audible[index]) {
        if (this.#hearsCabin) this.#cabin.channels[index]!.rest();
        continue;
      }
      const channel = this.#channels[index]!;
      const settings = channels[index]!;
      const { volts: added } = this.#interference;
      channel.run(this.#left, this.#right, added, settings, now.filterShare, this.#noise);
      this.#connect(settings.tap, channel.volts);
      if (this.#hearsCabin) this.#cabin.channels[index]!.run(channel.volts);
    }
  }

  #connect(share: number, volts: Float64Array): void {
    if (share === 0) return;
    for (let step = 0; step < OVERSAMPLING; step += 1) {
      this.#probed[step] = this.#probed[step]! + share * volts[step]!;
    }
  }
}
