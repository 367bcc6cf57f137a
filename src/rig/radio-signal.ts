import { phaseCycles } from '../dsp/tones/phase.ts';
import { renderTone } from '../dsp/tones/render-tone.ts';
import { OVERSAMPLING } from './decimator.ts';
import { Interpolator } from './interpolator.ts';
import { RAMP_SECONDS } from './ramp.ts';
import type { RigTone, RigTrackTone } from './rig.ts';
import { asEndlessSine } from './tone.ts';

/** A track that plays, and its fade once another has taken its place. */
class PlayingTrack {
  readonly #interpolator: Interpolator;
  readonly #values = new Float64Array(OVERSAMPLING);
  readonly left: number;
  readonly right: number;
  readonly #fadeFrames: number;
  #fadedFrames = -1;

  constructor(tone: RigTrackTone, sampleRateHz: number) {
    this.#interpolator = new Interpolator(renderTone(tone.spec, sampleRateHz), tone.loop);
    this.#fadeFrames = Math.round(RAMP_SECONDS * sampleRateHz);
    this.left = tone.channels === 'right' ? 0 : 1;
    this.right = tone.channels === 'left' ? 0 : 1;
  }

  fade(): void {
    if (this.#fadedFrames < 0) this.#fadedFrames = 0;
  }

  get isOver(): boolean {
    return this.#fadedFrames >= this.#fadeFrames;
  }

  /** The next frame's values; overwritten by the next call. */
  next(): Float64Array {
    const values = this.#values;
    this.#interpolator.next(values);
    if (this.#fadedFrames >= 0) {
      const gain =
        0.5 + 0.5 * Math.cos((Math.PI * Math.min(this.#fadedFrames, this.#fadeFrames)) / this.#fadeFrames);
      for (let step = 0; step < OVERSAMPLING; step += 1) values[step] = values[step]! * gain;
      this.#fadedFrames += 1;
    }
    return values;
  }
}

/** What the radio plays on both sides, full scale 1.0, at the oversampled rate. */
export class RadioSignal {
  readonly left = new Float64Array(OVERSAMPLING);
  readonly right = new Float64Array(OVERSAMPLING);
  readonly #sampleRateHz: number;
  #frequencyHz = 1000;
  #startCycles = 0;
  #startFrame = 0;
  #frame = 0;
  #track: PlayingTrack | null = null;
  #leaving: PlayingTrack | null = null;

  constructor(sampleRateHz: number) {
    this.#sampleRateHz = sampleRateHz;
  }

  /**
   * A sine's phase runs on through a change of frequency; a track begins at
   * its first sample with the next frame, and what it replaces fades.
   *
   * @throws RangeError, nothing changed, for a track that cannot be rendered
   */
  setTone(tone: RigTone): void {
    const sine = asEndlessSine(tone);
    const track = sine === null && tone.kind === 'track' ? new PlayingTrack(tone, this.#sampleRateHz) : null;
    if (this.#track !== null) {
      this.#track.fade();
      this.#leaving = this.#track;
    }
    this.#track = track;
    this.#startCycles = this.#cycles();
    this.#startFrame = this.#frame;
    // A silence keeps the old frequency, so that the tone fades instead of breaking off.
    if (sine !== null && sine.kind === 'sine') this.#frequencyHz = sine.frequencyHz;
  }

  #cycles(): number {
    return (
      (this.#startCycles +
        phaseCycles(this.#frequencyHz, this.#frame - this.#startFrame, this.#sampleRateHz)) %
      1
    );
  }

  /** Writes the next frame into `left` and `right`; the peaks are the sine's. */
  advance(leftPeak: number, rightPeak: number): void {
    const angle = 2 * Math.PI * this.#cycles();
    const turn = (2 * Math.PI * this.#frequencyHz) / (this.#sampleRateHz * OVERSAMPLING);
    const stepSine = Math.sin(turn);
    const stepCosine = Math.cos(turn);
    let sine = Math.sin(angle);
    let cosine = Math.cos(angle);
    for (let step = 0; step < OVERSAMPLING; step += 1) {
      this.left[step] = leftPeak * sine;
      this.right[step] = rightPeak * sine;
      const turned = sine * stepCosine + cosine * stepSine;
      cosine = cosine * stepCosine - sine * stepSine;
      sine = turned;
    }
    if (this.#track !== null) this.#add(this.#track);
    if (this.#leaving !== null) {
      this.#add(this.#leaving);
      if (this.#leaving.isOver) this.#leaving = null;
    }
    this.#frame += 1;
  }

  #add(track: PlayingTrack): void {
    const values = track.next();
    for (let step = 0; step < OVERSAMPLING; step += 1) {
      this.left[step] = this.left[step]! + track.left * values[step]!;
      this.right[step] = this.right[step]! + track.right * values[step]!;
    }
  }
}
