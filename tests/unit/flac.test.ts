import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { crc8, crc16 } from '../../src/audio/flac/checksums.ts';
import { flacCopy } from '../../src/audio/flac/flac-copy.ts';
import { Md5 } from '../../src/audio/flac/md5.ts';
import { wavPieces } from '../../src/audio/wav/wav-encoder.ts';

const DIGITS = new TextEncoder().encode('123456789');

describe('the checksums of FLAC', () => {
  it('have the published check values (catalogue of parametrised CRCs: CRC-8/SMBUS, CRC-16/UMTS)', () => {
    expect(crc8(DIGITS)).toBe(0xf4);
    expect(crc16(DIGITS)).toBe(0xfee8);
  });

  it('digest any bytes as MD5 does, however they are cut', () => {
    fc.assert(
      fc.property(fc.array(fc.uint8Array({ maxLength: 200 }), { maxLength: 6 }), (pieces) => {
        const md5 = new Md5();
        for (const piece of pieces) md5.push(piece);
        const expected = createHash('md5').update(Buffer.concat(pieces)).digest('hex');
        expect(Buffer.from(md5.finish()).toString('hex')).toBe(expected);
      }),
    );
  });
});

describe('a FLAC copy', () => {
  it('is refused of what is no stereo WAV', () => {
    const mono = wavPieces({ sampleRateHz: 48_000, bits: 16, frames: 4, ditherSeed: 1 }, [
      new Float64Array(4),
    ]);
    expect(() => flacCopy(mono)).toThrow(/Only a stereo WAV of 16 or 24 bits/);
    expect(() => flacCopy([])).toThrow(/without a header/);
  });

  it('is refused of a WAV that ends early', () => {
    const sides = [new Float64Array(9000), null];
    const pieces = [...wavPieces({ sampleRateHz: 48_000, bits: 16, frames: 9000, ditherSeed: 1 }, sides)];
    expect(() => flacCopy([pieces[0]!, pieces[1]!.subarray(0, 4000)])).toThrow(
      /states 9000 frames and holds 1000/,
    );
  });

  it('takes a few bytes for silence', () => {
    const pieces = flacCopy(
      wavPieces({ sampleRateHz: 48_000, bits: 16, frames: 480_000, ditherSeed: 1 }, [null, null]),
    );
    const bytes = pieces.reduce((sum, { length }) => sum + length, 0);
    // 118 blocks, two constant subframes each: some 15 bytes a block.
    expect(bytes).toBeLessThan(118 * 20);
  });
});
