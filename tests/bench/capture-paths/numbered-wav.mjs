/**
 * A float32 stereo WAV whose right channel numbers its own frames, four counts
 * a second in steps of 1/8192, wide enough to survive a 16-bit input, and whose
 * left one is a sine: one second, whole cycles, whole 10 ms blocks, so that a
 * loop has no seam.
 */
export function numberedWav(rateHz, toneHz) {
  const period = rateHz / COUNTS_PER_SECOND;
  const frames = rateHz;
  const bytes = Buffer.alloc(44 + frames * 8);
  bytes.write('RIFF', 0);
  bytes.writeUInt32LE(36 + frames * 8, 4);
  bytes.write('WAVEfmt ', 8);
  bytes.writeUInt32LE(16, 16);
  bytes.writeUInt16LE(3, 20);
  bytes.writeUInt16LE(2, 22);
  bytes.writeUInt32LE(rateHz, 24);
  bytes.writeUInt32LE(rateHz * 8, 28);
  bytes.writeUInt16LE(8, 32);
  bytes.writeUInt16LE(32, 34);
  bytes.write('data', 36);
  bytes.writeUInt32LE(frames * 8, 40);
  for (let n = 0; n < frames; n++) {
    const phase = (n * toneHz) % rateHz;
    bytes.writeFloatLE(0.5 * Math.sin((2 * Math.PI * phase) / rateHz + 0.1), 44 + n * 8);
    bytes.writeFloatLE(((n % period) - period / 2) / 8192, 48 + n * 8);
  }
  return bytes;
}

export const COUNTS_PER_SECOND = 4;
