import { describe, expect, test } from 'vitest';
import { NEAR_FULL_SCALE } from '../../src/dsp/clipping/codes.ts';
import type { CodeFacts } from '../../src/dsp/clipping/harmonic-view.ts';
import { judgeClipping } from '../../src/dsp/clipping/verdict.ts';
import { limitedTerms, type Recording, type TermOf, viewOf } from './clipping-views.ts';

/** The facts counted from samples one by one, as the analyser must hand them over. */
function codesOf(samples: Float64Array): CodeFacts {
  const facts = { highest: -1, lowest: 1, longestRunHigh: 0, longestRunLow: 0, framesHigh: 0, framesLow: 0 };
  let [runHigh, runLow] = [0, 0];
  for (const sample of samples) {
    facts.highest = Math.max(facts.highest, sample);
    facts.lowest = Math.min(facts.lowest, sample);
    runHigh = sample >= 1 - NEAR_FULL_SCALE ? runHigh + 1 : 0;
    runLow = sample <= NEAR_FULL_SCALE - 1 ? runLow + 1 : 0;
    if (runHigh > 0) facts.framesHigh += 1;
    if (runLow > 0) facts.framesLow += 1;
    facts.longestRunHigh = Math.max(facts.longestRunHigh, runHigh);
    facts.longestRunLow = Math.max(facts.longestRunLow, runLow);
  }
  return { frames: samples.length, ...facts };
}

const HIGHEST_16_BIT_CODE = 32_767 / 32_768;

/** A sine into a 16-bit converter, with its view as the closed form of the same limiter. */
function converted(peak: number, frequencyHz: number, sampleRateHz = 48_000, highOnly = false) {
  const samples = Float64Array.from({ length: 48_000 }, (_, frame) => {
    const value = peak * Math.cos((2 * Math.PI * frequencyHz * frame) / sampleRateHz + 0.4);
    const code = Math.min(HIGHEST_16_BIT_CODE, Math.round(value * 32_768) / 32_768);
    return highOnly ? code : Math.max(-1, code);
  });
  const overdriveDb = peak > 1 ? 20 * Math.log10(peak) : null;
  const term = limitedTerms(peak, overdriveDb, highOnly ? null : overdriveDb);
  const recording: Recording = { frequencyHz, sampleRateHz, snrDb: 80 };
  return { codes: codesOf(samples), view: viewOf(term, recording) };
}

describe('a tone driven past full scale', () => {
  test.each([20, 40, 100, 997, 3000, 5000].flatMap((hz) => [0.05, 0.5, 3, 12].map((db) => ({ hz, db }))))(
    '$hz Hz, $db dB over',
    ({ hz, db }) => {
      const { codes, view } = converted(10 ** (db / 20), hz);
      const clipping = judgeClipping(view, codes);
      // 5 kHz holds no 5th harmonic below 16 kHz and 0.05 dB leaves no more codes than a sine does.
      if (hz === 5000 && db < 0.5) return expect(clipping.verdict).not.toBe('clean');
      expect(clipping.verdict).toBe('input-overload');
      expect(clipping.side).toBe('both');
      expect(clipping.evidence[0]).toMatch(/full scale on the positive side/);
      if (hz > 3000) return;
      expect(clipping.overdriveDb).toBeCloseTo(db, 1);
      expect(clipping.kneeDbfs).toBeCloseTo(0, 1);
    },
  );

  test('on one side only', () => {
    const { codes, view } = converted(1.2, 997, 48_000, true);
    // The low side of this converter reaches further, as one with an offset does.
    const clipping = judgeClipping(view, { ...codes, lowest: -0.98, framesLow: 0, longestRunLow: 0 });
    expect(clipping).toMatchObject({ verdict: 'input-overload', side: 'positive' });
  });

  test('with its tops rippled by a resampler, so that runs are short', () => {
    const view = viewOf(limitedTerms(1.3, 2.28, 2.28), { snrDb: 70 });
    const codes = {
      frames: 48_000,
      highest: 1.021,
      lowest: -1.019,
      longestRunHigh: 2,
      longestRunLow: 2,
      framesHigh: 900,
      framesLow: 900,
    };
    const clipping = judgeClipping(view, codes);
    expect(clipping.verdict).toBe('input-overload');
    expect(clipping.evidence[0]).toMatch(/beyond full scale on the positive side \(1\.021\)/);
  });

  test('at 10 kHz, where only the codes can tell', () => {
    const { codes, view } = converted(2, 10_007);
    expect(judgeClipping(view, codes).verdict).toBe('input-overload');
  });

  test('in a few bursts that the harmonics of the whole stretch do not show', () => {
    const { codes, view } = converted(0.9, 100);
    const burst = { ...codes, highest: HIGHEST_16_BIT_CODE, longestRunHigh: 60, framesHigh: 300 };
    expect(judgeClipping(view, burst)).toMatchObject({ verdict: 'input-overload', side: 'positive' });
  });
});

