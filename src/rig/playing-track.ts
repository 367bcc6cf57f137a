import { renderTone } from '../dsp/tones/render-tone.ts';
import { OVERSAMPLING } from './decimator.ts';
import { Interpolator } from './interpolator.ts';
import type { RigTone, RigTrackTone } from './rig.ts';

/** Something rendered that plays on the radio, frame by frame at the oversampled rate. */
export interface Playing {
  /** What of it each side carries, 0 or 1. */
  readonly left: number;
  readonly right: number;
  /** What sounds: the supply and the channels are loaded by it. */
  readonly sounding: RigTone;
  /** The next frame's values; overwritten by the next call. */
  next(): Float64Array;
}

export class PlayingTrack implements Playing {
  readonly #interpolator: Interpolator;
  readonly #values = new Float64Array(OVERSAMPLING);
  readonly sounding: RigTone;
  readonly left: number;
  readonly right: number;

  /** @throws RangeError for a track that cannot be rendered */
  constructor(tone: RigTrackTone, sampleRateHz: number) {
    this.#interpolator = new Interpolator(renderTone(tone.spec, sampleRateHz), tone.loop);
    this.sounding = tone;
    this.left = tone.channels === 'right' ? 0 : 1;
    this.right = tone.channels === 'left' ? 0 : 1;
  }

  next(): Float64Array {
    this.#interpolator.next(this.#values);
    return this.#values;
  }
}
