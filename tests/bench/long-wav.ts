/** Long 24-bit stereo files for the bench, written block by block: their length costs no memory. */
import { closeSync, openSync, writeSync } from 'node:fs';

export const SAMPLE_RATE_HZ = 48_000;
const BYTES_PER_FRAME = 6;
/** Written again and again: ten seconds, so that a repeat is longer than any segment and any loudness window. */
const LOOP_SECONDS = 10;

/** One channel: full scale 1.0 at frame `n` of the loop. */
export type Wave = (frame: number) => number;

/** Whole periods in the loop. Held at 3 dB below its crest, as an amplifier does that is driven too far. */
export function clippedTone(frequencyHz: number): Wave {
  const ceiling = 10 ** (-3 / 20);
  return (n) => clamp(Math.sin(phase(frequencyHz, n)), ceiling);
}

/** A tone at -6 dBFS with white noise 55 dB below it. */
export function noisyTone(frequencyHz: number): Wave {
  return (n) => 0.5 * Math.sin(phase(frequencyHz, n)) + 2e-3 * (Math.random() - 0.5);
}

/** Pink noise (P. Kellet's three poles) whose loudness swells and sinks: as restless as music, and as unlike a tone. */
export function restlessNoise(): Wave {
  let [slow, middle, quick] = [0, 0, 0];
  return (n) => {
    const white = 2 * Math.random() - 1;
    slow = 0.99765 * slow + 0.099046 * white;
    middle = 0.963 * middle + 0.2965164 * white;
    quick = 0.57 * quick + 1.0526913 * white;
    const swell = 0.6 + 0.4 * Math.sin(phase(1.9, n)) * Math.sin(phase(0.3, n));
    return clamp(0.08 * swell * (slow + middle + quick + 0.1848 * white), 0.98);
  };
}

/** The size of the sample data stands in 64 bits (RF64, EBU Tech 3306) where 32 do not hold it. */
export function writeLongWav(path: string, seconds: number, left: Wave, right: Wave): void {
  const loop = loopOf(left, right);
  const dataBytes = seconds * SAMPLE_RATE_HZ * BYTES_PER_FRAME;
  const file = openSync(path, 'w');
  try {
    writeSync(file, header(dataBytes));
    for (let left = dataBytes; left > 0; left -= loop.length)
      writeSync(file, loop, 0, Math.min(left, loop.length));
  } finally {
    closeSync(file);
  }
}

function loopOf(left: Wave, right: Wave): Buffer {
  const loop = Buffer.alloc(LOOP_SECONDS * SAMPLE_RATE_HZ * BYTES_PER_FRAME);
  for (let n = 0; n < LOOP_SECONDS * SAMPLE_RATE_HZ; n += 1) {
    loop.writeIntLE(code(left(n)), n * BYTES_PER_FRAME, 3);
    loop.writeIntLE(code(right(n)), n * BYTES_PER_FRAME + 3, 3);
  }
  return loop;
}

function header(dataBytes: number): Buffer {
  const long = dataBytes > 0xffff_ff00;
  const bytes = Buffer.alloc(80);
  bytes.write(long ? 'RF64' : 'RIFF', 0, 'latin1');
  bytes.writeUInt32LE(long ? 0xffff_ffff : 72 + dataBytes, 4);
  bytes.write(long ? 'WAVEds64' : 'WAVEJUNK', 8, 'latin1');
  bytes.writeUInt32LE(28, 16);
  if (long) {
    bytes.writeBigUInt64LE(BigInt(72 + dataBytes), 20);
    bytes.writeBigUInt64LE(BigInt(dataBytes), 28);
    bytes.writeBigUInt64LE(BigInt(dataBytes / BYTES_PER_FRAME), 36);
  }
  bytes.write('fmt ', 48, 'latin1');
  bytes.writeUInt32LE(16, 52);
  bytes.writeUInt16LE(1, 56);
  bytes.writeUInt16LE(2, 58);
  bytes.writeUInt32LE(SAMPLE_RATE_HZ, 60);
  bytes.writeUInt32LE(SAMPLE_RATE_HZ * BYTES_PER_FRAME, 64);
  bytes.writeUInt16LE(BYTES_PER_FRAME, 68);
  bytes.writeUInt16LE(24, 70);
  bytes.write('data', 72, 'latin1');
  bytes.writeUInt32LE(long ? 0xffff_ffff : dataBytes, 76);
  return bytes;
}

/** Triangular dither of one step. */
function code(value: number): number {
  const steps = Math.round(value * 2 ** 23 + Math.random() - Math.random());
  return Math.max(-(2 ** 23), Math.min(2 ** 23 - 1, steps));
}

function phase(frequencyHz: number, frame: number): number {
  return 2 * Math.PI * (((frequencyHz * frame) / SAMPLE_RATE_HZ) % 1);
}

function clamp(value: number, ceiling: number): number {
  return Math.max(-ceiling, Math.min(ceiling, value));
}
