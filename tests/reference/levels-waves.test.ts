import { describe, expect, test } from 'vitest';
import { StreamMeasurer } from '../../src/dsp/measure/streaming-measure.ts';

/**
 * Crest factor and r.m.s. of canonical waves: references, item 1 (exact forms, checked there on 2^20
 * samples). 1000 samples in a period, 100 periods, so that sampling itself costs under 1e-5.
 */
const PERIOD = 1000;
const WAVES: { name: string; crestDb: number; rms: number; mean: number; of: (cycle: number) => number }[] = [
  { name: 'sine', crestDb: 3.0103, rms: Math.SQRT1_2, mean: 0, of: (c) => Math.sin(2 * Math.PI * c) },
  { name: 'square', crestDb: 0, rms: 1, mean: 0, of: (c) => (c < 0.5 ? 1 : -1) },
  { name: 'triangle', crestDb: 4.7712, rms: 0.57735, mean: 0, of: (c) => 1 - 4 * Math.abs(c - 0.5) },
  {
    name: 'half-rectified sine',
    crestDb: 6.0206,
    rms: 0.5,
    mean: 1 / Math.PI,
    of: (c) => Math.max(0, Math.sin(2 * Math.PI * c)),
  },
  {
    name: 'full-rectified sine',
    crestDb: 3.0103,
    rms: Math.SQRT1_2,
    mean: 2 / Math.PI,
    of: (c) => Math.abs(Math.sin(2 * Math.PI * c)),
  },
  { name: 'pulse, one quarter', crestDb: 6.0206, rms: 0.5, mean: 0.25, of: (c) => (c < 0.25 ? 1 : 0) },
];

describe('canonical waves', () => {
  test.each(WAVES)('$name', ({ crestDb, rms, mean, of }) => {
    const samples = Float64Array.from({ length: 100 * PERIOD }, (_, n) => 0.8 * of((n % PERIOD) / PERIOD));
    const measurer = new StreamMeasurer({ sampleRateHz: 48_000, channelCount: 1 });
    measurer.push([samples], samples.length);
    const reading = measurer.finish()[0]!;
    expect(reading.crestFactorDb).toBeCloseTo(crestDb, 3);
    expect(reading.dcFullScale).toBeCloseTo(0.8 * mean, 4);
    // AES17 3.12.1: a full-scale sine is 0 dBFS, so a full-scale square is +3.01. DC is out of the level.
    const alternating = 0.8 * Math.sqrt(rms * rms - mean * mean);
    expect(reading.levelDbfs).toBeCloseTo(20 * Math.log10(alternating * Math.SQRT2), 3);
    expect(reading.samplePeakDbfs).toBeCloseTo(20 * Math.log10(0.8), 3);
  });
});
