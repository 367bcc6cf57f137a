import { execFileSync } from 'node:child_process';
import { describe, expect, test } from 'vitest';
import type { CodeFacts, HarmonicView } from '../../src/dsp/clipping/harmonic-view.ts';
import { judgeClipping } from '../../src/dsp/clipping/verdict.ts';

interface Row {
  made: 'band-limited' | 'naive';
  overdriveDb: number;
  upperDb: number | null;
  lowerDb: number | null;
  view: Omit<HarmonicView, 'cosine' | 'sine' | 'sigma'> & Record<'cosine' | 'sine' | 'sigma', number[]>;
}

const script = new URL('./oracle/limited_recordings.py', import.meta.url).pathname;
const printed = execFileSync('/usr/bin/python3', [script], { encoding: 'utf8', maxBuffer: 64 * 2 ** 20 });
const rows = JSON.parse(printed) as Row[];
const codes: CodeFacts = {
  frames: 8192,
  highest: 0.5,
  lowest: -0.5,
  longestRunHigh: 0,
  longestRunLow: 0,
  framesHigh: 0,
  framesLow: 0,
};
const judge = ({ view }: Row) =>
  judgeClipping(
    {
      ...view,
      cosine: Float64Array.from(view.cosine),
      sine: Float64Array.from(view.sine),
      sigma: Float64Array.from(view.sigma),
    },
    codes,
  );
const expectedSide = (row: Row) =>
  row.lowerDb === null ? 'positive' : row.upperDb === null ? 'negative' : 'both';

describe('recordings made and read by numpy (tests/reference/oracle/limited_recordings.py)', () => {
  test.each(rows.filter((row) => row.made === 'band-limited'))(
    '$view.frequencyHz Hz, rails at $upperDb and $lowerDb dB, 60 dB of signal against noise',
    (row) => {
      const clipping = judge(row);
      expect(clipping.verdict).toBe('clipped');
      expect(clipping.side).toBe(expectedSide(row));
      // Issue 2: within 0.02 dB from 0.05 to 12 dB.
      expect(Math.abs(clipping.overdriveDb! - row.overdriveDb)).toBeLessThan(0.02);
      expect(clipping.kneeDbfs! - (20 * Math.log10(0.5) - row.overdriveDb)).toBeCloseTo(0, 1);
    },
  );

  test.each(rows.filter((row) => row.made === 'naive'))(
    'limited at the sample rate: $view.frequencyHz Hz, $overdriveDb dB',
    (row) => {
      const clipping = judge(row);
      expect(clipping.verdict).toBe('clipped');
      expect(clipping.side).toBe('both');
      // 997 Hz: what folds back lies between the harmonics and only adds noise to them (references 3.2).
      expect(Math.abs(clipping.overdriveDb! - row.overdriveDb)).toBeLessThan(0.02);
    },
  );
});
