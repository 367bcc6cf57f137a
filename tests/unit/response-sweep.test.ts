import { describe, expect, it, test } from 'vitest';
import { channelResponse } from '../../src/dsp/response/channel-response.ts';
import { curvePoint, smoothedLevelDb } from '../../src/dsp/response/curve.ts';
import { SweepDeconvolver } from '../../src/dsp/response/deconvolver.ts';
import { harmonicLevelsDb } from '../../src/dsp/response/harmonic-levels.ts';
import { inverseTransform } from '../../src/dsp/response/inverse-transform.ts';
import { findCluster } from '../../src/dsp/response/locate.ts';
import { analyseSweep, leadFrames } from '../../src/dsp/response/sweep-analysis.ts';
import { harmonicLeadSeconds, sweepWithin } from '../../src/dsp/response/sweep-law.ts';
import { RealFft } from '../../src/dsp/spectrum/real-fft.ts';
import { renderSweep } from '../../src/dsp/tones/sweep.ts';
import { largestDifference } from './dsp-signals.ts';
import { seededGauss, seededUniform } from './seeded-random.ts';

const RATE_HZ = 48_000;
const SPEC = { kind: 'sweep', startHz: 20, endHz: 20_000, levelDbfs: -12, durationSeconds: 3 } as const;
const deconvolver = new SweepDeconvolver(SPEC, RATE_HZ);
const sweep = renderSweep(SPEC, RATE_HZ);
const HELD = { lowHz: SPEC.startHz, highHz: SPEC.endHz };

/** The window that the analysis takes, the sweep's start `late` frames after its usual place. */
function recorded(through: (sample: number) => number, noiseRms = 0, late = 0): Float64Array {
  const gauss = seededGauss(seededUniform(5));
  const window = Float64Array.from({ length: deconvolver.length }, () => noiseRms * gauss());
  const start = leadFrames(RATE_HZ) + late;
  sweep.forEach((sample, frame) => {
    window[start + frame] = window[start + frame]! + through(sample);
  });
  return window;
}

function analysed(window: Float64Array) {
  const result = analyseSweep(deconvolver, window);
  if (result === null) throw new Error('the sweep was not found');
  return result;
}

test('the inverse transform undoes the forward one', () => {
  const gauss = seededGauss(seededUniform(2));
  const fft = new RealFft(256);
  const samples = Float64Array.from({ length: 256 }, () => gauss());
  fft.input.set(samples);
  fft.transform();
  const spectrum = Float64Array.from(fft.spectrum.slice(0, 258));
  const back = new Float64Array(256);
  inverseTransform(fft, spectrum, back);
  // Rounding of two transforms of 256 points.
  expect(largestDifference(back, samples)).toBeLessThan(1e-13);
});

describe('the sweep', () => {
  it('has its harmonics ahead by L ln N: 1.003433 s for the 2nd of 20 Hz to 20 kHz in 10 s', () => {
    const spec = { ...SPEC, durationSeconds: 10 };
    expect(harmonicLeadSeconds(spec, 2)).toBeCloseTo(1.003433, 6);
    expect(harmonicLeadSeconds(spec, 7)).toBeCloseTo(2.816993, 6);
  });

  it('ends where a slower rate does, on the same law', () => {
    const within = sweepWithin(SPEC, 16_000);
    expect(within.endHz).toBe(7200);
    expect(harmonicLeadSeconds(within, 2)).toBeCloseTo(harmonicLeadSeconds(SPEC, 2), 12);
    expect(sweepWithin(SPEC, RATE_HZ)).toEqual(SPEC);
    expect(() => sweepWithin({ ...SPEC, startHz: 3000 }, 8000)).toThrow(RangeError);
  });
});

