import { describe, expect, it } from 'vitest';
import { type ComplexValue, filterResponse } from '../../src/dsp/filters/filter-response.ts';
import { pureDelay } from '../../src/dsp/response/pure-delay.ts';
import {
  dividedTransfer,
  type Transfer,
  transferFrequencies,
  transferOf,
} from '../../src/dsp/response/transfer.ts';
import { filter } from './swept-chain.ts';

const RESOLUTION_HZ = 2.05;
const BAND = { lowHz: 15, highHz: 18_000 };

function transferIn(band: typeof BAND, at: (hertz: number) => ComplexValue, snrDb = 60): Transfer {
  const frequenciesHz = transferFrequencies(band, RESOLUTION_HZ);
  const values = frequenciesHz.map(at);
  return {
    frequenciesHz,
    magnitudesDb: values.map(({ re, im }) => 20 * Math.log10(Math.hypot(re, im))),
    phasesDeg: values.map(({ re, im }) => (Math.atan2(im, re) * 180) / Math.PI),
    uncertaintiesDb: frequenciesHz.map(() => 0.03),
    snrDb: frequenciesHz.map(() => snrDb),
  };
}

describe('the grid', () => {
  it('is of 1/24 octave above, a resolution apart below, and one for every band', () => {
    const whole = transferFrequencies(BAND, RESOLUTION_HZ);
    for (let i = 1; i < whole.length; i += 1) {
      // The grid keeps nine figures: each end is off by up to 5e-9 of itself.
      expect(whole[i]! - whole[i - 1]!).toBeGreaterThanOrEqual(RESOLUTION_HZ - 1e-6);
      if (whole[i]! > 1000) expect(whole[i]! / whole[i - 1]!).toBeCloseTo(10 ** (1 / 80), 7);
    }
    expect(whole).toContain(1000);
    expect(transferFrequencies({ lowHz: 50, highHz: 400 }, RESOLUTION_HZ)).toEqual(
      whole.filter((hertz) => hertz >= 50 && hertz <= 400),
    );
    expect(transferFrequencies({ lowHz: 2000, highHz: 9000 }, RESOLUTION_HZ)).toEqual(
      whole.filter((hertz) => hertz >= 2000 && hertz <= 9000),
    );
  });
});

describe('one response over another', () => {
  const door = filter('high-pass', 'linkwitz-riley', 4, 80);
  const radio = filter('high-pass', 'butterworth', 3, 60);

  it('is their quotient in level and phase, where both were measured', () => {
    const both = transferIn(BAND, (hertz) => {
      const a = filterResponse(door, hertz);
      const b = filterResponse(radio, hertz);
      return { re: a.re * b.re - a.im * b.im, im: a.re * b.im + a.im * b.re };
    });
    const reference = transferIn({ lowHz: 30, highHz: 9000 }, (hertz) => filterResponse(radio, hertz), 54);
    reference.magnitudesDb[3] = null;
    const divided = dividedTransfer(both, reference);
    expect(divided.frequenciesHz).toEqual(reference.frequenciesHz);
    divided.frequenciesHz.forEach((hertz, index) => {
      if (index === 3) {
        expect([divided.magnitudesDb[3], divided.phasesDeg[3], divided.snrDb[3]]).toEqual([null, null, null]);
        return;
      }
      const { re, im } = filterResponse(door, hertz);
      expect(divided.magnitudesDb[index]).toBeCloseTo(20 * Math.log10(Math.hypot(re, im)), 9);
      const off = divided.phasesDeg[index]! - (Math.atan2(im, re) * 180) / Math.PI;
      expect(Math.abs(off - 360 * Math.round(off / 360))).toBeLessThan(1e-9);
      expect(Math.abs(divided.phasesDeg[index]!)).toBeLessThanOrEqual(180);
      // Noise 60 dB and 54 dB down adds to -10 lg(1e-6 + 4e-6).
      expect(divided.snrDb[index]).toBeCloseTo(-10 * Math.log10(1e-6 + 10 ** -5.4), 9);
      expect(divided.uncertaintiesDb[index]).toBeCloseTo(0.03 * Math.SQRT2, 12);
    });
  });

  it('without any noise still has finite figures, so that it survives a file', () => {
    const bins = 1025;
    const clean = {
      ...{ binHz: 20, resolutionHz: 40, re: new Float64Array(bins).fill(1), im: new Float64Array(bins) },
      noise: new Float64Array(bins),
    };
    const transfer = transferOf(clean, { lowHz: 200, highHz: 5000 });
    expect(transfer.snrDb.every((snr) => snr === 200)).toBe(true);
    expect(JSON.parse(JSON.stringify(transfer))).toEqual(transfer);
  });
});

describe('the pure delay', () => {
  const lowPass = filter('low-pass', 'linkwitz-riley', 2, 80);

  it.each([
    [0.0101, 1],
    [-0.0123, -1],
    [0.00002, -1],
  ])('of %f s beside a filter is told, and polarity %i, though points lie turns apart', (delay, sign) => {
    // At 2.9 kHz neighbouring points lie 83 Hz apart: 10 ms turn the phase by 300 degrees from one to the next.
    const transfer = transferIn({ lowHz: 16, highHz: 2900 }, (hertz) => {
      const { re, im } = filterResponse(lowPass, hertz);
      const turn = -2 * Math.PI * hertz * delay;
      const [cos, sin] = [sign * Math.cos(turn), sign * Math.sin(turn)];
      return { re: re * cos - im * sin, im: re * sin + im * cos };
    });
    const found = pureDelay(transfer, [lowPass], { lowHz: 16, highHz: 2900 });
    expect(found?.inverted).toBe(sign < 0);
    expect(found?.delaySeconds).toBeCloseTo(delay, 9);
  });

  it('is none where something else turns the phase, or where little stands out of the noise', () => {
    const quarter = transferIn(BAND, () => ({ re: 0, im: 1 }));
    expect(pureDelay(quarter, [], BAND)).toBeNull();
    const faint = transferIn(BAND, () => ({ re: 1, im: 0 }), 6);
    expect(pureDelay(faint, [], BAND)).toBeNull();
  });
});
