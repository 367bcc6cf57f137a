import { createHash } from 'node:crypto';
import { writeFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { flacCopy } from '../../src/audio/flac/flac-copy.ts';
import { wavPieces } from '../../src/audio/wav/wav-encoder.ts';
import { renderTone } from '../../src/dsp/tones/render-tone.ts';
import { seededGauss, seededUniform } from '../unit/seeded-random.ts';
import { lacks, runFfmpeg, runSox } from './oracle.ts';
import { scratchFolder } from './scratch-folder.ts';

const scratch = scratchFolder();

type Side = Float64Array | null;

const tone = (frequencyHz: number, levelDbfs: number) =>
  renderTone({ kind: 'sine', frequencyHz, levelDbfs, durationSeconds: 0.7 }, 48_000);
const frames = tone(997, -20).length;

function noise(seed: number, peak: number): Float64Array {
  const random = seededGauss(seededUniform(seed));
  return Float64Array.from({ length: frames }, () => Math.max(-peak, Math.min(peak, 0.4 * random())));
}

/** By four octaves from `2^octave` of full scale on. */
function growing(seed: number, octave: number): Float64Array {
  return noise(seed, 2).map((value, n) => value * 2 ** ((4 * n) / frames + octave));
}

/** Full-scale square: the largest differences there are. */
const square = Float64Array.from({ length: frames }, (_, n) =>
  Math.floor(n / 7) % 2 === 0 ? 0.9999 : -0.9999,
);

const SIGNALS: { what: string; sides: [Side, Side] }[] = [
  { what: 'a tone on both sides', sides: [tone(997, -20), tone(997, -20)] },
  { what: 'a tone on the left', sides: [tone(43, 0), null] },
  { what: 'a tone on the right', sides: [null, tone(12_345, -3)] },
  { what: 'silence', sides: [null, null] },
  { what: 'noise, different on both sides', sides: [noise(1, 0.99), noise(2, 0.99)] },
  { what: 'a full-scale square against its inverse', sides: [square, square.map((value) => -value)] },
  // Half an octave a block, left through the parameters around 15 at 24 bits, where the kind of code changes.
  { what: 'noise that grows', sides: [growing(4, -10), growing(5, -20)] },
  { what: 'steps of noise and tone', sides: [noise(3, 0.5), tone(997, -60)] },
];

function pcmOf(pieces: readonly Uint8Array[]): Buffer {
  return Buffer.concat(pieces.slice(1));
}

describe.skipIf(lacks('ffmpeg', 'sox'))('a FLAC copy', () => {
  test.each(SIGNALS.flatMap((signal) => [16, 24].map((bits) => ({ ...signal, bits: bits as 16 | 24 }))))(
    'of $what, $bits bits, is given back bit for bit by FFmpeg and SoX',
    ({ sides, bits }) => {
      const wav = [...wavPieces({ sampleRateHz: 48_000, bits, frames, ditherSeed: 7 }, sides)];
      const pcm = pcmOf(wav);
      const path = scratch(`copy-${bits}.flac`);
      const flac = Buffer.concat(flacCopy(wav));
      writeFileSync(path, flac);
      const format = bits === 16 ? 's16le' : 's24le';
      const codec = `pcm_${format}`;
      const decoded = runFfmpeg(
        '-loglevel',
        'error',
        '-xerror',
        '-err_detect',
        'crccheck+explode',
        '-i',
        path,
        '-f',
        format,
        '-c:a',
        codec,
        '-',
      );
      expect(decoded.stderr).toBe('');
      expect(decoded.stdout.equals(pcm)).toBe(true);
      // SoX reads by the format's own reference library, which holds the samples against the digest.
      const again = runSox('-D', path, '-t', 'raw', '-e', 'signed-integer', '-b', String(bits), '-L', '-');
      expect(again.stderr).toBe('');
      expect(again.stdout.equals(pcm)).toBe(true);
      expect(flac.subarray(26, 42).toString('hex')).toBe(createHash('md5').update(pcm).digest('hex'));
    },
  );

  test('of a tone with its dither takes no more than a tenth more bytes than FFmpeg needs with the same predictors', () => {
    const wav = [
      ...wavPieces({ sampleRateHz: 48_000, bits: 16, frames, ditherSeed: 7 }, [tone(997, -20), null]),
    ];
    writeFileSync(scratch('tone.wav'), Buffer.concat(wav));
    const theirs = runFfmpeg(
      '-loglevel',
      'error',
      '-i',
      scratch('tone.wav'),
      '-c:a',
      'flac',
      '-lpc_type',
      'fixed',
      '-compression_level',
      '0',
      '-f',
      'flac',
      '-',
    );
    const ours = flacCopy(wav).reduce((sum, { length }) => sum + length, 0);
    expect(ours).toBeLessThan(1.1 * theirs.stdout.length);
  });
});
