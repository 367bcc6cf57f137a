/** A stereo WAV of this program's own as a FLAC file (RFC 9639): the same samples in about half the bytes. */
import { BitWriter } from './bit-writer.ts';
import { BLOCK_FRAMES, FrameEncoder } from './frame.ts';
import { Md5 } from './md5.ts';

interface StreamFacts {
  sampleRateHz: number;
  bits: 16 | 24;
  frames: number;
}

/** RFC 9639, 8.2. */
const STREAM_INFO_BYTES = 34;
/** As `wav-encoder.ts` writes it: nothing but format and data. */
const WAV_HEADER_BYTES = 44;

/**
 * @param wav the pieces of a WAV from `src/audio/wav`, its header alone in the first
 * @returns the pieces of the file
 * @throws RangeError as `FlacCopier` does
 */
export function flacCopy(wav: Iterable<Uint8Array>): Uint8Array<ArrayBuffer>[] {
  const copier = new FlacCopier();
  for (const piece of wav) copier.push(piece);
  return copier.finish();
}

/**
 * As `flacCopy`, for who does other things between two pieces. What is encoded is held until the end, since the
 * samples' digest stands first.
 *
 * @throws RangeError for a WAV that is not stereo of 16 or 24 bits, or ends early
 */
export class FlacCopier {
  #blocks: BlockEncoder | null = null;

  /** @param piece the header, and then whole frames */
  push(piece: Uint8Array): void {
    if (this.#blocks === null) this.#blocks = new BlockEncoder(factsOf(piece));
    else this.#blocks.push(piece);
  }

  finish(): Uint8Array<ArrayBuffer>[] {
    if (this.#blocks === null) throw new RangeError('A WAV without a header cannot be copied to FLAC.');
    return this.#blocks.finish();
  }
}

function factsOf(header: Uint8Array): StreamFacts {
  const view = new DataView(header.buffer, header.byteOffset, header.byteLength);
  const bits = header.length === WAV_HEADER_BYTES ? view.getUint16(34, true) : 0;
  if ((bits !== 16 && bits !== 24) || view.getUint16(22, true) !== 2) {
    throw new RangeError('Only a stereo WAV of 16 or 24 bits with a plain header is copied to FLAC.');
  }
  const frames = view.getUint32(40, true) / (bits / 4);
  return { sampleRateHz: view.getUint32(24, true), bits, frames };
}

class BlockEncoder {
  readonly #facts: StreamFacts;
  readonly #frameEncoder: FrameEncoder;
  readonly #md5 = new Md5();
  readonly #encoded: Uint8Array<ArrayBuffer>[] = [];
  readonly #left = new Int32Array(BLOCK_FRAMES);
  readonly #right = new Int32Array(BLOCK_FRAMES);
  #filled = 0;
  #frames = 0;

  constructor(facts: StreamFacts) {
    this.#facts = facts;
    this.#frameEncoder = new FrameEncoder(facts.bits);
  }

  /** @param pcm whole frames, little-endian, left and right in turn */
  push(pcm: Uint8Array): void {
    this.#md5.push(pcm);
    const sampleBytes = this.#facts.bits / 8;
    for (let place = 0; place < pcm.length; place += 2 * sampleBytes) {
      this.#left[this.#filled] = sampleAt(pcm, place, sampleBytes);
      this.#right[this.#filled] = sampleAt(pcm, place + sampleBytes, sampleBytes);
      this.#filled += 1;
      if (this.#filled === BLOCK_FRAMES) this.#encodeBlock();
    }
  }

  finish(): Uint8Array<ArrayBuffer>[] {
    if (this.#filled > 0) this.#encodeBlock();
    if (this.#frames !== this.#facts.frames) {
      throw new RangeError(
        `The WAV states ${this.#facts.frames} frames and holds ${this.#frames}: it cannot be copied to FLAC.`,
      );
    }
    return [this.#head(), ...this.#encoded];
  }

  #encodeBlock(): void {
    const left = this.#left.subarray(0, this.#filled);
    const right = this.#right.subarray(0, this.#filled);
    this.#encoded.push(this.#frameEncoder.encode(left, right));
    this.#frames += this.#filled;
    this.#filled = 0;
  }

  /** The marker of the format and its one block of metadata. */
  #head(): Uint8Array<ArrayBuffer> {
    const { sampleRateHz, bits, frames } = this.#facts;
    const lengths = this.#encoded.map(({ length }) => length);
    const writer = new BitWriter();
    for (const letter of 'fLaC') writer.write(letter.charCodeAt(0), 8);
    // The last block of metadata, of kind 0.
    writer.write(0x80, 8);
    writer.write(STREAM_INFO_BYTES, 24);
    writer.write(BLOCK_FRAMES, 16);
    writer.write(BLOCK_FRAMES, 16);
    writer.write(Math.min(...lengths), 24);
    writer.write(Math.max(...lengths), 24);
    writer.write(sampleRateHz, 20);
    writer.write(2 - 1, 3);
    writer.write(bits - 1, 5);
    writer.write(Math.floor(frames / 2 ** 32), 4);
    writer.write(frames, 32);
    for (const byte of this.#md5.finish()) writer.write(byte, 8);
    return writer.bytes.slice();
  }
}

function sampleAt(pcm: Uint8Array, place: number, sampleBytes: number): number {
  return sampleBytes === 2
    ? ((pcm[place]! | (pcm[place + 1]! << 8)) << 16) >> 16
    : ((pcm[place]! | (pcm[place + 1]! << 8) | (pcm[place + 2]! << 16)) << 8) >> 8;
}
