/** One tone on its way to the output, with its rise and its fall. */
import type { ToneBuffer } from './tone-buffer.ts';

/** Slow enough that a hand reaches the switch when the route or the level is not what was thought. */
const RISE_SECONDS = 0.2;

/** Short against anybody's patience, long enough not to click. */
const FALL_SECONDS = 0.02;

/**
 * How far ahead of the context's clock a change is scheduled. The clock moves
 * in steps of the output's buffer; a change dated inside the present step
 * would start in its middle, with a click.
 */
const AHEAD_SECONDS = 0.03;

const CURVE_POINTS = 129;

/** Half a cosine from 0 to 1: no corner at either end. */
const RISE = Float32Array.from({ length: CURVE_POINTS }, (_, index) => {
  return 0.5 - 0.5 * Math.cos((Math.PI * index) / (CURVE_POINTS - 1));
});
const FALL = RISE.toReversed();

export class VoiceNodes {
  readonly #context: BaseAudioContext;
  readonly #source: AudioBufferSourceNode;
  readonly #rise: GainNode;
  readonly #fall: GainNode;
  /** Context time at which the fall to the limit begins. */
  readonly #fallsAt: number;

  /**
   * Schedules the tone with its end, so that it ends even if the page hangs.
   * A loop rises and falls; any other tone brings its own fades, and its ends
   * may be what is measured, so it falls only where `lastsSeconds` cuts it short.
   *
   * @param lastsSeconds from the first sample to the last
   */
  constructor(context: BaseAudioContext, tone: ToneBuffer, lastsSeconds: number, onEnded: () => void) {
    this.#context = context;
    this.#source = new AudioBufferSourceNode(context, { buffer: tone.buffer, loop: tone.loops });
    this.#rise = new GainNode(context, { gain: 0 });
    this.#fall = new GainNode(context, { gain: 1 });
    this.#source.connect(this.#rise).connect(this.#fall).connect(context.destination);
    const startsAt = context.currentTime + AHEAD_SECONDS;
    const isCut = tone.loops || lastsSeconds < tone.seconds;
    const fall = Math.min(FALL_SECONDS, lastsSeconds / 2);
    const endsAt = startsAt + lastsSeconds;
    this.#fallsAt = endsAt - fall;
    this.#source.onended = onEnded;
    if (tone.loops) {
      this.#rise.gain.setValueCurveAtTime(RISE, startsAt, Math.min(RISE_SECONDS, lastsSeconds / 2));
    } else {
      this.#rise.gain.setValueAtTime(1, startsAt);
    }
    if (isCut) this.#fall.gain.setValueCurveAtTime(FALL, this.#fallsAt, fall);
    this.#source.start(startsAt);
    if (isCut) this.#source.stop(endsAt);
  }

  /** Fades out from here; call it once. Returns how long until it is silent, seconds. */
  fadeOut(): number {
    const fallsAt = this.#context.currentTime + AHEAD_SECONDS;
    if (fallsAt < this.#fallsAt) {
      this.#fall.gain.cancelScheduledValues(0);
      this.#fall.gain.setValueCurveAtTime(FALL, fallsAt, FALL_SECONDS);
      this.#source.stop(fallsAt + FALL_SECONDS);
    }
    return AHEAD_SECONDS + FALL_SECONDS;
  }

  /** Silent at once; for an output that has gone or a clock that stands still. */
  cut(): void {
    this.#source.onended = null;
    this.#source.stop();
    this.#fall.disconnect();
  }
}
