/** Samples as they are: a WAV of 32-bit float, nothing dithered, nothing rounded. */

const HEADER_BYTES = 58;
const FORMAT_FLOAT = 3;

/**
 * @param channels one array for each channel, full scale 1.0, all of one length
 * @throws RangeError where they differ in length, or pass the 4 GiB of a RIFF header
 */
export function floatWav(channels: readonly Float32Array[], sampleRateHz: number): ArrayBuffer {
  const frames = channels[0]?.length ?? 0;
  if (channels.length === 0 || channels.some((samples) => samples.length !== frames)) {
    throw new RangeError('The channels of a WAV file must be of one length, and there must be one.');
  }
  const bytesPerFrame = 4 * channels.length;
  const dataBytes = frames * bytesPerFrame;
  if (HEADER_BYTES + dataBytes > 0xffff_ffff) {
    throw new RangeError(`${frames} frames do not fit in one WAV file: at most 4 GiB.`);
  }
  const buffer = new ArrayBuffer(HEADER_BYTES + dataBytes);
  const view = new DataView(buffer);
  writeHeader(view, { sampleRateHz, channelCount: channels.length, bytesPerFrame, frames, dataBytes });
  for (let frame = 0; frame < frames; frame += 1) {
    for (let channel = 0; channel < channels.length; channel += 1) {
      const place = HEADER_BYTES + frame * bytesPerFrame + 4 * channel;
      view.setFloat32(place, channels[channel]![frame]!, true);
    }
  }
  return buffer;
}

interface Shape {
  sampleRateHz: number;
  channelCount: number;
  bytesPerFrame: number;
  frames: number;
  dataBytes: number;
}

/** Formats other than PCM carry a `fact` chunk and a size of extension (Microsoft multimedia standards update, 1994). */
function writeHeader(view: DataView, shape: Shape): void {
  const word = (place: number, text: string) => {
    for (let index = 0; index < 4; index += 1) view.setUint8(place + index, text.charCodeAt(index));
  };
  word(0, 'RIFF');
  view.setUint32(4, HEADER_BYTES - 8 + shape.dataBytes, true);
  word(8, 'WAVE');
  word(12, 'fmt ');
  view.setUint32(16, 18, true);
  view.setUint16(20, FORMAT_FLOAT, true);
  view.setUint16(22, shape.channelCount, true);
  view.setUint32(24, shape.sampleRateHz, true);
  view.setUint32(28, shape.sampleRateHz * shape.bytesPerFrame, true);
  view.setUint16(32, shape.bytesPerFrame, true);
  view.setUint16(34, 32, true);
  view.setUint16(36, 0, true);
  word(38, 'fact');
  view.setUint32(42, 4, true);
  view.setUint32(46, shape.frames, true);
  word(50, 'data');
  view.setUint32(54, shape.dataBytes, true);
}
