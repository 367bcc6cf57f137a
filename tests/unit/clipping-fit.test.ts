import { describe, expect, test } from 'vitest';
import { couplingTurn } from '../../src/dsp/clipping/coupling.ts';
import { harmonicRatios } from '../../src/dsp/clipping/harmonic-ratios.ts';
import { fitLimiter } from '../../src/dsp/clipping/limiter-fit.ts';
import { overdriveOfAngle } from '../../src/dsp/clipping/overdrive.ts';
import { judgeClipping } from '../../src/dsp/clipping/verdict.ts';
import { limitedTerms, QUIET_CODES, type Recording, type TermOf, viewOf } from './clipping-views.ts';

const OVERDRIVES_DB = [0.05, 0.07, 0.1, 0.2, 0.3, 0.5, 0.8, 1, 1.5, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12];
const judge = (term: TermOf, recording: Recording = {}) =>
  judgeClipping(viewOf(term, recording), QUIET_CODES);

/** What issue 2 asks of an ideal limiter from 0.05 to 12 dB at 60 dB of signal against noise. */
const ASKED_DB = 0.02;
/**
 * What noise alone leaves at 60 dB and 4096 frames, four standard deviations at the worst point (12 dB past
 * both rails, where the 3rd harmonic moves by 0.3 dB per dB). A tight pin: any bias of the fit trips it.
 */
const PINNED_DB = 0.005;

describe('an ideal limiter at 60 dB of signal against noise', () => {
  const rails = [
    { side: 'both', high: 1, low: 1 },
    { side: 'positive', high: 1, low: null },
    { side: 'negative', high: null, low: 1 },
    { side: 'both', high: 1, low: 0.4 },
    { side: 'both', high: 0.3, low: 1 },
  ] as const;
  const frequencies = [20, 41, 100, 440, 997, 2500, 3100];
  const cases = rails.flatMap((rail) => frequencies.map((frequencyHz) => ({ ...rail, frequencyHz })));

  test.each(cases)('$frequencyHz Hz, rails at $high and $low of the overdrive', (row) => {
    for (const overdriveDb of OVERDRIVES_DB) {
      for (const seed of [1, 2, 3]) {
        const share = (part: number | null) => (part === null ? null : part * overdriveDb);
        const term = limitedTerms(0.5, share(row.high), share(row.low));
        const clipping = judge(term, { frequencyHz: row.frequencyHz, frames: 4096, seed });
        expect(clipping.verdict).toBe('clipped');
        expect(clipping.side).toBe(row.side);
        const error = Math.abs(clipping.overdriveDb! - overdriveDb);
        expect(error).toBeLessThan(ASKED_DB);
        expect(error).toBeLessThan(PINNED_DB);
        // The knee is the level of the rail met first: the 0.5 that goes in, less the overdrive.
        expect(clipping.kneeDbfs! - (20 * Math.log10(0.5) - overdriveDb)).toBeCloseTo(0, 2);
      }
    }
  });

  test('the overdrive is that of the rail met first, and both rails are found', () => {
    const ratios = harmonicRatios(viewOf(limitedTerms(1, 3, 0.5), { snrDb: 90 }))!;
    const { shape } = fitLimiter(ratios, 2, 'both');
    expect(overdriveOfAngle(Math.cbrt(shape.highCube))).toBeCloseTo(3, 3);
    expect(overdriveOfAngle(Math.cbrt(shape.lowCube))).toBeCloseTo(0.5, 3);
  });
});

