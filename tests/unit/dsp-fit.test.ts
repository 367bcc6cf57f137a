import { describe, expect, test } from 'vitest';
import { CoarseToneFinder } from '../../src/dsp/fit/coarse-tone.ts';
import { type Companions, removeLeakage } from '../../src/dsp/fit/companions.ts';
import { dirichlet, dirichletSlope } from '../../src/dsp/fit/dirichlet.ts';
import { fitAtKnownFrequency } from '../../src/dsp/fit/known-frequency-fit.ts';
import { refinedFrequency } from '../../src/dsp/fit/refined-frequency.ts';
import { emptyLineSums, ToneBlocks } from '../../src/dsp/fit/tone-blocks.ts';
import { fitTone } from '../../src/dsp/fit/tone-fit.ts';
import { signal } from './dsp-signals.ts';

/** Sums as defined, frame by frame, about the centre of samples `from` to `to`. */
function slowSums(samples: Float64Array, from: number, to: number, w: number) {
  const sums = { re: 0, im: 0, slopeRe: 0, slopeIm: 0 };
  const centre = (from + to - 1) / 2;
  for (let n = from; n < to; n += 1) {
    const u = n - centre;
    const re = samples[n]! * Math.cos(w * u);
    const im = -samples[n]! * Math.sin(w * u);
    sums.re += re;
    sums.im += im;
    sums.slopeRe += u * re;
    sums.slopeIm += u * im;
  }
  return sums;
}

const NOTHING: Companions = {
  dc: 0,
  count: 0,
  cosine: new Float64Array(),
  sine: new Float64Array(),
  sigma: new Float64Array(),
};

describe('sums of a rotating phasor', () => {
  test.each([
    [10, 0],
    [10, 0.3],
    [11, 2.5],
    [10, 2 * Math.PI],
    [11, 2 * Math.PI + 1e-9],
    [101, 6.2],
  ])('over %i frames at %f rad', (count, theta) => {
    let sum = 0;
    let slope = 0;
    for (let n = 0; n < count; n += 1) {
      const u = n - (count - 1) / 2;
      sum += Math.cos(theta * u);
      slope -= u * Math.sin(theta * u);
    }
    expect(dirichlet(count, theta)).toBeCloseTo(sum, 8);
    expect(dirichletSlope(count, theta)).toBeCloseTo(slope, 5);
  });
});

describe('blocks of a demodulated record', () => {
  const frames = 10_000;
  const samples = signal({
    sampleRateHz: 48_000,
    frames,
    lines: [{ frequencyHz: 997, amplitude: 0.5, phase: 0.4 }],
    dc: 0.1,
    noiseRms: 0.1,
  });
  const near = (2 * Math.PI * 997) / 48_000;

  test.each([
    { first: 0, last: 9, from: 0, to: 10_000 },
    { first: 2, last: 5, from: 2048, to: 5120 },
    { first: 8, last: 9, from: 8192, to: 10_000 },
  ])('frames $from to $to', ({ first, last, from, to }) => {
    const blocks = new ToneBlocks(64);
    blocks.begin(near, 1024);
    for (let n = 0; n < frames; n += 777) blocks.push(samples, n, Math.min(frames, n + 777));
    blocks.close();
    expect(blocks.count).toBe(9);
    const w = near + 1e-6;
    const sums = blocks.sums(w, first, last, emptyLineSums());
    const slow = slowSums(samples, from, to, w);
    expect(sums.frames).toBe(to - from);
    expect(sums.centreFrame).toBe((from + to - 1) / 2);
    expect(sums.re).toBeCloseTo(slow.re, 8);
    expect(sums.im).toBeCloseTo(slow.im, 8);
    // Weighted by up to 5000 frames, and short of the fourth moment: (1e-6 * 512 * 3)^3 / 6 of it.
    expect(Math.abs(sums.slopeRe - slow.slopeRe)).toBeLessThan(1e-4);
    expect(Math.abs(sums.slopeIm - slow.slopeIm)).toBeLessThan(1e-4);
  });

  test('a full table joins its blocks in pairs and loses nothing', () => {
    const blocks = new ToneBlocks(8);
    blocks.begin(near, 64);
    blocks.push(samples, 0, frames);
    blocks.close();
    expect(blocks.count).toBeLessThan(8);
    expect(blocks.blockFrames).toBeGreaterThanOrEqual(frames / 8);
    const w = near + 1e-6;
    const sums = blocks.sums(w, 0, blocks.count, emptyLineSums());
    const slow = slowSums(samples, 0, frames, w);
    expect(sums.re).toBeCloseTo(slow.re, 7);
    expect(sums.im).toBeCloseTo(slow.im, 7);
    expect(Math.abs(sums.slopeRe - slow.slopeRe)).toBeLessThan(1e-3);
  });
});

