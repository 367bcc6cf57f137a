/**
 * Sources: shared/reference-tables/crossover-alignments.json (closed forms against SciPy, and the published sum rules
 * behind them); SciPy's own filters, run here, over 200 frequencies each.
 */
import { describe, expect, it } from 'vitest';
import table from '../../shared/reference-tables/crossover-alignments.json' with { type: 'json' };
import { type Filter, filterResponse } from '../../src/dsp/filters/filter-response.ts';
import type { Alignment, BesselNormalisation } from '../../src/dsp/filters/prototype.ts';
import { lacks, runPython } from './oracle.ts';

const ALIGNMENTS: Record<string, Alignment> = { BW: 'butterworth', LR: 'linkwitz-riley', Bessel: 'bessel' };
const NORMALISATIONS: Record<string, BesselNormalisation> = {
  mag: 'magnitude',
  phase: 'phase',
  delay: 'delay',
};

function named(name: string): { alignment: Alignment; order: number; normalisation: BesselNormalisation } {
  const [, alignment, order, normalisation = 'mag'] = /^([A-Za-z]+)(\d)(?: norm=(\w+))?$/.exec(name) ?? [];
  return {
    alignment: ALIGNMENTS[alignment ?? '']!,
    order: Number(order),
    normalisation: NORMALISATIONS[normalisation]!,
  };
}

function levelDb(filter: Filter, frequencyHz: number): number {
  const { re, im } = filterResponse(filter, frequencyHz);
  return 10 * Math.log10(re * re + im * im);
}

function phaseDegrees(filter: Filter, frequencyHz: number): number {
  const { re, im } = filterResponse(filter, frequencyHz);
  return (Math.atan2(im, re) * 180) / Math.PI;
}

/** Degrees from a to b the short way round. */
function turn(a: number, b: number): number {
  return Math.abs(((((a - b) % 360) + 540) % 360) - 180);
}

describe('the tabulated alignments', () => {
  const entries = Object.entries(table.values);

  it('are 12 Butterworth and Linkwitz-Riley and 24 Bessel filters', () => {
    expect(entries).toHaveLength(36);
  });

  it.each(entries)('%s, to the printed digit, low-pass and high-pass', (name, row) => {
    const shape = named(name);
    table.frequencyRatios.forEach((ratio, i) => {
      const low = levelDb({ kind: 'low-pass', cutoffHz: 80, ...shape }, 80 * ratio);
      const high = levelDb({ kind: 'high-pass', cutoffHz: 80, ...shape }, 80 / ratio);
      // Printed to 4 decimals.
      expect(Math.abs(low - row.lowPassDb[i]!)).toBeLessThan(0.501e-4);
      expect(Math.abs(high - row.lowPassDb[i]!)).toBeLessThan(0.501e-4);
    });
    const phase = phaseDegrees({ kind: 'low-pass', cutoffHz: 80, ...shape }, 80);
    // Printed to 3 decimals.
    expect(turn(phase, row.lowPassPhaseAtCornerDeg)).toBeLessThan(0.501e-3);
  });
});

interface ScipyResponse {
  kind: 'low-pass' | 'high-pass';
  alignment: Alignment;
  order: number;
  frequenciesHz: number[];
  re: number[];
  im: number[];
}

describe.skipIf(lacks('python'))('SciPy (signal.butter, signal.bessel, freqs_zpk)', () => {
  it('has the same complex responses, orders 1 to 8', () => {
    const rows = runPython('filter_responses.py') as ScipyResponse[];
    // 8 Butterworth, 4 Linkwitz-Riley, 8 Bessel, both ways.
    expect(rows).toHaveLength(40);
    for (const { kind, alignment, order, frequenciesHz, re, im } of rows) {
      frequenciesHz.forEach((frequencyHz, i) => {
        const ours = filterResponse({ kind, alignment, order, cutoffHz: 1000 }, frequencyHz);
        const size = Math.hypot(re[i]!, im[i]!);
        const error = Math.hypot(ours.re - re[i]!, ours.im - im[i]!) / size;
        // Both are doubles; SciPy finds its Bessel poles to 1e-12 or so, and eight of them multiply.
        expect(error, `${kind} ${alignment} ${order} at ${frequencyHz} Hz`).toBeLessThan(1e-9);
      });
    }
  });
});
