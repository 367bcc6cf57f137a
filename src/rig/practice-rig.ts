import { phaseCycles } from '../dsp/tones/phase.ts';
import { Random } from '../dsp/tones/random.ts';
import { Decimator, OVERSAMPLING } from './decimator.ts';
import { InputConverter } from './input-converter.ts';
import { limited } from './limiter.ts';
import { Ramp } from './ramp.ts';
import type { RigConfig, RigControls, RigTone } from './rig.ts';
import { checkRigConfig, rigSettings } from './settings.ts';

/** A uniform number of this width has variance 1. */
const UNIT_WIDTH = Math.sqrt(12);

/** Noise is drawn at this share of the oversampled rate and held between: its band is wide enough, and it is cheap. */
const STEPS_PER_NOISE = 4;

/** Noise of one radio output and the converter behind it, volts, as drawn last. */
interface SideNoise {
  radioVolts: number;
  converterVolts: number;
}

/**
 * Runs the chain at `OVERSAMPLING` times the sample rate, so that harmonics do
 * not fold back into the audio band. Controls and tone take effect at once and
 * without a click, over `RAMP_SECONDS`.
 */
export class PracticeRig {
  readonly #config: RigConfig;
  readonly #random: Random;
  readonly #decimator: Decimator;
  readonly #input: InputConverter;
  readonly #left: SideNoise = { radioVolts: 0, converterVolts: 0 };
  readonly #right: SideNoise = { radioVolts: 0, converterVolts: 0 };
  readonly #ramp: Ramp;
  readonly #converterGain: number;
  /** White to half the rate at which it is drawn: the stated RMS is what falls in 20 kHz. */
  readonly #noiseScale: number;
  #controls: RigControls;
  #tone: RigTone;
  #amplifierNoiseVolts = 0;
  #frame = 0;
  #toneStartFrame = 0;
  #startCycles = 0;

  /** @throws RangeError for a config, controls or tone that cannot be simulated */
  constructor(config: RigConfig, controls: RigControls, tone: RigTone) {
    checkRigConfig(config);
    this.#config = config;
    this.#controls = controls;
    this.#tone = tone;
    this.#random = new Random(config.seed);
    this.#decimator = new Decimator(config.sampleRateHz);
    this.#input = new InputConverter(config.input, this.#random);
    this.#ramp = new Ramp(rigSettings(config, controls, tone), config.sampleRateHz);
    this.#converterGain = 10 ** (config.converter.gainDb / 20);
    this.#noiseScale =
      UNIT_WIDTH * Math.sqrt((config.sampleRateHz * OVERSAMPLING) / STEPS_PER_NOISE / 2 / 20_000);
  }

  /** @throws RangeError, the rig left as it was, for controls it does not have */
  setControls(controls: RigControls): void {
    this.#ramp.toward(rigSettings(this.#config, controls, this.#tone));
    this.#controls = controls;
  }

  /**
   * The phase runs on through a change of frequency.
   *
   * @throws RangeError, the rig left as it was, for a tone that cannot be played
   */
  setTone(tone: RigTone): void {
    this.#ramp.toward(rigSettings(this.#config, this.#controls, tone));
    this.#startCycles = this.#cycles();
    this.#toneStartFrame = this.#frame;
    // A silence keeps the old frequency, so that the tone fades instead of breaking off.
    this.#tone = tone.kind === 'sine' ? tone : { ...tone, frequencyHz: this.#tone.frequencyHz };
  }

  /**
   * Writes the next `frames` samples. The first channel is the probe; further
   * ones are inputs with nothing connected. Allocates nothing.
   */
  fill(channels: readonly Float32Array[], frames: number): void {
    for (let frame = 0; frame < frames; frame += 1) {
      this.#ramp.advance();
      this.#runFrame();
      for (let channel = 0; channel < channels.length; channel += 1) {
        const volts = channel === 0 ? this.#decimator.output() : 0;
        channels[channel]![frame] = this.#input.convert(volts);
      }
      this.#frame += 1;
    }
  }

  #cycles(): number {
    const { frequencyHz } = this.#tone;
    const elapsed = this.#frame - this.#toneStartFrame;
    return (this.#startCycles + phaseCycles(frequencyHz, elapsed, this.#config.sampleRateHz)) % 1;
  }

  #runFrame(): void {
    const now = this.#ramp.now;
    const angle = 2 * Math.PI * this.#cycles();
    const turn = (2 * Math.PI * this.#tone.frequencyHz) / (this.#config.sampleRateHz * OVERSAMPLING);
    const stepSine = Math.sin(turn);
    const stepCosine = Math.cos(turn);
    let sine = Math.sin(angle);
    let cosine = Math.cos(angle);
    const leftVolts = now.leftPeak * now.radioPeakVolts;
    const rightVolts = now.rightPeak * now.radioPeakVolts;
    const gain = this.#ramp.amplifierGain;
    for (let step = 0; step < OVERSAMPLING; step += 1) {
      if (step % STEPS_PER_NOISE === 0) this.#drawNoise();
      let into = 0;
      if (now.leftWeight > 0) into += now.leftWeight * this.#throughSide(this.#left, leftVolts * sine);
      if (now.rightWeight > 0) into += now.rightWeight * this.#throughSide(this.#right, rightVolts * sine);
      const volts = gain * into + this.#amplifierNoiseVolts;
      this.#decimator.push(limited(volts, now.amplifierCeilingPeakVolts, 0));
      const turned = sine * stepCosine + cosine * stepSine;
      cosine = cosine * stepCosine - sine * stepSine;
      sine = turned;
    }
  }

  /** Radio and converter of one side. */
  #throughSide(noise: SideNoise, toneVolts: number): number {
    const { radio, converter } = this.#config;
    const heard = limited(toneVolts + noise.radioVolts, radio.ceilingPeakVolts, radio.softness ?? 0);
    return limited(this.#converterGain * heard + noise.converterVolts, converter.ceilingPeakVolts, 0);
  }

  #drawNoise(): void {
    const { radio, converter } = this.#config;
    this.#left.radioVolts = this.#noise(radio.noiseVolts);
    this.#left.converterVolts = this.#noise(converter.noiseVolts);
    this.#right.radioVolts = this.#noise(radio.noiseVolts);
    this.#right.converterVolts = this.#noise(converter.noiseVolts);
    this.#amplifierNoiseVolts = this.#noise(this.#ramp.now.amplifierNoiseVolts);
  }

  #noise(volts: number): number {
    return volts * this.#noiseScale * (this.#random.next() - 0.5);
  }
}
