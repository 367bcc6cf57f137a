/**
 * Files for a browser's fake microphone. It runs at 44.1 kHz in blocks of 10 ms
 * and loops; one second of whole cycles in float32 has no seam and reaches the
 * page bit for bit.
 */
import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

export const FAKE_DEVICE_RATE_HZ = 44_100;

/** Whole cycles a second, and no divisor of the rate. */
export const TONE_HZ = 997;

/** One second of a periodic wave. @param wave value at a phase of 0 to 2 pi. */
export function second(wave: (phase: number) => number): Float32Array {
  return Float32Array.from({ length: FAKE_DEVICE_RATE_HZ }, (_, n) =>
    wave((2 * Math.PI * ((n * TONE_HZ) % FAKE_DEVICE_RATE_HZ)) / FAKE_DEVICE_RATE_HZ),
  );
}

/**
 * Amplitude of the nth harmonic of a sine that an ideal limiter clips on both
 * sides at 1, the sine's own peak being `10^(overdriveDb/20)` (references 3.2,
 * the describing function of a saturation; Gelb and Vander Velde 1968).
 */
function clippedHarmonic(order: number, overdriveDb: number): number {
  const peak = 10 ** (overdriveDb / 20);
  const angle = Math.asin(1 / peak);
  if (order === 1) return (2 / Math.PI) * (peak * angle + Math.cos(angle));
  if (order % 2 === 0) return 0;
  const bracket = (order / Math.tan(angle)) * Math.sin(order * angle) - Math.cos(order * angle);
  return (4 / (Math.PI * order * (order * order - 1))) * bracket;
}

/** The clipped sine out of its harmonics below half the rate: clipping samples instead would fold the rest back. */
export function clippedSine(overdriveDb: number, ceiling: number): Float32Array {
  const highest = Math.floor(FAKE_DEVICE_RATE_HZ / 2 / TONE_HZ);
  const amplitudes = Array.from({ length: highest }, (_, i) => ceiling * clippedHarmonic(i + 1, overdriveDb));
  return second((phase) => amplitudes.reduce((sum, b, i) => sum + b * Math.sin((i + 1) * phase), 0));
}

/** THD (F form) of that sine, per cent, from the harmonics up to `highHz`. */
export function clippedThdPercent(overdriveDb: number, highHz: number): number {
  let sum = 0;
  for (let order = 2; order * TONE_HZ <= highHz; order++) sum += clippedHarmonic(order, overdriveDb) ** 2;
  return (100 * Math.sqrt(sum)) / clippedHarmonic(1, overdriveDb);
}

/** Level against a full-scale sine, straight from the samples (AES17 3.12.1). */
export function levelDbfsOf(samples: Float32Array): number {
  const meanSquare = samples.reduce((sum, x) => sum + x * x, 0) / samples.length;
  return 10 * Math.log10(2 * meanSquare);
}

/** Writes both channels alike as float32 and returns the absolute path. The folder is the system's to clear. */
export function seamlessWav(samples: Float32Array): string {
  const frameBytes = 8;
  const bytes = Buffer.alloc(44 + samples.length * frameBytes);
  bytes.write('RIFF', 0);
  bytes.writeUInt32LE(bytes.length - 8, 4);
  bytes.write('WAVEfmt ', 8);
  bytes.writeUInt32LE(16, 16);
  bytes.writeUInt16LE(3, 20);
  bytes.writeUInt16LE(2, 22);
  bytes.writeUInt32LE(FAKE_DEVICE_RATE_HZ, 24);
  bytes.writeUInt32LE(FAKE_DEVICE_RATE_HZ * frameBytes, 28);
  bytes.writeUInt16LE(frameBytes, 32);
  bytes.writeUInt16LE(32, 34);
  bytes.write('data', 36);
  bytes.writeUInt32LE(samples.length * frameBytes, 40);
  for (const [n, sample] of samples.entries()) {
    bytes.writeFloatLE(sample, 44 + n * frameBytes);
    bytes.writeFloatLE(sample, 48 + n * frameBytes);
  }
  const path = join(mkdtempSync(join(tmpdir(), 'kneepoint-microphone-')), 'microphone.wav');
  writeFileSync(path, bytes);
  return path;
}
