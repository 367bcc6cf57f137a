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

interface Awaited {
  atFrame: number;
  tell(frame: number): void;
}

export class RigPacer {
  readonly #rig: PracticeRig;
  readonly #gatherer: BlockGatherer;
  readonly #sampleRateHz: number;
  readonly #block = [new Float32Array(BLOCK_FRAMES)];
  readonly #awaited: Awaited[] = [];
  #dueFrames = 0;
  #isHeld = false;
  #madeFrames = 0;
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

  /**
   * @param frames to be made first; none in order to be told at once
   * @param tell hears which frame is the next one: whatever was turned before holds from it on
   */
  after(frames: number, tell: (frame: number) => void): void {
    this.#awaited.push({ atFrame: this.#madeFrames + frames, tell });
    this.#tellMade();
  }

  /** Nothing is made until `release`; time goes on, and is made up for as after a stall. */
  hold(): void {
    this.#isHeld = true;
  }

  release(): void {
    this.#isHeld = false;
  }

  /** Hands out the blocks that are due at `nowMs`; waits where no buffer has come back. */
  turn(nowMs: number): void {
    if (this.#isHeld || Number.isNaN(this.#countedMs)) return;
    const elapsedFrames = ((nowMs - this.#countedMs) * this.#sampleRateHz) / 1000;
    this.#countedMs = nowMs;
    this.#dueFrames = Math.min(this.#dueFrames + elapsedFrames, CATCH_UP_FRAMES);
    while (this.#dueFrames >= BLOCK_FRAMES && this.#gatherer.hasRoom) {
      this.#rig.fill(this.#block, BLOCK_FRAMES);
      this.#gatherer.write(this.#block, BLOCK_FRAMES);
      this.#dueFrames -= BLOCK_FRAMES;
      this.#madeFrames += BLOCK_FRAMES;
    }
    if (this.#awaited.length > 0) this.#tellMade();
  }

  #tellMade(): void {
    for (let i = this.#awaited.length - 1; i >= 0; i--) {
      const one = this.#awaited[i] as Awaited;
      if (one.atFrame > this.#madeFrames) continue;
      this.#awaited.splice(i, 1);
      one.tell(this.#madeFrames);
    }
  }
}
