/** One block of a stereo stream as a FLAC frame: RFC 9639, 9. */
import { BitWriter } from './bit-writer.ts';
import { crc8, crc16 } from './checksums.ts';
import { planSubframe, type SubframePlan, writeSubframe } from './subframe.ts';

/** The block size that RFC 9639, 8.2 names for common rates; players hold it in their smallest buffers. */
export const BLOCK_FRAMES = 4096;
/** RFC 9639, 9.1.1, table 14. */
const BLOCK_CODE = 0b1100;
const BLOCK_CODE_16_BITS = 0b0111;
/** RFC 9639, 9.1.4: 16 and 24 bits a sample. */
const SAMPLE_CODES = { 16: 0b100, 24: 0b110 } as const;
/** RFC 9639, 9.1.3. */
const INDEPENDENT = 0b0001;
const LEFT_AND_SIDE = 0b1000;
const MIDDLE_AND_SIDE = 0b1010;

export class FrameEncoder {
  readonly #writer = new BitWriter();
  readonly #bits: 16 | 24;
  #frameNumber = 0;

  constructor(bits: 16 | 24) {
    this.#bits = bits;
  }

  /** @param left and `right` of one length, `BLOCK_FRAMES`, or less at the end of the stream */
  encode(left: Int32Array, right: Int32Array): Uint8Array<ArrayBuffer> {
    const writer = this.#writer;
    writer.clear();
    const { assignment, subframes } = cheapest(left, right, this.#bits);
    this.#writeHeader(left.length, assignment);
    for (const subframe of subframes) writeSubframe(writer, subframe);
    writer.align();
    writer.write(crc16(writer.bytes), 16);
    this.#frameNumber += 1;
    return writer.bytes.slice();
  }

  #writeHeader(blockFrames: number, assignment: number): void {
    const writer = this.#writer;
    const isWhole = blockFrames === BLOCK_FRAMES;
    // Sync code, and blocks of one size.
    writer.write(0b1111_1111_1111_1000, 16);
    writer.write(isWhole ? BLOCK_CODE : BLOCK_CODE_16_BITS, 4);
    // The rate is the stream's.
    writer.write(0, 4);
    writer.write(assignment, 4);
    writer.write(SAMPLE_CODES[this.#bits], 3);
    writer.write(0, 1);
    writeCodedNumber(writer, this.#frameNumber);
    if (!isWhole) writer.write(blockFrames - 1, 16);
    writer.write(crc8(writer.bytes), 8);
  }
}

/** RFC 9639, 9.1.5: numbers as UTF-8 has them, up to 31 bits. */
function writeCodedNumber(writer: BitWriter, value: number): void {
  if (value < 0x80) {
    writer.write(value, 8);
    return;
  }
  let further = 1;
  while (value >= 2 ** (5 * further + 6)) further += 1;
  const lead = (0xff << (7 - further)) & 0xff;
  writer.write(lead | (value >>> (6 * further)), 8);
  for (let at = further - 1; at >= 0; at -= 1) writer.write(0x80 | ((value >>> (6 * at)) & 0x3f), 8);
}

/** Both sides as they are, or one of them, or their middle, with their difference. */
function cheapest(
  left: Int32Array,
  right: Int32Array,
  bits: 16 | 24,
): { assignment: number; subframes: [SubframePlan, SubframePlan] } {
  const ofLeft = planSubframe(left, bits);
  const ofRight = planSubframe(right, bits);
  const ofSide = planSubframe(
    left.map((value, frame) => value - right[frame]!),
    bits + 1,
  );
  const ofMiddle = planSubframe(
    left.map((value, frame) => (value + right[frame]!) >> 1),
    bits,
  );
  const choices = [
    { assignment: INDEPENDENT, subframes: [ofLeft, ofRight] },
    { assignment: LEFT_AND_SIDE, subframes: [ofLeft, ofSide] },
    { assignment: MIDDLE_AND_SIDE, subframes: [ofMiddle, ofSide] },
  ] as const;
  const cost = ([first, second]: readonly [SubframePlan, SubframePlan]) => first.bits + second.bits;
  const { assignment, subframes } = choices.reduce((a, b) => (cost(b.subframes) < cost(a.subframes) ? b : a));
  return { assignment, subframes: [...subframes] };
}
