import { describe, expect, test } from 'vitest';
import { blobBytes } from '../../src/audio/wav/blob-bytes.ts';
import { openWav, type WavInfo } from '../../src/audio/wav/open-wav.ts';
import { readFrames, wavBlocks } from '../../src/audio/wav/read-frames.ts';
import { WavError } from '../../src/audio/wav/wav-error.ts';
import { byteSource, bytesOf, chunk, formatBody, little, riff } from './wav-bytes.ts';

const FORMAT = chunk('fmt ', formatBody());
const SAMPLES = bytesOf(little(0x4000, 2), little(-0x8000, 2), little(0x7fff, 2));
const DATA = chunk('data', SAMPLES);
const VALUES = [0.5, -1, 32_767 / 32_768];
const UNKNOWN = 0xffff_ffff;

async function samplesOf(info: WavInfo): Promise<number[][]> {
  const into = Array.from({ length: info.channelCount }, () => new Float32Array(info.frames));
  await readFrames(info, 0, info.frames, into);
  return into.map((samples) => [...samples]);
}

async function open(bytes: Uint8Array): Promise<WavInfo> {
  return openWav(byteSource(bytes));
}

test('16-bit full scale is 32768 in both directions', async () => {
  const info = await open(riff([FORMAT, DATA]));
  expect(info).toMatchObject({ sampleRateHz: 48_000, channelCount: 1, frames: 3, sampleFormat: 'pcm16' });
  expect(await samplesOf(info)).toEqual([VALUES]);
});

test('a Blob is read as a file on disk is', async () => {
  const info = await openWav(blobBytes(new Blob([riff([FORMAT, DATA]) as Uint8Array<ArrayBuffer>])));
  expect(await samplesOf(info)).toEqual([VALUES]);
});

describe('every way to store a sample', () => {
  const float = (value: number) => new Uint8Array(new Float32Array([value]).buffer);
  const double = (value: number) => new Uint8Array(new Float64Array([value]).buffer);
  test.each<[string, number, number, Uint8Array[], number[]]>([
    ['8 bits, unsigned', 1, 8, [little(128, 1), little(0, 1), little(192, 1)], [0, -1, 0.5]],
    ['16 bits', 1, 16, [little(1, 2), little(-1, 2)], [2 ** -15, -(2 ** -15)]],
    [
      '20 bits in three bytes, left-justified',
      1,
      20,
      [little(0x100000, 4), little(-0x10, 4)],
      [0.125, -(2 ** -19)],
    ],
    ['24 bits', 1, 24, [little(0x400000, 4), little(-1, 4), little(-0x800000, 4)], [0.5, -(2 ** -23), -1]],
    ['32 bits', 1, 32, [little(0x40000000, 4), little(-0x80000000, 4), little(256, 4)], [0.5, -1, 2 ** -23]],
    ['float 32, beyond full scale too', 3, 32, [float(1.25), float(-1e-20)], [1.25, Math.fround(-1e-20)]],
    ['float 64', 3, 64, [double(0.25), double(-1.5)], [0.25, -1.5]],
  ])('%s', async (_, tag, bits, stored, values) => {
    const width = Math.ceil(bits / 8);
    const body = bytesOf(...stored.map((bytes) => bytes.slice(0, width)));
    const info = await open(riff([chunk('fmt ', formatBody({ tag, bits })), chunk('data', body)]));
    const [channel] = await samplesOf(info);
    expect(channel).toEqual(values);
  });
});

