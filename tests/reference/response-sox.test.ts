/**
 * Filters made by SoX (its `highpass` and `lowpass`: second-order digital sections, Q 0.707 by default, or single-pole
 * with `-1`), played 100 ppm fast or slow by its `speed`, and resampled by its `rate`.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { trackWav } from '../../src/audio/wav/track-wav.ts';
import { channelResponse } from '../../src/dsp/response/channel-response.ts';
import { SweepDeconvolver } from '../../src/dsp/response/deconvolver.ts';
import { analyseSweep } from '../../src/dsp/response/sweep-analysis.ts';
import { lacks, runSox } from './oracle.ts';
import { scratchFolder } from './scratch-folder.ts';

const scratch = scratchFolder();
const SWEEP = { kind: 'sweep', startHz: 20, endHz: 20_000, levelDbfs: -12, durationSeconds: 4 } as const;

function responseOf(sampleRateHz: number, ...effects: string[]) {
  const file = scratch('recorded.raw');
  const padded = ['pad', '0.4', '1', ...effects];
  runSox(scratch('sweep.wav'), '-t', 'f64', '-r', `${sampleRateHz}`, file, 'remix', '1', ...padded);
  const bytes = readFileSync(file);
  const samples = new Float64Array(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.length));
  const deconvolver = new SweepDeconvolver(SWEEP, sampleRateHz);
  const window = new Float64Array(deconvolver.length);
  window.set(samples.subarray(0, deconvolver.length));
  const analysed = analyseSweep(deconvolver, window);
  if (analysed === null) throw new Error('the sweep was not found');
  return channelResponse(deconvolver, analysed, null, { lowHz: 20, highHz: 20_000 });
}

describe.skipIf(lacks('sox'))('filters made by SoX', () => {
  beforeAll(() => {
    const form = { sampleRateHz: 48_000, bits: 24 as const, ditherSeed: 1 };
    writeFileSync(scratch('sweep.wav'), Buffer.concat([...trackWav({ ...SWEEP, channels: 'both' }, form)]));
  });

  it.each([
    [['highpass', '80'], [['high-pass', 'butterworth', 2, 80]]],
    [['highpass', '80', 'highpass', '80'], [['high-pass', 'linkwitz-riley', 4, 80]]],
    [['highpass', '-1', '150'], [['high-pass', 'butterworth', 1, 150]]],
    [['lowpass', '120', 'lowpass', '120'], [['low-pass', 'linkwitz-riley', 4, 120]]],
    [
      ['highpass', '60', 'lowpass', '3000'],
      [
        ['high-pass', 'butterworth', 2, 60],
        ['low-pass', 'butterworth', 2, 3000],
      ],
    ],
  ] as const)('%j at 48 kHz, and resampled to 44.1 kHz by a clock 100 ppm off', (effects, truth) => {
    const skewed = ['speed', '1.0001', 'rate', '-v', '44100'];
    for (const response of [
      responseOf(48_000, ...effects, 'rate', '48000'),
      responseOf(44_100, ...effects, ...skewed),
    ]) {
      const filters = response.finding?.filters ?? [];
      expect(filters.map((filter) => [filter.kind, filter.alignment, filter.order])).toEqual(
        truth.map((filter) => filter.slice(0, 3)),
      );
      // 24 bits and no noise: what is left is the edge of the band at 20 Hz and the gate.
      truth.forEach(([, , , cutoffHz], i) => {
        expect(Math.abs(filters[i]!.cutoffHz / cutoffHz - 1)).toBeLessThan(0.003);
      });
      expect(response.finding!.residualDb).toBeLessThan(0.05);
    }
  });

  it('shows a speed of 1.0001 as a recorder that counts 100 ppm too few', () => {
    const { clockSkewPpm } = responseOf(48_000, 'highpass', '80', 'speed', '1.0001', 'rate', '-v', '48000');
    expect(Math.abs(clockSkewPpm! + 100)).toBeLessThan(3);
  });

  it('names none in an equaliser', () => {
    const { finding } = responseOf(48_000, 'equalizer', '1000', '1q', '6');
    expect(finding).toMatchObject({ filters: [], verdict: 'none of these' });
    const shelved = responseOf(48_000, 'bass', '-8', '200');
    expect(shelved.finding).toMatchObject({ filters: [], verdict: 'none of these' });
  });
});
