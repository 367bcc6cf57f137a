/**
 * Gathers samples that arrive in odd lots (render quanta, driver buffers) into
 * blocks of `BLOCK_FRAMES` in recycled buffers. It runs on the audio thread:
 * after the first lot it allocates nothing until a channel comes or goes.
 */
import { BLOCK_FRAMES, type BlockFacts, type BlockMessage } from '../blocks.ts';

export type Buffers = Float32Array<ArrayBuffer>[];

/** Sends the message and transfers the buffers; the message object is used again for the next block. */
export type PostBlock = (message: BlockMessage, transfer: ArrayBuffer[]) => void;

/** Sets of buffers in circulation: at 48 kHz 0.34 s, longer than any one analysis takes. */
const BUFFER_SETS = 16;

export class BlockGatherer {
  readonly #post: PostBlock;
  readonly #free: Buffers[] = [];
  readonly #transfer: ArrayBuffer[] = [];
  readonly #facts: BlockFacts = { longestZeroRun: 0, emptyQuanta: 0, missedFrames: 0, notANumber: 0 };
  readonly #message: BlockMessage;
  #current: Buffers | undefined;
  #zeroRuns = new Int32Array(0);
  #fill = 0;
  #frame = 0;

  constructor(post: PostBlock) {
    this.#post = post;
    this.#message = { type: 'block', sequence: 0, startFrame: 0, channels: [], facts: this.#facts };
  }

  /** Channels of the last lot; 0 before the first. */
  get channelCount(): number {
    return this.#zeroRuns.length;
  }

  /** Whether a lot written now would find a buffer; a source that can wait need lose nothing. */
  get hasRoom(): boolean {
    return this.#zeroRuns.length === 0 || this.#current !== undefined || this.#free.length > 0;
  }

  /** Takes a lot of `frames` from each of `channels`, as they come, bit for bit. */
  write(channels: readonly Float32Array[], frames: number): void {
    if (channels.length !== this.#zeroRuns.length) this.#openChannels(channels.length);
    let from = 0;
    while (from < frames) {
      const count = Math.min(frames - from, BLOCK_FRAMES - this.#fill);
      const target = this.#take();
      // A block in hand always stays in step with the counter; a missing one is counted, never hidden.
      if (target === undefined) this.#facts.missedFrames += count;
      else
        for (let c = 0; c < channels.length; c++)
          this.#copy(channels[c] as Float32Array, target, c, from, count);
      this.#advance(count);
      from += count;
    }
  }

  /** The source delivered no channels for `frames`: zeros keep the time, and the fact is counted. */
  writeEmpty(frames: number): void {
    if (this.#zeroRuns.length === 0) {
      this.#frame += frames;
      return;
    }
    this.#facts.emptyQuanta++;
    let left = frames;
    while (left > 0) {
      const count = Math.min(left, BLOCK_FRAMES - this.#fill);
      const target = this.#take();
      if (target === undefined) this.#facts.missedFrames += count;
      else for (let c = 0; c < target.length; c++) target[c]?.fill(0, this.#fill, this.#fill + count);
      this.#advance(count);
      left -= count;
    }
  }

  /** The source's clock ran ahead by `frames` that never came. */
  skip(frames: number): void {
    this.#facts.missedFrames += frames;
    this.#frame += frames;
    // What was gathered so far belongs before the hole and cannot share a block with what comes after.
    this.#facts.missedFrames += this.#fill;
    this.#fill = 0;
  }

  /** Buffers come back from the analysis Worker; those of another shape are let go. */
  recycle(buffers: Buffers): void {
    if (buffers.length !== this.#zeroRuns.length || this.#free.length >= BUFFER_SETS) return;
    for (let c = 0; c < buffers.length; c++) if (buffers[c]?.length !== BLOCK_FRAMES) return;
    this.#free.push(buffers);
  }

  #openChannels(count: number): void {
    if (this.#fill > 0) this.#facts.missedFrames += this.#fill;
    this.#fill = 0;
    this.#current = undefined;
    this.#zeroRuns = new Int32Array(count);
    this.#free.length = 0;
    for (let i = 0; i < BUFFER_SETS; i++)
      this.#free.push(Array.from({ length: count }, () => new Float32Array(BLOCK_FRAMES)));
  }

  #take(): Buffers | undefined {
    // Only at a block's first frame, so that no block is half old, half new.
    if (this.#current === undefined && this.#fill === 0) this.#current = this.#free.pop();
    return this.#current;
  }

  #copy(source: Float32Array, target: Buffers, channel: number, from: number, count: number): void {
    const out = target[channel] as Float32Array;
    let run = this.#zeroRuns[channel] as number;
    for (let i = 0; i < count; i++) {
      const value = source[from + i] as number;
      out[this.#fill + i] = value;
      run = value === 0 ? run + 1 : 0;
      if (run > this.#facts.longestZeroRun) this.#facts.longestZeroRun = run;
      if (Number.isNaN(value)) this.#facts.notANumber++;
    }
    this.#zeroRuns[channel] = run;
  }

  #advance(count: number): void {
    this.#fill += count;
    this.#frame += count;
    if (this.#fill < BLOCK_FRAMES) return;
    this.#fill = 0;
    if (this.#current !== undefined) this.#send(this.#current);
    this.#current = undefined;
  }

  #send(channels: Buffers): void {
    const message = this.#message;
    message.startFrame = this.#frame - BLOCK_FRAMES;
    message.channels = channels;
    this.#transfer.length = 0;
    for (let c = 0; c < channels.length; c++)
      this.#transfer.push((channels[c] as Float32Array<ArrayBuffer>).buffer);
    this.#post(message, this.#transfer);
    message.sequence++;
    this.#facts.longestZeroRun = 0;
    this.#facts.emptyQuanta = 0;
    this.#facts.missedFrames = 0;
    this.#facts.notANumber = 0;
  }
}