describe('a tone that is whole', () => {
  test.each([20, 40, 100, 440, 997, 1000, 3000])('touches full scale at %d Hz and is no overload', (hz) => {
    const { codes, view } = converted(HIGHEST_16_BIT_CODE, hz);
    expect(codes.framesHigh).toBeGreaterThan(0);
    expect(judgeClipping(view, codes).verdict).toBe('clean');
  });

  test('sampled on its crests every time (12 kHz at 48 kHz) is no overload', () => {
    const samples = Float64Array.from({ length: 48_000 }, (_, frame) => Math.cos((Math.PI / 2) * frame));
    const view = viewOf((order) => (order === 1 ? [1, 0] : [0, 0]), { frequencyHz: 12_000 });
    expect(judgeClipping(view, codesOf(samples)).verdict).toBe('undecided');
  });

  test('goes beyond full scale in a float file: it says so and stays clean', () => {
    const term: TermOf = (order) => (order === 1 ? [1.2, 0] : [0, 0]);
    const samples = Float64Array.from({ length: 48_000 }, (_, frame) => 1.2 * Math.cos(0.1305 * frame));
    const clipping = judgeClipping(viewOf(term), codesOf(samples));
    // Its codes near and beyond full scale are those of a sine of 1.2, so no converter has cut it.
    expect(clipping.verdict).toBe('clean');
    expect(clipping.evidence.join(' ')).toMatch(/beyond full scale \(1\.200\), yet the wave is whole/);
  });

  test('clipped at -3 dBFS with one click up to full scale is the stage before', () => {
    const { codes } = converted(0.6, 997);
    const clipping = judgeClipping(viewOf(limitedTerms(1, 3, 3)), {
      ...codes,
      highest: HIGHEST_16_BIT_CODE,
      framesHigh: 1,
      longestRunHigh: 1,
    });
    expect(clipping.verdict).toBe('clipped');
  });

  test('clipped well below full scale is the stage before, not our input', () => {
    const clipping = judgeClipping(
      viewOf(limitedTerms(0.5, 1, 1)),
      codesOf(Float64Array.from({ length: 4800 }, (_, frame) => 0.45 * Math.cos(frame))),
    );
    expect(clipping.verdict).toBe('clipped');
  });
});

describe('no steady tone', () => {
  const quiet = codesOf(new Float64Array(4800));
  test('one or two codes at full scale are music that was mastered to it', () => {
    const peaks = { ...quiet, highest: HIGHEST_16_BIT_CODE, longestRunHigh: 2, framesHigh: 4 };
    expect(judgeClipping(null, peaks).verdict).toBe('undecided');
  });

  test('three in a row are an overload, on their side', () => {
    const run = { ...quiet, lowest: -1, longestRunLow: 3, framesLow: 3 };
    expect(judgeClipping(null, run)).toMatchObject({ verdict: 'input-overload', side: 'negative' });
  });

  test('values beyond full scale are an overload whose tops a resampler took', () => {
    const over = { ...quiet, highest: 1.02, framesHigh: 5, longestRunHigh: 1 };
    expect(judgeClipping(null, over)).toMatchObject({ verdict: 'input-overload', side: 'positive' });
  });

  test('silence is undecided, not clean', () => {
    expect(judgeClipping(null, quiet).verdict).toBe('undecided');
  });
});
