import fc from 'fast-check';
import { expect, test } from 'vitest';
import { openWav } from '../../src/audio/wav/open-wav.ts';
import { readFrames } from '../../src/audio/wav/read-frames.ts';
import { WavEncoder, wavPieces } from '../../src/audio/wav/wav-encoder.ts';
import { byteSource, bytesOf } from './wav-bytes.ts';

const ENCODING = { sampleRateHz: 44_100, bits: 16 as const, ditherSeed: 1 };

function file(
  channels: (Float64Array | null)[],
  frames: number,
  bits: 16 | 24 = 16,
  ditherSeed = 1,
): Uint8Array {
  return bytesOf(...wavPieces({ sampleRateHz: 44_100, bits, ditherSeed, frames }, channels));
}

async function readBack(bytes: Uint8Array): Promise<Float32Array[]> {
  const info = await openWav(byteSource(bytes));
  const into = Array.from({ length: info.channelCount }, () => new Float32Array(info.frames));
  await readFrames(info, 0, info.frames, into);
  return into;
}

test('what is written is read back within one and a half steps, at any level, in any channel', async () => {
  const sample = fc.double({ min: -0.9999, max: 0.9999, noNaN: true });
  const stereo = fc.array(fc.tuple(sample, sample), { minLength: 1, maxLength: 50 });
  await fc.assert(
    fc.asyncProperty(stereo, fc.constantFrom<16 | 24>(16, 24), fc.nat(), async (frames, bits, seed) => {
      const channels = [0, 1].map((channel) => Float64Array.from(frames, (pair) => pair[channel as 0 | 1]));
      const heard = await readBack(file(channels, frames.length, bits, seed));
      for (const [channel, samples] of channels.entries()) {
        for (const [frame, wanted] of samples.entries()) {
          // Dither of at most one step and rounding of half a step; Float32 adds 2^-25.
          expect(Math.abs(heard[channel]![frame]! - wanted)).toBeLessThan(1.5 * 2 ** (1 - bits) + 2 ** -25);
        }
      }
    }),
    { numRuns: 60 },
  );
});

test('a channel of digital silence is exact zeros, a channel of zeros that belong to a tone is dithered', async () => {
  const [tone, silence] = await readBack(file([new Float64Array(2_000), null], 2_000));
  expect(silence!.every((sample) => sample === 0)).toBe(true);
  expect(new Set(tone)).toEqual(new Set([-1 / 32_768, 0, 1 / 32_768]));
});

test('the same seed gives the same bytes, another seed others', () => {
  const samples = new Float64Array(500).fill(0.1);
  expect(file([samples], 500, 16, 5)).toEqual(file([samples], 500, 16, 5));
  expect(file([samples], 500, 16, 5)).not.toEqual(file([samples], 500, 16, 6));
});

test('an odd number of bytes is padded, and the header counts the pad as RIFF asks', () => {
  // Five frames of three bytes: data 15, one pad byte, RIFF size 36 + 16 (references item 17).
  const bytes = file([new Float64Array(5)], 5, 24);
  const view = new DataView(bytes.buffer);
  expect(bytes.length).toBe(60);
  expect(view.getUint32(4, true)).toBe(52);
  expect(view.getUint32(40, true)).toBe(15);
});

test('a sample beyond full scale is refused, not clipped and not wrapped', () => {
  const at = (value: number) => () => file([Float64Array.of(0, value)], 2);
  expect(at(32_766 / 32_768)).not.toThrow();
  expect(at(-32_766 / 32_768)).not.toThrow();
  for (const value of [1.0001, -1.0001, Number.NaN, Number.POSITIVE_INFINITY]) {
    expect(at(value)).toThrow(RangeError);
    expect(at(value)).toThrow(/at frame 1 of channel 0 passes full scale at 16 bits/);
  }
});

test('a file that its own header cannot describe is refused', () => {
  expect(() => new WavEncoder({ ...ENCODING, channelCount: 2, frames: 2 ** 30 })).toThrow(/at most 4 GiB/);
  const short = new WavEncoder({ ...ENCODING, channelCount: 1, frames: 3 });
  short.encode([new Float64Array(2)], 2);
  expect(() => short.end()).toThrow(/states 3 frames and 2 were written/);
});