describe('least-squares fit', () => {
  const sampleRateHz = 48_000;

  function fitted(frequencyHz: number, frames: number, companions: Companions | null, samples: Float64Array) {
    const start = (2 * Math.PI * (frequencyHz + (0.1 * sampleRateHz) / frames)) / sampleRateHz;
    const blocks = new ToneBlocks(64);
    const blockFrames = Math.ceil(Math.max(frames / 16, sampleRateHz / frequencyHz));
    const refined = refinedFrequency(blocks, samples, frames, start, blockFrames)!;
    blocks.begin(refined, blockFrames);
    blocks.push(samples, 0, frames);
    blocks.close();
    return fitTone(blocks, 0, blocks.count, refined, companions)!;
  }

  test.each([
    [20, 9600],
    [47.3, 4096],
    [997, 4096],
    [9999.7, 48_001],
    [23_000, 4096],
  ])('finds a bare tone of %f Hz in %i frames, whatever its phase', (frequencyHz, frames) => {
    for (const phase of [0, 1, 2.5, -3]) {
      const lines = [{ frequencyHz, amplitude: 0.3, phase }];
      const tone = fitted(frequencyHz, frames, NOTHING, signal({ sampleRateHz, frames, lines }));
      // Demodulated twice, so that the series of moments has nothing left to lose.
      expect((tone.angularFrequency * sampleRateHz) / (2 * Math.PI)).toBeCloseTo(frequencyHz, 6);
      expect(tone.amplitude).toBeCloseTo(0.3, 8);
      const atStart = Math.atan2(tone.im, tone.re) - tone.angularFrequency * tone.centreFrame - phase;
      expect(Math.cos(atStart)).toBeCloseTo(1, 10);
    }
  });

  test('DC and harmonics that are known do not pull it; unknown ones do', () => {
    const frames = 24_000;
    const frequencyHz = 41.3;
    const phase = 0.7;
    const companions: Companions = {
      dc: 0.05,
      count: 2,
      cosine: new Float64Array([0.1, -0.12]),
      sine: new Float64Array([0.03, 0.05]),
      sigma: new Float64Array([1e-6, 1e-6]),
    };
    const line = (order: number) => {
      const [c, s] = [companions.cosine[order - 2]!, companions.sine[order - 2]!];
      return {
        frequencyHz: order * frequencyHz,
        amplitude: Math.hypot(c, s),
        phase: order * phase - Math.atan2(s, c),
      };
    };
    const lines = [{ frequencyHz, amplitude: 0.3, phase }, line(2), line(3)];
    const samples = signal({ sampleRateHz, frames, lines, dc: 0.05 });
    const error = (with_: Companions) =>
      Math.abs(
        (fitted(frequencyHz, frames, with_, samples).angularFrequency * sampleRateHz) / (2 * Math.PI) -
          frequencyHz,
      );
    expect(error(companions)).toBeLessThan(1e-7);
    expect(error(NOTHING)).toBeGreaterThan(1e-3);
  });

  test('a harmonic within its own noise is left alone', () => {
    const sums = { ...emptyLineSums(), frames: 1000, re: 1, im: 2, slopeRe: 3, slopeIm: 4 };
    const faint = {
      ...NOTHING,
      count: 1,
      cosine: new Float64Array([1e-3]),
      sine: new Float64Array(1),
      sigma: new Float64Array([1e-3]),
    };
    removeLeakage(sums, 0.1, 0, faint, 1);
    expect(sums).toMatchObject({ re: 1, im: 2, slopeRe: 3, slopeIm: 4 });
  });

  test('gives up where there is no line to walk to', () => {
    const samples = signal({ sampleRateHz, frames: 4096, lines: [{ frequencyHz: 1100, amplitude: 1 }] });
    const blocks = new ToneBlocks(64);
    const start = (2 * Math.PI * 1045) / sampleRateHz;
    blocks.begin(start, 256);
    blocks.push(samples, 0, 4096);
    expect(fitTone(blocks, 0, blocks.count, start, null)?.amplitude ?? 0).toBeLessThan(0.3);
  });

  test.each([20, 997.3, 12_000])(
    'at a known %f Hz, amplitude, phase and DC come out exactly',
    (frequencyHz) => {
      const lines = [{ frequencyHz, amplitude: 0.4, phase: 0.9 }];
      const samples = signal({ sampleRateHz, frames: 6000, lines, dc: -0.2 });
      const w = (2 * Math.PI * frequencyHz) / sampleRateHz;
      const fit = fitAtKnownFrequency(samples, 1000, 4001, w, { dc: 0, re: 0, im: 0 });
      expect(fit.dc).toBeCloseTo(-0.2, 11);
      expect(fit.re).toBeCloseTo(0.4 * Math.cos(0.9 + 1000 * w), 10);
      expect(fit.im).toBeCloseTo(0.4 * Math.sin(0.9 + 1000 * w), 10);
    },
  );
});