describe('what lies between the limiter and the input', () => {
  /** One high-pass pole behind the limiter, as the exact response of its harmonics. */
  const coupled =
    (term: TermOf, frequencyHz: number, cornerHz: number): TermOf =>
    (order) => {
      const turn = couplingTurn(order, cornerHz / frequencyHz);
      const [cosine] = term(order);
      return [cosine * turn.gain * Math.cos(turn.angle), -cosine * turn.gain * Math.sin(turn.angle)];
    };

  test('the turn of one pole agrees with its complex response', () => {
    // H(jw) = jw/(jw + wc), divided by H of the fundamental to the power of the order in phase only.
    const ratio = 0.3;
    const phase = (order: number) => Math.atan2(ratio, order);
    const size = (order: number) => order / Math.hypot(order, ratio);
    for (const order of [1, 2, 7]) {
      expect(couplingTurn(order, ratio).angle).toBeCloseTo(phase(order) - order * phase(1), 12);
      expect(couplingTurn(order, ratio).gain).toBeCloseTo(size(order) / size(1), 12);
    }
  });

  test('the slopes that the descent follows are those of the turn', () => {
    const step = 1e-6;
    for (const order of [1, 2, 9]) {
      const [below, at, above] = [0.3 - step, 0.3, 0.3 + step].map((ratio) => couplingTurn(order, ratio));
      expect((above!.angle - below!.angle) / (2 * step)).toBeCloseTo(at!.angleSlope, 6);
      expect(Math.log(above!.gain / below!.gain) / (2 * step)).toBeCloseTo(at!.gainSlope, 6);
    }
  });

  test.each([20, 30, 50, 100].flatMap((hz) => [1, 3, 6, 10].map((cornerHz) => ({ hz, cornerHz }))))(
    'coupling at $cornerHz Hz behind a tone of $hz Hz costs no accuracy',
    ({ hz, cornerHz }) => {
      for (const overdriveDb of [0.1, 1, 6, 12]) {
        for (const low of [overdriveDb, null]) {
          const term = coupled(limitedTerms(0.5, overdriveDb, low), hz, cornerHz);
          const clipping = judge(term, { frequencyHz: hz });
          expect(clipping.side).toBe(low === null ? 'positive' : 'both');
          expect(Math.abs(clipping.overdriveDb! - overdriveDb)).toBeLessThan(ASKED_DB);
        }
      }
    },
  );

  test('a top that coupling has tilted is laid flat again before its height is read', () => {
    const clipping = judge(coupled(limitedTerms(0.5, 1, 1), 20, 6), { frequencyHz: 20 });
    expect(clipping.evidence[1]).toBe(
      'Folded over one period, the crest stands 1 dB lower than the sine would.',
    );
  });

  test.each([997, 2500])('lossy coding that ends at 16 kHz costs no accuracy at %d Hz', (frequencyHz) => {
    for (const overdriveDb of [0.1, 1, 6]) {
      const whole = limitedTerms(0.5, overdriveDb, overdriveDb);
      const clipping = judge((order) => (order * frequencyHz > 16_000 ? [0, 0] : whole(order)), {
        frequencyHz,
      });
      expect(clipping.verdict).toBe('clipped');
      expect(Math.abs(clipping.overdriveDb! - overdriveDb)).toBeLessThan(ASKED_DB);
    }
  });

  test.each([
    // Measured 1, 6, 3 and 15 %: a droop (the first: 0.1 dB at 3 kHz, 1 dB at 10 kHz) reads as less overdrive.
    { cornerHz: 20_000, frequencyHz: 997, within: 0.012 },
    { cornerHz: 20_000, frequencyHz: 2500, within: 0.07 },
    { cornerHz: 10_000, frequencyHz: 997, within: 0.04 },
    { cornerHz: 10_000, frequencyHz: 2500, within: 0.16 },
  ])('a first-order droop at $cornerHz Hz behind $frequencyHz Hz', ({ cornerHz, frequencyHz, within }) => {
    for (const overdriveDb of [0.1, 1, 6]) {
      const whole = limitedTerms(0.5, overdriveDb, overdriveDb);
      const clipping = judge(
        (order) => {
          const [first, own] = [
            Math.atan(frequencyHz / cornerHz),
            Math.atan((order * frequencyHz) / cornerHz),
          ];
          const size = (whole(order)[0] * Math.cos(own)) / Math.cos(first);
          return [size * Math.cos(order * first - own), -size * Math.sin(order * first - own)];
        },
        { frequencyHz },
      );
      expect(clipping.verdict).toBe('clipped');
      // In part, or by no more than what is asked of an ideal path: 0.1 dB behind 10 kHz reads 0.091 dB.
      const room = Math.max(within * overdriveDb, ASKED_DB);
      expect(clipping.overdriveDb!).toBeGreaterThan(overdriveDb - room);
      expect(clipping.overdriveDb! / overdriveDb).toBeLessThan(1.005);
    }
  });
});
