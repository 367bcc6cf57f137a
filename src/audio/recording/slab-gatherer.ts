/**
 * Copies the blocks of a source, interleaved, into slabs that travel to the recorder's Worker and come back. All
 * slabs are made at the beginning: some seconds of a disk that stands still. Only a disk slower than that makes it
 * ask for more memory; no block is ever left out.
 */
import type { LiveBlock } from '../../dsp/live/live-block.ts';
import { SLAB_FRAMES, type SlabBack, type SlabMessage } from './slabs.ts';

/** At 48 kHz and four blocks to a slab, 4 s of a disk that does not answer. */
const SLABS = 48;
/** A longer hole is no lost buffer but a source that slept; silence for hours would help nobody. */
const LONGEST_GAP_SECONDS = 60;

export class SlabGatherer {
  readonly #port: MessagePort;
  readonly #channelCount: number;
  readonly #longestGapFrames: number;
  readonly #free: Float32Array<ArrayBuffer>[] = [];
  #slab: Float32Array<ArrayBuffer>;
  #fill = 0;
  #gapFrames = 0;
  #nextFrame = -1;

  constructor(port: MessagePort, sampleRateHz: number, channelCount: number) {
    this.#port = port;
    this.#channelCount = channelCount;
    this.#longestGapFrames = LONGEST_GAP_SECONDS * sampleRateHz;
    for (let count = 0; count < SLABS; count += 1) this.#free.push(this.#newSlab());
    this.#slab = this.#take();
    port.onmessage = (event: MessageEvent<SlabBack>) => this.#free.push(event.data.samples);
    port.postMessage({ type: 'begin', sampleRateHz, channelCount } satisfies SlabMessage);
  }

  push(block: LiveBlock): void {
    const frames = block.channels[0]?.length ?? 0;
    if (this.#nextFrame >= 0) this.#fillGap(block.startFrame - this.#nextFrame);
    this.#nextFrame = block.startFrame + frames;
    let from = 0;
    while (from < frames) {
      const count = Math.min(frames - from, SLAB_FRAMES - this.#fill);
      for (let channel = 0; channel < this.#channelCount; channel += 1) {
        this.#copy(block.channels[channel], channel, from, count);
      }
      this.#advance(count);
      from += count;
    }
  }

  /** @param sentence why, where nobody asked for it */
  end(sentence: string | null): void {
    if (this.#fill > 0) this.#send();
    this.#port.postMessage({ type: 'end', sentence } satisfies SlabMessage);
    this.#port.close();
  }

  /** What never came is written as silence, so that everything after it keeps its time. */
  #fillGap(missing: number): void {
    let left = Math.min(missing, this.#longestGapFrames);
    while (left > 0) {
      const count = Math.min(left, SLAB_FRAMES - this.#fill);
      this.#slab.fill(0, this.#fill * this.#channelCount, (this.#fill + count) * this.#channelCount);
      this.#gapFrames += count;
      this.#advance(count);
      left -= count;
    }
  }

  /** What is no number has no place in a recording that is to be read again; the live readings name it. */
  #copy(samples: Float32Array | undefined, channel: number, from: number, count: number): void {
    let place = this.#fill * this.#channelCount + channel;
    for (let i = 0; i < count; i += 1) {
      const sample = samples?.[from + i] ?? 0;
      this.#slab[place] = Number.isFinite(sample) ? sample : 0;
      place += this.#channelCount;
    }
  }

  #advance(count: number): void {
    this.#fill += count;
    if (this.#fill < SLAB_FRAMES) return;
    this.#send();
    this.#slab = this.#take();
  }

  #send(): void {
    const samples = this.#slab;
    const message: SlabMessage = { type: 'slab', samples, frames: this.#fill, gapFrames: this.#gapFrames };
    this.#port.postMessage(message, [samples.buffer]);
    this.#fill = 0;
    this.#gapFrames = 0;
  }

  #take(): Float32Array<ArrayBuffer> {
    return this.#free.pop() ?? this.#newSlab();
  }

  #newSlab(): Float32Array<ArrayBuffer> {
    return new Float32Array(SLAB_FRAMES * this.#channelCount);
  }
}
