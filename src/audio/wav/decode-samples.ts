import { BYTES_PER_SAMPLE, type SampleFormat } from './sample-format.ts';

/**
 * Takes one channel out of interleaved bytes. Full scale is 2^(bits - 1) in
 * both directions: the lowest 16-bit code is -1, the highest 32767/32768.
 *
 * Float32 carries the samples everywhere in this program; of 32-bit PCM and
 * 64-bit float it keeps 24 significant bits, 144 dB, below any converter's noise.
 */
export function decodeChannel(
  bytes: Uint8Array,
  sampleFormat: SampleFormat,
  channel: number,
  bytesPerFrame: number,
  into: Float32Array,
  frames: number,
): void {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let place = channel * BYTES_PER_SAMPLE[sampleFormat];
  const decode = DECODERS[sampleFormat];
  for (let frame = 0; frame < frames; frame += 1) {
    into[frame] = decode(view, place);
    place += bytesPerFrame;
  }
}

const DECODERS: Record<SampleFormat, (view: DataView, place: number) => number> = {
  pcm8: (view, place) => (view.getUint8(place) - 128) / 2 ** 7,
  pcm16: (view, place) => view.getInt16(place, true) / 2 ** 15,
  pcm24: (view, place) => (view.getUint16(place, true) + view.getInt8(place + 2) * 2 ** 16) / 2 ** 23,
  pcm32: (view, place) => view.getInt32(place, true) / 2 ** 31,
  float32: (view, place) => view.getFloat32(place, true),
  float64: (view, place) => view.getFloat64(place, true),
};
