import { describe, expect, test } from 'vitest';
import { CURRENT } from '../../src/dsp/clipping/shapes/current-family.ts';
import type { ShapeFamily } from '../../src/dsp/clipping/shapes/shape-family.ts';
import { SLEW } from '../../src/dsp/clipping/shapes/slew-family.ts';
import { judgeClipping } from '../../src/dsp/clipping/verdict.ts';
import {
  limitedTerms,
  QUIET_CODES,
  type Recording,
  shapedTerms,
  type TermOf,
  viewOf,
} from './clipping-views.ts';
import { seededUniform } from './seeded-random.ts';

const judge = (term: TermOf, recording: Recording = {}) =>
  judgeClipping(viewOf(term, recording), QUIET_CODES);
const bend = (curve: (x: number) => number, driveDb: number) =>
  shapedTerms((x) => 0.5 * curve(10 ** (driveDb / 20) * x));
/** A member of a family, as it would be recorded; the oracles of tests/reference hold the families themselves. */
const member = (family: ShapeFamily, ...parameters: number[]): TermOf => {
  const { cosine, sine } = family.pattern(parameters, 40);
  return (order) => (order === 1 ? [0.5, 0] : [0.5 * (cosine[order - 2] ?? 0), 0.5 * (sine[order - 2] ?? 0)]);
};
const rounded = (p: number) => (x: number) => x / (1 + Math.abs(x) ** p) ** (1 / p);

describe('what limits is named', () => {
  test.each([0.1, 0.5, 2, 6])(
    'a sharp ceiling %d dB over is hard, and says its compression',
    (overdriveDb) => {
      const clipping = judge(limitedTerms(0.5, overdriveDb, overdriveDb));
      expect(clipping).toMatchObject({ verdict: 'clipped', shape: 'hard' });
      // References 3.2: fundamental against the clip-level sine, less the overdrive.
      const fundamentalDb = { 0.1: 0.0872, 0.5: 0.3621, 2: 1.0029, 6: 1.711 }[overdriveDb] ?? Number.NaN;
      expect(clipping.compressionDb).toBeCloseTo(overdriveDb - fundamentalDb, 2);
    },
  );

  test.each([2, 4, 8])('a bend of sharpness %d is soft wherever it makes 1 % and more', (p) => {
    for (const driveDb of [-1, 0, 1, 2, 3, 5]) {
      const clipping = judge(bend(rounded(p), driveDb));
      expect(clipping, `${driveDb} dB`).toMatchObject({ verdict: 'clipped', side: 'both', shape: 'soft' });
      // Small signals pass with a gain of 1, so the fundamental alone tells the compression.
      const truth = driveDb - 20 * Math.log10(bend(rounded(p), driveDb)(1)[0] / 0.5);
      if (driveDb < 3)
        expect(Math.abs((clipping.compressionDb ?? 99) - truth), `${driveDb} dB`).toBeLessThan(0.1);
    }
  });

  test('a cubic bend is undecided, with soft as the hint', () => {
    expect(judge(shapedTerms((x) => 0.5 * (x - 0.1 * x ** 3)))).toMatchObject({
      verdict: 'undecided',
      shape: 'soft',
    });
  });

  test.each([0.1, 0.3, 1, 2, 4])(
    'a limit on slope, %d dB over, is slew with its overdrive',
    (overdriveDb) => {
      const clipping = judge(member(SLEW, Math.log(overdriveDb)));
      expect(clipping).toMatchObject({ verdict: 'clipped', side: null, shape: 'slew' });
      expect(Math.abs(clipping.overdriveDb! - overdriveDb)).toBeLessThan(0.02);
      expect(clipping.evidence[0]).toMatch(/^Slew-limited/);
    },
  );

  test('a triangle may be played as well as slew-limited', () => {
    const clipping = judge((order) => (order % 2 === 1 ? [0.5 / order ** 2, 0] : [0, 0]));
    expect(clipping).toMatchObject({ verdict: 'undecided', shape: 'slew', overdriveDb: null });
    expect(clipping.evidence[0]).toMatch(/triangle/);
  });

  test.each([0.25, 0.5, 1, 2])('a limit on current into a coil, reactance %d of the resistance', (q) => {
    for (const overdriveDb of [0.3, 1, 3]) {
      const clipping = judge(member(CURRENT, Math.log(overdriveDb), q));
      expect(clipping, `${overdriveDb} dB`).toMatchObject({
        verdict: 'clipped',
        side: 'both',
        shape: 'current',
      });
      expect(Math.abs(clipping.overdriveDb! - overdriveDb)).toBeLessThan(0.02);
      expect(clipping.evidence[0]).toMatch(/degrees after its crest/);
    }
  });

  test('cut before its crest it may be a coupling capacitor: current is not claimed', () => {
    for (const q of [-0.3, -1, -2]) expect(judge(member(CURRENT, 0, q)).shape).not.toBe('current');
  });
});

describe('what is no limit is not named one', () => {
  test('high harmonics of a limit on slope with half of its 3rd', () => {
    const slewed = member(SLEW, 0);
    const clipping = judge((order) => (order === 3 ? [slewed(3)[0] / 2, slewed(3)[1] / 2] : slewed(order)));
    expect(clipping).toMatchObject({ verdict: 'undecided', shape: null });
  });

  test('600 tones with up to 5 % of 2nd and 3rd and 0.3 % of 4th to 7th, of any phase', () => {
    const uniform = seededUniform(41);
    for (let tone = 1; tone <= 600; tone++) {
      const sizes = [0, 0, 0.05, 0.05, 0.003, 0.003, 0.003, 0.003];
      const terms = sizes.map((most): [number, number] => {
        const [size, phase] = [0.5 * most * uniform(), 2 * Math.PI * uniform()];
        return [size * Math.cos(phase), size * Math.sin(phase)];
      });
      const clipping = judge((order) => (order === 1 ? [0.5, 0] : (terms[order] ?? [0, 0])), {
        frequencyHz: 40 * 50 ** uniform(),
        snrDb: 50 + 30 * uniform(),
        seed: tone,
      });
      expect(clipping.verdict, `tone ${tone}: ${clipping.evidence.join(' ')}`).not.toBe('clipped');
    }
  });

  test.each([
    ['a dead zone about zero', (x: number) => Math.sign(x) * Math.max(0, Math.abs(x) - 0.05)],
    ['a gain that differs by half-waves', (x: number) => (x > 0 ? x : 0.8 * x)],
  ])('%s', (_, curve) => {
    expect(judge(bend(curve, 0))).toMatchObject({ verdict: 'undecided', shape: null });
  });
});
