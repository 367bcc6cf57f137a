import { type RunSound, runSoundings, type Sounding } from '../dsp/tones/run-sound.ts';
import { OVERSAMPLING } from './decimator.ts';
import { Interpolator, RINGING_FRAMES } from './interpolator.ts';
import type { Playing } from './playing-track.ts';
import type { RigTone } from './rig.ts';
import { NO_LOAD } from './tone.ts';

/** What a stretch loads; markers are too short to count. */
function loadOf({ spec, channels }: Sounding): RigTone {
  return spec === null ? NO_LOAD : { kind: 'track', spec, channels, loop: false };
}

/** A run track that plays. Each part is rendered when its turn comes, and let go when it is over. */
export class PlayingRun implements Playing {
  readonly #soundings: readonly Sounding[];
  readonly #values = new Float64Array(OVERSAMPLING);
  #part: Interpolator | null = null;
  #upcoming = 0;
  #frame = 0;
  #partEndFrame = 0;
  #ringingEndFrame = 0;
  sounding: RigTone = NO_LOAD;
  left = 0;
  right = 0;

  /** @throws RangeError as `runSoundings` does */
  constructor(run: RunSound, sampleRateHz: number) {
    this.#soundings = runSoundings(run, sampleRateHz);
  }

  /** @throws RangeError for pink noise whose peaks would pass full scale, as its turn comes */
  next(): Float64Array {
    const upcoming = this.#soundings[this.#upcoming];
    if (upcoming !== undefined && upcoming.startFrame === this.#frame) this.#begin(upcoming);
    else if (this.#frame === this.#partEndFrame) this.sounding = NO_LOAD;
    else if (this.#frame === this.#ringingEndFrame) this.#part = null;
    if (this.#part === null) this.#values.fill(0);
    else this.#part.next(this.#values);
    this.#frame += 1;
    return this.#values;
  }

  #begin(sounding: Sounding): void {
    this.#upcoming += 1;
    this.#part = new Interpolator(sounding.render(), false);
    this.#partEndFrame = this.#frame + sounding.frames;
    this.#ringingEndFrame = this.#partEndFrame + RINGING_FRAMES;
    this.sounding = loadOf(sounding);
    this.left = sounding.channels === 'right' ? 0 : 1;
    this.right = sounding.channels === 'left' ? 0 : 1;
  }
}
