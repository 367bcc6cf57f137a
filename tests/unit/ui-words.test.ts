/** The screen's words and places, without a screen. */
import { describe, expect, it } from 'vitest';
import { decimalsFor, fixed, signed, significant } from '../../src/job/format/number.ts';
import { percent, plusMinusPercent, plusMinusVolts, voltFigure } from '../../src/job/format/quantity.ts';
import type { ComparedVerdict } from '../../src/job/verify/compare.ts';
import type { RecordedFigure } from '../../src/job/verify/recorded-figure.ts';
import type { Aim } from '../../src/procedure/gain/gain.ts';
import { aimWords } from '../../src/ui/aim/aim-words.ts';
import { RULER_HIGH_DB, RULER_LOW_DB, rulerPercent } from '../../src/ui/aim/ruler.ts';
import { numberFault } from '../../src/ui/fields/NumberField.tsx';
import { readNumber } from '../../src/ui/format/read-number.ts';
import { toneLevel } from '../../src/ui/format/tone-frequency.ts';
import { barPercent, headroomWords, holdPeak, NO_PEAK } from '../../src/ui/input-strip/headroom.ts';
import { comparedInstruction } from '../../src/ui/stations/sign-off/figure-words.ts';

const AIM: Aim = {
  zone: 'under',
  errorDb: -1.23,
  uncertaintyDb: 0.05,
  toleranceDb: 0.5,
  aimVolts: 17.32,
  limitedByKnee: false,
  kneeDb: null,
  turnBackDb: null,
};

describe('a comparison', () => {
  const figure = (at: string) => ({ at }) as RecordedFigure;
  const again = (verdict: ComparedVerdict) => ({ verdict, before: figure('then'), after: figure('now') });
  const notAgain = { verdict: 'cannot-tell' as const, before: figure('then'), after: figure('then') };
  it.each([
    [[again('not-changed'), again('changed'), again('cannot-tell')], /^Look at what has changed/],
    [[again('not-changed'), again('cannot-tell')], /cannot be told, and why: it may have changed/],
    [[again('not-changed'), notAgain], /^Nothing that was measured again has changed/],
    [[notAgain, { ...notAgain, after: null }], /^Measure again/],
  ])('says what to do next: %#', (compared, words) => {
    expect(comparedInstruction(compared)).toMatch(words);
  });
});

describe('numbers', () => {
  it('show a real minus, and never a negative nought', () => {
    expect([fixed(-1.25, 1), fixed(-0.001, 2), signed(0.04, 1), signed(0.4, 1), signed(-2, 0)]).toEqual([
      '−1.3',
      '0.00',
      '0.0',
      '+0.4',
      '−2',
    ]);
  });

  it('carry the digits their uncertainty deserves (JCGM 100 7.2.6)', () => {
    expect([0.11, 0.35, 0.0096, 2.4, 31].map(decimalsFor)).toEqual([2, 1, 3, 1, 0]);
    expect(plusMinusVolts(0.055)).toBe('±0.11 V');
    expect(plusMinusVolts(null)).toBe('');
    // 0.06 dB doubled is 1.39 %.
    expect(plusMinusPercent(0.06)).toBe('±1.4 %');
  });

  it('say that they are missing, and never 0 for it', () => {
    expect([voltFigure(null), percent(null)]).toEqual(['—', '—']);
    expect([voltFigure(0.5), voltFigure(15.123), voltFigure(123.45)]).toEqual(['0.500', '15.12', '123.5']);
    expect([percent(0.0004), percent(0.0213), significant(1234, 2)]).toEqual([
      '< 0.001 %',
      '0.021 %',
      '1234',
    ]);
    expect([toneLevel(0), toneLevel(-5)]).toEqual(['0 dBFS', '−5 dBFS']);
  });

  it('are read with a point or a comma, and nothing else', () => {
    expect([' 15,12', '15.12 ', '.5', '-3', '−3', '7.'].map(readNumber)).toEqual([
      15.12, 15.12, 0.5, -3, -3, 7,
    ]);
    expect(['', '12 V', '1e3', '1,2,3', 'Infinity', '--1'].map(readNumber)).toEqual(Array(6).fill(null));
    expect(numberFault('0', { above: 0 })).toMatch(/above 0/);
    expect(numberFault('2.5', { whole: true })).toMatch(/whole/);
    expect(numberFault('17', { most: 16 })).toMatch(/16 or less/);
    expect(numberFault('4', { least: 1, most: 16, whole: true })).toBeNull();
  });
});

describe('the aim', () => {
  it('says in words what the pointer shows', () => {
    const words = (part: Partial<Aim>) => aimWords({ ...AIM, ...part }).words;
    expect(words({})).toBe('1.2 dB to go');
    expect(words({ errorDb: -0.62 })).toBe('0.62 dB to go');
    expect(words({ zone: 'inside', errorDb: 0.1 })).toBe('inside');
    expect(words({ zone: 'over', errorDb: 2 })).toBe('2.0 dB over: turn back');
    expect(words({ zone: 'past-knee', turnBackDb: 0.9 })).toBe('past the knee: back 0.90 dB');
    expect(words({ zone: 'past-knee' })).toBe('past the knee');
    expect(words({ zone: 'input-overload' })).toBe('the input itself is overloaded');
    expect(words({ zone: 'no-reading', errorDb: null })).toBe('no reading');
  });

  it('gives each side of the brackets its own shape', () => {
    const shapes = (['under', 'inside', 'over', 'past-knee'] as const).map(
      (zone) => aimWords({ ...AIM, zone }).shape,
    );
    expect(shapes).toEqual(['up', 'in', 'down', 'down']);
  });

  it('stands on a ruler that runs from end to end, ever upward, and widest at the target', () => {
    expect([rulerPercent(RULER_LOW_DB), rulerPercent(RULER_HIGH_DB)]).toEqual([0, 100]);
    expect([rulerPercent(-90), rulerPercent(90)]).toEqual([0, 100]);
    const steps = Array.from({ length: 36 }, (_, i) => rulerPercent(i - 29) - rulerPercent(i - 30));
    expect(Math.min(...steps)).toBeGreaterThan(0);
    // Steps from -1 to 0 and from 0 to 1 dB are the 30th and 31st.
    const widest = Math.max(...steps);
    expect([steps[29], steps[30]].map((step) => (step ?? 0) / widest)).toEqual([
      expect.closeTo(1, 9),
      expect.closeTo(1, 9),
    ]);
  });
});

describe('headroom', () => {
  it('is what is left below full scale', () => {
    expect([-6.02, -23.4, 0, null].map(headroomWords)).toEqual(['6.0 dB', '23 dB', 'none', '—']);
    expect([-60, -30, 0, 3, null].map(barPercent)).toEqual([0, 50, 100, 100, 0]);
  });

  it('holds the highest peak for a second and a half', () => {
    const first = holdPeak(NO_PEAK, -3, 1000);
    expect(holdPeak(first, -20, 2000).peakDbfs).toBe(-3);
    expect(holdPeak(first, -1, 2000)).toEqual({ peakDbfs: -1, untilMs: 3500 });
    expect(holdPeak(first, -20, 2500).peakDbfs).toBe(-20);
    expect(holdPeak(first, null, 2500)).toEqual(NO_PEAK);
  });
});