describe('coarse frequency', () => {
  const sampleRateHz = 96_000;

  test.each([20, 33.3, 440, 9973, 40_000])(
    'of %f Hz with harmonics at 40 % is the fundamental, to 0.1 bins',
    (frequencyHz) => {
      const frames = 32_768;
      const finder = new CoarseToneFinder(frames, sampleRateHz);
      const lines = [1, 2, 3].map((order) => ({
        frequencyHz: order * frequencyHz,
        amplitude: order === 1 ? 0.5 : 0.2,
        phase: order,
      }));
      const inBand = lines.filter((line) => line.frequencyHz < sampleRateHz / 2);
      const coarse = finder.find(
        signal({ sampleRateHz, frames, lines: inBand, dc: 0.3, noiseRms: 0.01 }),
        null,
      )!;
      expect(Math.abs(coarse.frequencyHz - frequencyHz)).toBeLessThan((0.1 * sampleRateHz) / frames);
      expect(coarse.share).toBeGreaterThan(0.7);
    },
  );

  test('looks only beside the expected frequency when there is one', () => {
    const frames = 16_384;
    const finder = new CoarseToneFinder(frames, sampleRateHz);
    const lines = [
      { frequencyHz: 50, amplitude: 0.5 },
      { frequencyHz: 1000, amplitude: 0.01 },
    ];
    const samples = signal({ sampleRateHz, frames, lines });
    expect(finder.find(samples, 1010)!.frequencyHz).toBeCloseTo(1000, 0);
    expect(finder.find(samples, null)!.frequencyHz).toBeCloseTo(50, 0);
  });

  test('silence and a constant hold no tone', () => {
    const finder = new CoarseToneFinder(1000, sampleRateHz);
    expect(finder.find(new Float64Array(1000), null)).toBeNull();
    const constant = finder.find(new Float64Array(1000).fill(0.3), null);
    expect(constant === null || constant.share < 0.15).toBe(true);
  });
});
