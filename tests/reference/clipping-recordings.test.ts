import { describe, expect, test } from 'vitest';
import type { HarmonicView } from '../../src/dsp/clipping/harmonic-view.ts';
import { judgeClipping } from '../../src/dsp/clipping/verdict.ts';
import { QUIET_CODES } from '../unit/clipping-views.ts';
import { lacks, runPython } from './oracle.ts';

interface Row {
  made: 'band-limited' | 'naive';
  overdriveDb: number;
  upperDb: number | null;
  lowerDb: number | null;
  view: Omit<HarmonicView, 'cosine' | 'sine' | 'sigma'> & Record<'cosine' | 'sine' | 'sigma', number[]>;
}

const withoutPython = lacks('python');
const rows = withoutPython ? [] : (runPython('limited_recordings.py') as Row[]);

const judge = ({ view }: Row) =>
  judgeClipping(
    {
      ...view,
      cosine: Float64Array.from(view.cosine),
      sine: Float64Array.from(view.sine),
      sigma: Float64Array.from(view.sigma),
    },
    QUIET_CODES,
  );
const expectedSide = (row: Row) =>
  row.lowerDb === null ? 'positive' : row.upperDb === null ? 'negative' : 'both';

describe.skipIf(withoutPython)('recordings made and read by numpy (oracle/limited_recordings.py)', () => {
  test.each([
    { made: 'band-limited', count: 96 },
    // 997 Hz: what folds back lies between the harmonics and only adds noise to them (references 3.2).
    { made: 'naive', count: 15 },
  ])('$made, 0.05 to 12 dB, 60 dB of signal against noise', ({ made, count }) => {
    const these = rows.filter((row) => row.made === made);
    expect(these).toHaveLength(count);
    for (const row of these) {
      const what = `${row.view.frequencyHz} Hz, rails at ${row.upperDb} and ${row.lowerDb} dB`;
      const clipping = judge(row);
      expect(clipping.verdict, what).toBe('clipped');
      expect(clipping.side, what).toBe(expectedSide(row));
      // Issue 2: within 0.02 dB from 0.05 to 12 dB.
      expect(Math.abs(clipping.overdriveDb! - row.overdriveDb), what).toBeLessThan(0.02);
      expect(Math.abs(clipping.kneeDbfs! - 20 * Math.log10(0.5) + row.overdriveDb), what).toBeLessThan(0.02);
    }
  });
});