describe('what writers leave in files', () => {
  const extensible = (tag: number, tail = '000000001000800000aa00389b71') =>
    chunk(
      'fmt ',
      bytesOf(
        formatBody({ tag: 0xfffe }),
        little(22, 2),
        little(16, 2),
        little(4, 4),
        little(tag, 2),
        Uint8Array.from(tail.match(/../g)!, (pair) => Number.parseInt(pair, 16)),
      ),
    );
  const ds64 = (dataBytes: number) =>
    chunk('ds64', bytesOf(little(0, 8), little(dataBytes, 8), little(3, 8), little(0, 4)));
  const openData = chunk('data', SAMPLES, UNKNOWN);
  const note = chunk('LIST', bytesOf('INFOISFT', little(3, 4), 'abc'));

  test.each<[string, Uint8Array]>([
    ['the extensible header', riff([extensible(1), DATA])],
    ['an 18-byte format chunk', riff([chunk('fmt ', bytesOf(formatBody(), little(0, 2))), DATA])],
    ['JUNK before fmt', riff([chunk('JUNK', new Uint8Array(28)), FORMAT, DATA])],
    ['LIST of odd size, with its pad byte, before data', riff([FORMAT, note, DATA])],
    [
      'PEAK and fact before data',
      riff([FORMAT, chunk('fact', little(3, 4)), chunk('PEAK', new Uint8Array(16)), DATA]),
    ],
    ['chunks after data', riff([FORMAT, DATA, chunk('LIST', new Uint8Array(6))])],
    ['data before fmt', riff([DATA, FORMAT])],
    ['all ones in both sizes', riff([FORMAT, openData], 'RIFF', UNKNOWN)],
    ['all ones in the data size alone', riff([FORMAT, openData])],
    ['zero in both sizes', riff([FORMAT, chunk('data', SAMPLES, 0)], 'RIFF', 0)],
    [
      'zero in the data size, the header counted alone',
      riff([FORMAT, chunk('data', SAMPLES, 0)], 'RIFF', 36),
    ],
    ['a round size below 2 GiB', riff([FORMAT, chunk('data', SAMPLES, 0x7fff_f000)], 'RIFF', 0x7fff_f024)],
    ['RF64', riff([ds64(6), FORMAT, openData], 'RF64', UNKNOWN)],
    ['BW64 with a chunk after data', riff([ds64(6), FORMAT, openData, note], 'BW64', UNKNOWN)],
    ['RF64 that states the size in data', riff([ds64(0), FORMAT, DATA], 'RF64', UNKNOWN)],
    ['a RIFF size that is wrong', riff([FORMAT, DATA], 'RIFF', 3)],
    ['part of a frame at the end', riff([FORMAT, chunk('data', bytesOf(SAMPLES, little(9, 1)))])],
  ])('%s', async (_, bytes) => {
    expect(await samplesOf(await open(bytes))).toEqual([VALUES]);
  });

  test.each<[string, Uint8Array, RegExp]>([
    ['nothing at all', new Uint8Array(0), /is empty/],
    ['a few bytes', bytesOf('RIFF'), /4 bytes only/],
    ['text', bytesOf('This is a letter and no recording.'), /begins with RIFF/],
    ['another RIFF file', bytesOf('RIFF', little(4, 4), 'AVI '), /Not a WAV file/],
    ['big-endian', riff([FORMAT, DATA], 'RIFX'), /big-endian/],
    ['no data chunk', riff([FORMAT]), /no data chunk/],
    ['no format chunk', riff([DATA]), /no fmt chunk/],
    ['a short format chunk', riff([chunk('fmt ', new Uint8Array(8)), DATA]), /at least 16/],
    ['a format chunk cut off by the end of the file', riff([DATA, FORMAT.slice(0, 12)]), /4 bytes/],
    ['0 frames', riff([FORMAT, chunk('data', new Uint8Array(0))]), /0 frames/],
    [
      '0 frames with a chunk behind them',
      riff([FORMAT, chunk('data', new Uint8Array(0)), chunk('LIST', new Uint8Array(6))]),
      /0 frames/,
    ],
    ['less than one frame', riff([FORMAT, chunk('data', new Uint8Array(1))]), /0 frames/],
    [
      'a data chunk cut short',
      riff([FORMAT, chunk('data', SAMPLES, 96_000)], 'RIFF', 96_036),
      /promises 1.000 s/,
    ],
    ['RF64 cut short', riff([ds64(96_000), FORMAT, openData], 'RF64', UNKNOWN), /cut short/],
    ['compressed sound', riff([chunk('fmt ', formatBody({ tag: 0x55 })), DATA]), /format tag 85/],
    ['an unknown extended format', riff([extensible(1, '00'.repeat(14)), DATA]), /unknown extended/],
    ['extended compressed sound', riff([extensible(2), DATA]), /format tag 2/],
    ['half floats', riff([chunk('fmt ', formatBody({ tag: 3 })), DATA]), /16-bit samples/],
    ['0 channels', riff([chunk('fmt ', formatBody({ channelCount: 0 })), DATA]), /0 channels/],
    ['a rate of 0', riff([chunk('fmt ', formatBody({ sampleRateHz: 0 })), DATA]), /rate of 0 Hz/],
    [
      'a rate of 384 kHz',
      riff([chunk('fmt ', formatBody({ sampleRateHz: 384_000 })), DATA]),
      /8000 to 192000/,
    ],
    [
      'a frame size of its own',
      riff([chunk('fmt ', formatBody({ bytesPerFrame: 4 })), DATA]),
      /take 2 bytes/,
    ],
  ])('refuses %s in one sentence', async (_, bytes, sentence) => {
    const refused = open(bytes);
    await expect(refused).rejects.toThrow(WavError);
    await expect(refused).rejects.toThrow(sentence);
    await expect(refused).rejects.toThrow(/^[^.\n]+(\.\d[^.\n]*)*\.$/);
  });
});