describe('a response', () => {
  it.each([
    ['a gain of 0.25', 0.25],
    ['a gain of -2, the wire crossed', -2],
  ])('of %s is flat at its level, its phase kept', (_, gain) => {
    const response = channelResponse(deconvolver, analysed(recorded((x) => gain * x, 0, 37)), null, HELD);
    const levelDb = 20 * Math.log10(Math.abs(gain));
    // The gate smears the band's own end, below 20 Hz, into its first half octave; above, only the regularisation
    // (9e-6 dB) and what the end's ringing leaves outside the gate are in the way.
    response.frequenciesHz.forEach((hertz, i) => {
      if (hertz > 18_000) return;
      expect(Math.abs(response.magnitudesDb[i]! - levelDb)).toBeLessThan(hertz < 30 ? 0.15 : 0.01);
      expect(Math.abs(Math.abs(response.phasesDeg[i]!) - (gain < 0 ? 180 : 0))).toBeLessThan(
        hertz < 30 ? 1 : 0.2,
      );
    });
    expect(response.finding?.verdict).toBe('flat');
    expect(Math.abs(response.clockSkewPpm!)).toBeLessThan(0.5);
  });

  it('gives null where noise is all there is', () => {
    const lowPassed = recorded(() => 0, 1e-4);
    let state = 0;
    const start = leadFrames(RATE_HZ);
    sweep.forEach((sample, frame) => {
      state += 0.005 * (sample - state);
      lowPassed[start + frame] = lowPassed[start + frame]! + 0.1 * state;
    });
    const response = channelResponse(deconvolver, analysed(lowPassed), null, HELD);
    expect(response.magnitudesDb.at(-1)).toBeNull();
    expect(response.magnitudesDb[4]).not.toBeNull();
  });

  it('over a reference is what lies between the two', () => {
    const reference = analysed(recorded((x) => 0.5 * x));
    const response = channelResponse(deconvolver, analysed(recorded((x) => x)), reference, HELD);
    // Both hold the same ends: they divide out entirely.
    for (const level of response.magnitudesDb) expect(Math.abs(level! - 6.0206)).toBeLessThan(1e-4);
    expect(response.clockSkewPpm).toBeNull();
  });

  it('holds the harmonics of a curved device apart: x + 0.1 x^2 + 0.05 x^3', () => {
    const result = analysed(recorded((x) => x + 0.1 * x * x + 0.05 * x ** 3));
    const peak = 10 ** (SPEC.levelDbfs / 20);
    const fundamental = 1 + 0.75 * 0.05 * peak * peak;
    const second = 20 * Math.log10((0.1 * peak) / 2 / fundamental);
    const third = 20 * Math.log10((0.05 * peak * peak) / 4 / fundamental);
    const at = [100, 300, 1000, 3000];
    for (const level of harmonicLevelsDb(deconvolver, result, 2, at)) expect(level).toBeCloseTo(second, 1);
    for (const level of harmonicLevelsDb(deconvolver, result, 3, at)) expect(level).toBeCloseTo(third, 1);
    expect(harmonicLevelsDb(deconvolver, result, 2, [15_000])).toEqual([null]);
  });

  it('smooths by power over a fraction of an octave', () => {
    const { spectrum } = analysed(recorded((x) => x));
    const bins = spectrum.re.length;
    // Every other bin empty: half the power, whatever the decibels between them.
    const combed = {
      ...spectrum,
      re: Float64Array.from({ length: bins }, (_, bin) => bin % 2),
      im: new Float64Array(bins),
      noise: new Float64Array(bins),
    };
    expect(smoothedLevelDb(combed, 1000, 1 / 3)).toBeCloseTo(-3.01, 1);
    const sloped = { ...combed, re: Float64Array.from({ length: bins }, (_, bin) => 1e-9 + bin ** 8) };
    const slope = curvePoint(sloped, 2000 + 1e-9).magnitudeDb! - curvePoint(sloped, 1000 + 1e-9).magnitudeDb!;
    // Power of eight: 48.165 dB per octave, none of it lost to averaging.
    expect(slope).toBeCloseTo(160 * Math.log10(2), 3);
  });
});

describe('looking for the sweep', () => {
  const response = new Float64Array(deconvolver.length);
  const delays = deconvolver.length - deconvolver.sweepFrames;

  function contrast(window: Float64Array): number | null {
    deconvolver.matchedResponse(window, response);
    return findCluster(response, delays, RATE_HZ)?.contrast ?? null;
  }

  it('finds it 6 dB above white noise, at its place', () => {
    const rms = 10 ** ((SPEC.levelDbfs - 6) / 20) * Math.SQRT1_2;
    expect(contrast(recorded((x) => x, rms))).not.toBeNull();
    expect(Math.abs(findCluster(response, delays, RATE_HZ)!.delayFrames - leadFrames(RATE_HZ))).toBeLessThan(
      5,
    );
  });

  it('finds none in silence, in noise, in a tone, nor in a sweep of another length', () => {
    expect(contrast(new Float64Array(deconvolver.length))).toBeNull();
    expect(contrast(recorded(() => 0, 0.1))).toBeNull();
    const tone = Float64Array.from({ length: deconvolver.length }, (_, n) => Math.sin(0.13 * n));
    expect(contrast(tone)).toBeNull();
    const other = new Float64Array(deconvolver.length);
    other.set(renderSweep({ ...SPEC, durationSeconds: 2 }, RATE_HZ), 5000);
    expect(contrast(other)).toBeNull();
  });
});
