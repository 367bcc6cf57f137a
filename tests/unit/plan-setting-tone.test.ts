import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { PlanRefused } from '../../src/plan/refused.ts';
import { settingTone, settingToneHz, USUAL_METER_BAND } from '../../src/plan/tone/setting-tone.ts';

const SAMPLE_RATES = [8000, 11_025, 16_000, 22_050, 32_000, 44_100, 48_000, 88_200, 96_000, 176_400, 192_000];

function mainsClearanceHz(hz: number): number {
  const multiples = Array.from({ length: 400 }, (_, index) => [50 * (index + 1), 60 * (index + 1)]).flat();
  return Math.min(...multiples.map((mains) => Math.abs(hz - mains)));
}

describe('setting tone', () => {
  it.each([
    ['full range', null, null],
    ['door above 80 Hz', 80, null],
    ['door, 80 Hz to 3 kHz', 80, 3000],
  ])('is 997 Hz where nothing asks otherwise: %s', (_, highPassHz, lowPassHz) => {
    expect(settingToneHz({ highPassHz, lowPassHz })).toBe(997);
  });

  it.each([
    ['subwoofer below 80 Hz', null, 80, 41],
    ['subwoofer, 25 to 80 Hz', 25, 80, 43],
    ['mid-bass, 60 to 400 Hz', 60, 400, 157],
  ])('is a prime near the middle: %s', (_, highPassHz, lowPassHz, hz) => {
    expect(settingTone({ highPassHz, lowPassHz })).toEqual({ frequencyHz: hz, insideMeterBand: true });
  });

  it('is an octave above a tweeter filter, and owns up that a cheap meter may not follow', () => {
    const { frequencyHz, insideMeterBand } = settingTone({ highPassHz: 3500, lowPassHz: null });
    expect(Math.abs(frequencyHz / 7000 - 1)).toBeLessThan(0.01);
    expect(insideMeterBand).toBe(false);
  });

  it('moves into the band of a meter that ends at 400 Hz', () => {
    const { frequencyHz } = settingTone({ highPassHz: 80, lowPassHz: null }, { lowHz: 40, highHz: 400 });
    expect(frequencyHz).toBe(397);
  });

  it('lies inside any band, off the mains and its multiples, and divides no sample rate', () => {
    const corner = fc.option(fc.double({ min: 25, max: 4000, noNaN: true }));
    fc.assert(
      fc.property(corner, fc.double({ min: 1.5, max: 10, noNaN: true }), (highPassHz, ratio) => {
        const lowPassHz = (highPassHz ?? 20) * ratio;
        const { frequencyHz, insideMeterBand } = settingTone({ highPassHz, lowPassHz });
        expect(frequencyHz).toBeGreaterThanOrEqual(highPassHz ?? 20);
        expect(frequencyHz).toBeLessThanOrEqual(lowPassHz);
        expect(mainsClearanceHz(frequencyHz)).toBeGreaterThanOrEqual(3);
        for (const rate of SAMPLE_RATES) expect(rate % frequencyHz).not.toBe(0);
        const { lowHz, highHz } = USUAL_METER_BAND;
        expect(insideMeterBand).toBe(frequencyHz >= lowHz && frequencyHz <= highHz);
      }),
      { numRuns: 500 },
    );
  });

  it('keeps its harmonics off the mains too: 83 Hz has its 3rd at 249 Hz, so 79 Hz is taken', () => {
    expect(settingToneHz({ highPassHz: 60, lowPassHz: 115 })).toBe(79);
  });

  it('is the middle of a band too narrow for a prime', () => {
    expect(settingToneHz({ highPassHz: 63, lowPassHz: 64 })).toBeCloseTo(Math.sqrt(63 * 64), 12);
  });

  it.each([
    [80, 80],
    [100, 80],
    [0, 80],
    [Number.NaN, 80],
    [25_000, null],
  ])('refuses a band from %f to %f Hz', (highPassHz, lowPassHz) => {
    expect(() => settingToneHz({ highPassHz, lowPassHz })).toThrow(PlanRefused);
  });
});
