/**
 * IEC 61260-1:2014: shared/reference-tables/octave-bands.json (equations 1 to 5 and table 1; breakpoints of
 * fractions by formulas 9 to 11). The filters are judged by what they do to an impulse, not by their design.
 */
import { describe, expect, test } from 'vitest';
import table from '../../shared/reference-tables/octave-bands.json' with { type: 'json' };
import { bandSections, bandShape } from '../../src/dsp/bands/butterworth-band.ts';
import {
  type BandsPerOctave,
  type FractionalOctaveBand,
  fractionalOctaveBand,
  fractionalOctaveBands,
  OCTAVE_RATIO,
} from '../../src/dsp/bands/fractional-octave.ts';

test.each([
  { name: 'octaves', fraction: 1 as const, rows: table.octave },
  { name: 'thirds', fraction: 3 as const, rows: table.third },
])('$name as tabulated', ({ fraction, rows }) => {
  for (const row of rows) {
    const band = fractionalOctaveBand(fraction, row.index);
    expect(band.nominalHz).toBe(row.nominalHz);
    // Centres are printed to 5 digits, edges to 4 decimals.
    expect(Number(band.centreHz.toPrecision(5))).toBe(row.centreHz);
    expect(band.lowHz).toBeCloseTo(row.lowHz, 4);
    expect(band.highHz).toBeCloseTo(row.highHz, 4);
  }
});

/** Formula 9: where a breakpoint at `octaves` of the octave filter lies for 1/b octave, as a share of the centre. */
function breakpoint(octaves: number, fraction: number): number {
  const reach = (OCTAVE_RATIO ** (1 / (2 * fraction)) - 1) / (OCTAVE_RATIO ** 0.5 - 1);
  return 1 + reach * (OCTAVE_RATIO ** octaves - 1);
}

/** Attenuation of the biquads themselves, decibels. */
function attenuationDb(band: FractionalOctaveBand, sampleRateHz: number): (hz: number) => number {
  const { gain, a1, a2 } = bandSections(bandShape(band.lowHz, band.highHz, sampleRateHz));
  return (hz) => {
    const w = (2 * Math.PI * hz) / sampleRateHz;
    let db = 0;
    for (let n = 0; n < gain.length; n += 1) {
      const re = 1 + a1[n]! * Math.cos(w) + a2[n]! * Math.cos(2 * w);
      const im = a1[n]! * Math.sin(w) + a2[n]! * Math.sin(2 * w);
      db -= 20 * Math.log10((gain[n]! * 2 * Math.abs(Math.sin(w))) / Math.hypot(re, im));
    }
    return db;
  };
}

/** Smallest distance to a limit over all breakpoints below Nyquist and between them; negative: outside. */
function marginDb(band: FractionalOctaveBand, fraction: BandsPerOctave, sampleRateHz: number): number {
  const attenuation = attenuationDb(band, sampleRateHz);
  let margin = Number.POSITIVE_INFINITY;
  const check = (ratio: number, leastDb: number, mostDb: number) => {
    for (const hz of [band.centreHz * ratio, band.centreHz / ratio]) {
      if (hz >= sampleRateHz / 2) continue;
      const db = attenuation(hz);
      margin = Math.min(margin, db - leastDb, mostDb - db);
    }
  };
  table.class1.forEach((from, row) => {
    const to = table.class1[row + 1] ?? { ...from, octaves: from.octaves + 2 };
    const [start, end] = [breakpoint(from.octaves, fraction), breakpoint(to.octaves, fraction)];
    check(start, from.leastDb, from.mostDb ?? Number.POSITIVE_INFINITY);
    if (start === end) return;
    for (const way of [0.25, 0.5, 0.75]) {
      // Linear in the logarithm of frequency; past the edge only the lower limit is left.
      const most =
        from.mostDb === null || to.mostDb === null ? null : from.mostDb + way * (to.mostDb - from.mostDb);
      const least = from.leastDb + way * (to.leastDb - from.leastDb);
      check(start * (end / start) ** way, least, most ?? Number.POSITIVE_INFINITY);
    }
  });
  return margin;
}

describe('class 1', () => {
  test.each([
    { sampleRateHz: 44_100, fraction: 1 as const, topHz: 8000 },
    { sampleRateHz: 44_100, fraction: 3 as const, topHz: 16_000 },
    { sampleRateHz: 48_000, fraction: 1 as const, topHz: 16_000 },
    { sampleRateHz: 48_000, fraction: 3 as const, topHz: 20_000 },
    { sampleRateHz: 44_100, fraction: 12 as const, topHz: 20_500 },
    { sampleRateHz: 48_000, fraction: 6 as const, topHz: 21_000 },
    { sampleRateHz: 48_000, fraction: 24 as const, topHz: 22_000 },
    { sampleRateHz: 192_000, fraction: 3 as const, topHz: 80_000 },
  ])('1/$fraction octave at $sampleRateHz Hz, 10 Hz to $topHz Hz', ({ sampleRateHz, fraction, topHz }) => {
    for (const band of fractionalOctaveBands(fraction, 10, topHz)) {
      expect(band.highHz).toBeLessThan(sampleRateHz / 2);
      expect(marginDb(band, fraction, sampleRateHz), `${band.nominalHz} Hz`).toBeGreaterThan(0.25);
    }
  });

  test('and the noise bandwidth is the band itself: white noise reads what a sum of bins reads', () => {
    for (const [fraction, topHz] of [
      [1, 16_000],
      [3, 20_000],
      [24, 20_000],
    ] as const) {
      for (const band of fractionalOctaveBands(fraction, 100, topHz)) {
        const attenuation = attenuationDb(band, 48_000);
        const width = band.highHz - band.lowHz;
        const step = width / 100;
        let sum = 0;
        // From 12 widths below the centre (or DC) to Nyquist: the tails past that hold less than 1e-6.
        for (
          let hz = Math.max(step / 2, band.centreHz - 12 * width);
          hz < Math.min(24_000, band.centreHz + 12 * width);
          hz += step
        ) {
          sum += 10 ** (-attenuation(hz) / 10) * step;
        }
        // 100 steps across a band whose flanks are smooth over 30 of them.
        expect(Math.abs(sum / width - 1), `${band.nominalHz} Hz`).toBeLessThan(2e-4);
      }
    }
  });
});
