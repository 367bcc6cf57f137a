/** WAV files against scipy.io.wavfile, SoX and FFmpeg, in both directions. */
import { readFileSync, writeFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { openWav } from '../../src/audio/wav/open-wav.ts';
import { readFrames } from '../../src/audio/wav/read-frames.ts';
import { wavPieces } from '../../src/audio/wav/wav-encoder.ts';
import { renderTone } from '../../src/dsp/tones/render-tone.ts';
import { lacks, runFfmpeg, runPython, runSox } from './oracle.ts';
import { scratchFolder } from './scratch-folder.ts';

const scratch = scratchFolder();

async function ours(path: string): Promise<{ sampleRateHz: number; interleaved: number[] }> {
  const bytes = new Uint8Array(readFileSync(path));
  const info = await openWav({
    size: bytes.length,
    read: async (offset, length) => bytes.subarray(offset, offset + length),
  });
  const channels = Array.from({ length: info.channelCount }, () => new Float32Array(info.frames));
  await readFrames(info, 0, info.frames, channels);
  const interleaved = [...channels[0]!.keys()].flatMap((frame) => channels.map((samples) => samples[frame]!));
  return { sampleRateHz: info.sampleRateHz, interleaved };
}

function int32s(bytes: Buffer): number[] {
  return Array.from({ length: bytes.length / 4 }, (_, index) => bytes.readInt32LE(4 * index));
}

describe.skipIf(lacks('python', 'sox', 'ffmpeg'))('what we write, everyone reads the same', () => {
  const tone = (frames: number, sampleRateHz: number, levelDbfs: number) =>
    renderTone(
      { kind: 'sine', frequencyHz: 997, levelDbfs, durationSeconds: frames / sampleRateHz },
      sampleRateHz,
    );

  test.each<[16 | 24, number, 1 | 2]>([
    [16, 44_100, 1],
    [16, 48_000, 2],
    [24, 44_100, 2],
    [24, 48_000, 1],
    [24, 96_000, 2],
  ])('%i bits, %i Hz, %i channels', async (bits, sampleRateHz, channelCount) => {
    // An odd count of frames, so that 24-bit mono needs its pad byte.
    const frames = 9_601;
    const left = tone(frames, sampleRateHz, 0);
    const channels = channelCount === 1 ? [left] : [left, tone(frames, sampleRateHz, -40)];
    const path = scratch(`ours-${bits}-${sampleRateHz}-${channelCount}.wav`);
    writeFileSync(
      path,
      Buffer.concat([...wavPieces({ sampleRateHz, bits, frames, ditherSeed: 5 }, channels)]),
    );

    const mine = await ours(path);
    const codes = mine.interleaved.map((sample) => sample * 2 ** 31);
    expect(mine.sampleRateHz).toBe(sampleRateHz);
    expect(codes.length).toBe(frames * channelCount);

    const scipy = runPython('wav_codes.py', [path]) as { rateHz: number; channels: number[][] };
    // scipy hands out 24-bit codes left-justified in 32 bits.
    const shift = bits === 16 ? 2 ** 16 : 1;
    expect(scipy.rateHz).toBe(sampleRateHz);
    expect(
      scipy.channels[0]!.flatMap((_, frame) => scipy.channels.map((samples) => samples[frame]! * shift)),
    ).toEqual(codes);
    expect(int32s(runSox('-D', path, '-t', 'raw', '-e', 'signed', '-b', '32', '-').stdout)).toEqual(codes);
    const ffmpeg = runFfmpeg('-v', 'error', '-i', path, '-f', 's32le', '-');
    expect(int32s(ffmpeg.stdout)).toEqual(codes);
    // Both complain here of a header that contradicts the file.
    expect(runSox(path, '-n').stderr).toBe('');
    expect(ffmpeg.stderr).toBe('');
  });
});

describe.skipIf(lacks('sox', 'ffmpeg'))('what others write, we read the same', () => {
  const synth = ['synth', '0.2', 'sine', '997', 'sine', '313', 'gain', '-3'];
  const chirp = [
    '-f',
    'lavfi',
    '-i',
    'aevalsrc=0.7*sin(6000*t*t)|0.5*cos(2000*t):d=0.2:s=44100',
    '-v',
    'error',
  ];
  const sox =
    (...format: string[]) =>
    (path: string) =>
      void runSox('-r', '48000', '-n', ...format, path, ...synth);
  const ffmpeg =
    (...format: string[]) =>
    (path: string) =>
      void runFfmpeg(...chirp, ...format, path);

  test.each<[string, (path: string) => void]>([
    ['SoX, 8 bits', sox('-b', '8', '-c', '2')],
    ['SoX, 16 bits', sox('-b', '16', '-c', '2')],
    ['SoX, 24 bits', sox('-b', '24', '-c', '2')],
    ['SoX, 32 bits', sox('-b', '32', '-c', '2')],
    ['SoX, float 32', sox('-e', 'float', '-b', '32', '-c', '2')],
    ['SoX, float 64', sox('-e', 'float', '-b', '64', '-c', '2')],
    ['SoX, 8 kHz', (path) => void runSox('-r', '8000', '-n', '-b', '16', '-c', '2', path, ...synth)],
    ['SoX, 192 kHz', (path) => void runSox('-r', '192000', '-n', '-b', '24', '-c', '2', path, ...synth)],
    [
      'SoX into a pipe, 24 bits',
      (path) =>
        writeFileSync(
          path,
          runSox('-r', '48000', '-n', '-b', '24', '-c', '2', '-t', 'wav', '-', ...synth).stdout,
        ),
    ],
    ['FFmpeg, 16 bits', ffmpeg('-c:a', 'pcm_s16le')],
    ['FFmpeg, 24 bits', ffmpeg('-c:a', 'pcm_s24le')],
    ['FFmpeg, 32 bits', ffmpeg('-c:a', 'pcm_s32le')],
    ['FFmpeg, float 32', ffmpeg('-c:a', 'pcm_f32le')],
    ['FFmpeg, six channels', ffmpeg('-ac', '6', '-c:a', 'pcm_s24le')],
    ['FFmpeg, RF64', ffmpeg('-rf64', 'always', '-c:a', 'pcm_s24le')],
    [
      'FFmpeg into a pipe',
      (path) => writeFileSync(path, runFfmpeg(...chirp, '-c:a', 'pcm_s16le', '-f', 'wav', '-').stdout),
    ],
  ])('%s', async (name, write) => {
    const path = scratch(`theirs-${name.replace(/\W+/g, '-')}.wav`);
    write(path);
    // -ignore_length: FFmpeg takes the sizes that SoX leaves in a pipe at their word.
    const reader = ['-v', 'error', '-ignore_length', '1', '-i', path, '-f', 'f64le', '-'];
    const read = runFfmpeg(
      ...(name.includes('RF64') ? reader.filter((word) => !/^(-ignore_length|1)$/.test(word)) : reader),
    );
    const expected = Array.from({ length: read.stdout.length / 8 }, (_, index) =>
      read.stdout.readDoubleLE(8 * index),
    );
    const { interleaved } = await ours(path);
    expect(expected.length).toBeGreaterThan(2_000);
    expect(interleaved.length).toBe(expected.length);
    // Float32 holds 24 significant bits: half a step of 2^-24 at full scale.
    const worst = interleaved.reduce(
      (most, sample, index) => Math.max(most, Math.abs(sample - expected[index]!)),
      0,
    );
    expect(worst).toBeLessThanOrEqual(2 ** -25);
    expect(Math.max(...interleaved)).toBeGreaterThan(0.4);
  });
});
