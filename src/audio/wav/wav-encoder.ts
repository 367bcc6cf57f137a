import { Random } from '../../dsp/tones/random.ts';

export interface WavEncoding {
  sampleRateHz: number;
  channelCount: number;
  bits: 16 | 24;
  /** How many frames will follow: the header states it first, so nothing has to be patched. */
  frames: number;
  /** The same seed gives the same file, bit for bit. */
  ditherSeed: number;
}

const HEADER_BYTES = 44;

/**
 * Writes PCM WAV, piece by piece: `header()`, then `encode()` as often as
 * needed, then `end()`.
 *
 * Every sample is dithered with triangular noise of 2 steps peak to peak (TPDF:
 * Lipshitz, Wannamaker, Vanderkooy, JAES 40(5) 1992), which turns the
 * quantiser's distortion into a steady noise of a quarter step squared
 * (-93.32 dBFS at 16 bits, sine convention), the pauses inside a tone included.
 * A channel given as `null` is digital silence and is written as exact zeros:
 * it is there to show the player's own floor and its leakage between channels,
 * and our noise would stand in the way of that.
 */
export class WavEncoder {
  readonly #encoding: WavEncoding;
  readonly #random: Random;
  readonly #bytesPerFrame: number;
  #framesWritten = 0;

  /** @throws RangeError when the file would pass the 4 GiB of its header */
  constructor(encoding: WavEncoding) {
    this.#encoding = encoding;
    this.#random = new Random(encoding.ditherSeed);
    this.#bytesPerFrame = (encoding.channelCount * encoding.bits) / 8;
    if (HEADER_BYTES + encoding.frames * this.#bytesPerFrame > 0xffff_ffff) {
      throw new RangeError(
        `${encoding.frames} frames do not fit in one WAV file: at most 4 GiB, ${Math.floor((2 ** 32 - HEADER_BYTES - 1) / this.#bytesPerFrame)} frames here.`,
      );
    }
  }

  header(): Uint8Array<ArrayBuffer> {
    const { sampleRateHz, channelCount, bits, frames } = this.#encoding;
    const dataBytes = frames * this.#bytesPerFrame;
    const bytes = new Uint8Array(HEADER_BYTES);
    const view = new DataView(bytes.buffer);
    const word = (place: number, text: string) => {
      for (let index = 0; index < 4; index += 1) bytes[place + index] = text.charCodeAt(index);
    };
    word(0, 'RIFF');
    view.setUint32(4, HEADER_BYTES - 8 + dataBytes + (dataBytes % 2), true);
    word(8, 'WAVE');
    word(12, 'fmt ');
    view.setUint32(16, 16, true);
    view.setUint16(20, 1, true);
    view.setUint16(22, channelCount, true);
    view.setUint32(24, sampleRateHz, true);
    view.setUint32(28, sampleRateHz * this.#bytesPerFrame, true);
    view.setUint16(32, this.#bytesPerFrame, true);
    view.setUint16(34, bits, true);
    word(36, 'data');
    view.setUint32(40, dataBytes, true);
    return bytes;
  }

  /**
   * @param channels samples against full scale 1.0, one array for each channel, or `null` for digital silence
   * @throws RangeError at a sample that does not fit, never clipped, never wrapped
   */
  encode(channels: readonly (Float64Array | Float32Array | null)[], frames: number): Uint8Array<ArrayBuffer> {
    const bytes = new Uint8Array(frames * this.#bytesPerFrame);
    const sampleBytes = this.#encoding.bits / 8;
    let place = 0;
    for (let frame = 0; frame < frames; frame += 1) {
      for (let channel = 0; channel < this.#encoding.channelCount; channel += 1) {
        const samples = channels[channel];
        if (samples) {
          const code = this.#quantise(samples[frame]!, frame, channel);
          bytes[place] = code;
          bytes[place + 1] = code >> 8;
          if (sampleBytes === 3) bytes[place + 2] = code >> 16;
        }
        place += sampleBytes;
      }
    }
    this.#framesWritten += frames;
    return bytes;
  }

  /** The pad byte that chunks of odd length need, or nothing. */
  end(): Uint8Array<ArrayBuffer> {
    if (this.#framesWritten !== this.#encoding.frames) {
      throw new RangeError(
        `The header states ${this.#encoding.frames} frames and ${this.#framesWritten} were written: both must agree.`,
      );
    }
    return new Uint8Array((this.#encoding.frames * this.#bytesPerFrame) % 2);
  }

  #quantise(sample: number, frame: number, channel: number): number {
    const fullScale = 2 ** (this.#encoding.bits - 1);
    const code = Math.floor(sample * fullScale + this.#random.nextTriangular() + 0.5);
    if (code >= -fullScale && code < fullScale) return code;
    throw new RangeError(
      `Sample ${sample} at frame ${this.#framesWritten + frame} of channel ${channel} passes full scale at ${this.#encoding.bits} bits: it must leave two steps for the dither, at most ${(fullScale - 2) / fullScale}.`,
    );
  }
}

const PIECE_FRAMES = 65_536;

/**
 * A whole WAV file in pieces, ready for a file, a `Blob` or a zip.
 *
 * @param channels one array of samples for each channel, or `null` for digital silence
 */
export function* wavPieces(
  encoding: Omit<WavEncoding, 'channelCount'>,
  channels: readonly (Float64Array | Float32Array | null)[],
): Generator<Uint8Array<ArrayBuffer>, void> {
  const encoder = new WavEncoder({ ...encoding, channelCount: channels.length });
  yield encoder.header();
  for (let start = 0; start < encoding.frames; start += PIECE_FRAMES) {
    const frames = Math.min(PIECE_FRAMES, encoding.frames - start);
    yield encoder.encode(
      channels.map((samples) => samples?.subarray(start, start + frames) ?? null),
      frames,
    );
  }
  const pad = encoder.end();
  if (pad.length > 0) yield pad;
}