describe('reading in blocks', () => {
  const frames = 1_000;
  const body = bytesOf(...Array.from({ length: 2 * frames }, (_, index) => little(index, 2)));
  const stereo = riff([chunk('fmt ', formatBody({ channelCount: 2 })), chunk('data', body)]);

  test('takes a stretch in blocks, channels apart, the last one shorter, in buffers used again', async () => {
    const info = await open(stereo);
    const seen: number[] = [];
    const lengths: number[] = [];
    const buffers = new Set<Float32Array>();
    for await (const block of wavBlocks(info, { startFrame: 10, endFrame: 500, blockFrames: 64 })) {
      lengths.push(block.frames);
      for (const buffer of block.channels) buffers.add(buffer);
      seen.push(...block.channels[1]!.subarray(0, block.frames));
    }
    expect(lengths).toEqual([...Array.from({ length: 7 }, () => 64), 42]);
    expect(buffers.size).toBe(2);
    expect(seen).toEqual(Array.from({ length: 490 }, (_, index) => (2 * (10 + index) + 1) / 32_768));
  });

  test('never holds more of the file than one block', async () => {
    const source = byteSource(stereo);
    const info = await openWav(source);
    for await (const block of wavBlocks(info, { blockFrames: 64 })) expect(block.frames).toBeGreaterThan(0);
    expect(source.longestRead).toBe(64 * 4);
  });

  test('refuses a stretch outside the file', async () => {
    const info = await open(stereo);
    const into = [new Float32Array(2), new Float32Array(2)];
    await expect(readFrames(info, 999, 2, into)).rejects.toThrow(RangeError);
    await expect(readFrames(info, -1, 2, into)).rejects.toThrow(RangeError);
  });

  test.each([
    [Number.NaN, /Frame 3 \(at 0.0001 s\) of channel 1 is not a number/],
    [Number.POSITIVE_INFINITY, /channel 1 is infinite/],
    [Number.NEGATIVE_INFINITY, /channel 1 is infinite/],
  ])('names the sample that is %s', async (bad, sentence) => {
    const values = new Float32Array(16);
    values[7] = bad;
    const format = chunk('fmt ', formatBody({ tag: 3, bits: 32, channelCount: 2 }));
    const info = await open(riff([format, chunk('data', new Uint8Array(values.buffer))]));
    const refused = samplesOf(info);
    await expect(refused).rejects.toThrow(WavError);
    await expect(refused).rejects.toThrow(sentence);
  });
});
