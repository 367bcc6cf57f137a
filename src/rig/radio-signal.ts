import { phaseCycles } from '../dsp/tones/phase.ts';
import { OVERSAMPLING } from './decimator.ts';
import { PlayingRun } from './playing-run.ts';
import { type Playing, PlayingTrack } from './playing-track.ts';
import { RAMP_SECONDS } from './ramp.ts';
import type { RigTone } from './rig.ts';
import { asEndlessSine, NO_LOAD } from './tone.ts';

/** What plays, and its fade once another has taken its place. */
class Fading {
  readonly playing: Playing;
  readonly #fadeFrames: number;
  #fadedFrames = -1;

  constructor(playing: Playing, sampleRateHz: number) {
    this.playing = playing;
    this.#fadeFrames = Math.round(RAMP_SECONDS * sampleRateHz);
  }

  fade(): void {
    if (this.#fadedFrames < 0) this.#fadedFrames = 0;
  }

  get isOver(): boolean {
    return this.#fadedFrames >= this.#fadeFrames;
  }

  /** The next frame's values; overwritten by the next call. */
  next(): Float64Array {
    const values = this.playing.next();
    if (this.#fadedFrames >= 0) {
      const gain =
        0.5 + 0.5 * Math.cos((Math.PI * Math.min(this.#fadedFrames, this.#fadeFrames)) / this.#fadeFrames);
      for (let step = 0; step < OVERSAMPLING; step += 1) values[step] = values[step]! * gain;
      this.#fadedFrames += 1;
    }
    return values;
  }
}

function playingOf(tone: RigTone, sampleRateHz: number): Playing | null {
  if (tone.kind === 'run') return new PlayingRun(tone.run, sampleRateHz);
  if (tone.kind === 'track' && asEndlessSine(tone) === null) return new PlayingTrack(tone, sampleRateHz);
  return null;
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
  #tone: RigTone = NO_LOAD;
  #track: Fading | null = null;
  #leaving: Fading | null = null;

  constructor(sampleRateHz: number) {
    this.#sampleRateHz = sampleRateHz;
  }

  /** What is to be heard in the frame last made; of a run track the part whose turn it is. */
  get sounding(): RigTone {
    return this.#track?.playing.sounding ?? this.#tone;
  }

  /**
   * A sine's phase runs on through a change of frequency; a track begins at
   * its first sample with the next frame, and what it replaces fades.
   *
   * @throws RangeError, nothing changed, for a track that cannot be rendered
   */
  setTone(tone: RigTone): void {
    const sine = asEndlessSine(tone);
    const playing = playingOf(tone, this.#sampleRateHz);
    if (this.#track !== null) {
      this.#track.fade();
      this.#leaving = this.#track;
    }
    this.#track = playing === null ? null : new Fading(playing, this.#sampleRateHz);
    this.#tone = tone;
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

  #add(track: Fading): void {
    const values = track.next();
    const { left, right } = track.playing;
    for (let step = 0; step < OVERSAMPLING; step += 1) {
      this.left[step] = this.left[step]! + left * values[step]!;
      this.right[step] = this.right[step]! + right * values[step]!;
    }
  }
}
