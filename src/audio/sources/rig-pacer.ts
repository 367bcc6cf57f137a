/** Lets the practice rig make samples at the pace of real time, in blocks, as a sound card would. */
import type { PracticeRig } from '../../rig/practice-rig.ts';
import { BLOCK_FRAMES } from '../blocks.ts';
import type { BlockGatherer } from '../capture/block-gatherer.ts';

/**
 * The most that is made up for after a stall (a hidden page's timers are held
 * back, a laptop sleeps). Time beyond it is let go: the rig is simulated, so it
 * lost nothing, its frames run on without a hole, and nobody is flooded.
 */
const CATCH_UP_FRAMES = 8 * BLOCK_FRAMES;

export class RigPacer {
  readonly #rig: PracticeRig;
  readonly #gatherer: BlockGatherer;
  readonly #sampleRateHz: number;
  readonly #block = [new Float32Array(BLOCK_FRAMES)];
  #dueFrames = 0;
  /** When `turn` last counted; not a number while paused. */
  #countedMs = Number.NaN;

  constructor(rig: PracticeRig, gatherer: BlockGatherer, sampleRateHz: number) {
    this.#rig = rig;
    this.#gatherer = gatherer;
    this.#sampleRateHz = sampleRateHz;
  }

  run(nowMs: number): void {
    if (Number.isNaN(this.#countedMs)) this.#countedMs = nowMs;
  }

  /** The rig stands still: no frames are made, none are owed. */
  pause(): void {
    this.#countedMs = Number.NaN;
  }

  /** Hands out the blocks that are due at `nowMs`; waits where no buffer has come back. */
  turn(nowMs: number): void {
    if (Number.isNaN(this.#countedMs)) return;
    const elapsedFrames = ((nowMs - this.#countedMs) * this.#sampleRateHz) / 1000;
    this.#countedMs = nowMs;
    this.#dueFrames = Math.min(this.#dueFrames + elapsedFrames, CATCH_UP_FRAMES);
    while (this.#dueFrames >= BLOCK_FRAMES && this.#gatherer.hasRoom) {
      this.#rig.fill(this.#block, BLOCK_FRAMES);
      this.#gatherer.write(this.#block, BLOCK_FRAMES);
      this.#dueFrames -= BLOCK_FRAMES;
    }
  }
}
