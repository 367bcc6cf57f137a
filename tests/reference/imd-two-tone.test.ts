import { writeFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import {
  differenceFrequencyDistortion,
  modulationDistortion,
} from '../../src/dsp/intermodulation/figures.ts';
import { fitTwoTones } from '../../src/dsp/intermodulation/products.ts';
import { lacks, runFfmpeg, runPython } from './oracle.ts';
import { scratchFolder } from './scratch-folder.ts';

/** High enough that nothing a cube makes of 20 kHz folds back. */
const RATE_HZ = 192_000;
const SQUARE = 0.02;
const CUBE = -0.03;

interface Pair {
  lowHz: number;
  highHz: number;
  low: number;
  high: number;
}

/** Half a second of two tones through `x + a x^2 + k x^3`, evaluated by FFmpeg in doubles. */
function bentByFfmpeg({ lowHz, highHz, low, high }: Pair): Float64Array {
  const sum = `${low}*sin(2*PI*${lowHz}*t)+${high}*sin(2*PI*${highHz}*t+1)`;
  const bent = `st(0,${sum});ld(0)+${SQUARE}*ld(0)*ld(0)+(${CUBE})*ld(0)*ld(0)*ld(0)`;
  const source = `aevalsrc=exprs='${bent}':s=${RATE_HZ}:d=0.5`;
  const { stdout } = runFfmpeg('-v', 'error', '-f', 'lavfi', '-i', source, '-f', 'f64le', '-');
  return new Float64Array(stdout.buffer.slice(stdout.byteOffset, stdout.byteOffset + stdout.byteLength));
}

const SMPTE: Pair = { lowHz: 60, highHz: 7000, low: 0.4, high: 0.1 };
const CCIF: Pair = { lowHz: 19_000, highHz: 20_000, low: 0.25, high: 0.25 };

/** Trigonometric identities, as in the unit test; the high tone's own change by the cube included. */
const bentTone = (own: number, other: number) => own * (1 + CUBE * (0.75 * own ** 2 + 1.5 * other ** 2));

describe.skipIf(lacks('ffmpeg'))('two tones bent by FFmpeg, against the closed form', () => {
  // FFmpeg's source writes doubles; arithmetic alone is left, 1e-9 of a percent.
  test('60 Hz and 7 kHz', () => {
    const { low, high, lowHz, highHz } = SMPTE;
    const figures = modulationDistortion(fitTwoTones(bentByFfmpeg(SMPTE), RATE_HZ, lowHz, highHz)!);
    expect(figures.second!.percent).toBeCloseTo((200 * SQUARE * low * high) / bentTone(high, low), 8);
    expect(figures.third!.percent).toBeCloseTo((150 * -CUBE * low ** 2 * high) / bentTone(high, low), 8);
  });

  test('19 and 20 kHz', () => {
    const { low, high, lowHz, highHz } = CCIF;
    const figures = differenceFrequencyDistortion(fitTwoTones(bentByFfmpeg(CCIF), RATE_HZ, lowHz, highHz)!);
    expect(figures.second!.percent).toBeCloseTo((50 * SQUARE * low * high) / bentTone(low, high), 8);
    expect(figures.third!.percent).toBeCloseTo((75 * -CUBE * low ** 3) / bentTone(low, high), 8);
  });
});

interface NumpyProducts {
  low: number;
  high: number;
  difference: number;
  sum: number;
  below: number;
  above: number;
}

describe.skipIf(lacks('python', 'ffmpeg'))('the same lines by numpy from one windowed transform', () => {
  const scratch = scratchFolder();

  test.each([SMPTE, CCIF])('$lowHz and $highHz Hz', (pair) => {
    const samples = bentByFfmpeg(pair);
    writeFileSync(scratch('pair.f64'), new Uint8Array(samples.buffer));
    const args = [scratch('pair.f64'), RATE_HZ, pair.lowHz, pair.highHz].map(String);
    const numpy = runPython('two_tone_lines.py', args) as NumpyProducts;
    const products = fitTwoTones(samples, RATE_HZ, pair.lowHz, pair.highHz)!;
    // scipy's flat top reads a line on a bin to 1e-7 of itself and leaks 1e-4.6 of the next at -93 dB: 1e-6 absolute.
    expect(Math.abs(products.low.amplitude - numpy.low)).toBeLessThan(1e-6);
    expect(Math.abs(products.high.amplitude - numpy.high)).toBeLessThan(1e-6);
    expect(Math.abs(products.at(-1, 1)!.amplitude - numpy.difference)).toBeLessThan(1e-6);
    expect(Math.abs(products.at(1, 1)!.amplitude - numpy.sum)).toBeLessThan(1e-6);
    const [below, above] =
      pair === SMPTE ? [products.at(-2, 1)!, products.at(2, 1)!] : [products.at(2, -1)!, products.at(-1, 2)!];
    expect(Math.abs(below.amplitude - numpy.below)).toBeLessThan(1e-6);
    expect(Math.abs(above.amplitude - numpy.above)).toBeLessThan(1e-6);
  });
});
