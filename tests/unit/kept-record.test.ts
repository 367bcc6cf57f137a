/** What a record keeps of a figure: seven figures, seven decimals, and nothing but figures is touched. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { keptFigure, keptRecord, keptResult } from '../../src/job/kept-record.ts';
import { gainRecord } from './job-records.ts';

const figure = fc.double({ noNaN: true, noDefaultInfinity: true });

it.each([
  // Seven figures.
  [1234.56789012, 1234.568],
  [-17.320508075688775, -17.32051],
  [123_456_789.25, 123_456_800],
  // Seven decimals, where they say more than enough.
  [0.012345678901, 0.0123457],
  [0.1 + 0.2, 0.3],
  // Below the last decimal: by its figures, never 0.
  [3.21987654321e-8, 3.219877e-8],
  [-3.21987654321e-12, -3.219877e-12],
  [Number.MIN_VALUE, Number.MIN_VALUE],
  // Whole numbers count things: frames past seven figures stay what they are.
  [123_456_789, 123_456_789],
  [0, 0],
])('%d is kept as %d', (value, kept) => {
  expect(keptFigure(value)).toBe(kept);
});

it('hands on what is no number, for the schema to refuse', () => {
  expect([Number.NaN, Number.POSITIVE_INFINITY].map(keptFigure)).toEqual([
    Number.NaN,
    Number.POSITIVE_INFINITY,
  ]);
});

it('property: near the value, of its sign, short, and kept again it stays', () => {
  fc.assert(
    fc.property(figure, (value) => {
      const kept = keptFigure(value);
      expect(keptFigure(kept)).toBe(kept);
      expect(Math.sign(kept)).toBe(Math.sign(value));
      // Half of the seventh figure is at most 5e-7 of the value, half of the seventh decimal 5e-8; both may add up,
      // and the last bits of a double are another 1e-15.
      expect(Math.abs(kept - value)).toBeLessThanOrEqual((5e-7 + 1e-15) * Math.abs(value) + 5.0001e-8);
      if (Number.isInteger(value)) expect(kept).toBe(value);
      else {
        expect(Number(kept.toPrecision(7))).toBe(kept);
        if (Math.abs(kept) >= 1e-7) expect(Number(kept.toFixed(7))).toBe(kept);
      }
    }),
    { numRuns: 2000 },
  );
});

it('property: every figure, however deep, and nothing else; the given result stays as it was', () => {
  const text = fc.oneof(fc.string(), fc.boolean(), fc.constant(null));
  const tree = fc.letrec((tie) => ({
    any: fc.oneof(
      { maxDepth: 4 },
      figure,
      text,
      fc.array(tie('any')),
      fc.dictionary(fc.string(), tie('any')),
    ),
  })).any;
  fc.assert(
    fc.property(tree, (result) => {
      const before = JSON.stringify(result);
      const kept = keptResult(result);
      expect(JSON.stringify(result)).toBe(before);
      const leaves = (value: unknown): unknown[] =>
        typeof value === 'object' && value !== null
          ? Object.entries(value).flatMap(([key, one]) => [key, ...leaves(one)])
          : [value];
      expect(leaves(kept)).toEqual(
        leaves(result).map((one) => (typeof one === 'number' ? keptFigure(one) : one)),
      );
      expect(keptResult(kept)).toEqual(kept);
    }),
  );
});

it('keeps lists inside lists as lists', () => {
  expect(keptResult({ curve: [[1 / 3, 2], []], name: '0.33333333' })).toEqual({
    curve: [[0.3333333, 2], []],
    name: '0.33333333',
  });
});

it('keeps the figures of the result alone, in the order of the schema, and refuses what is no record', () => {
  const given = gainRecord('a');
  const { conditions, result } = given;
  const long = {
    result: { ...result, volts: 17.320508075688775 },
    conditions: { ...conditions, supplyVolts: 13.123456789 },
  };
  const kept = keptRecord({ ...long, id: given.id, at: given.at, kind: given.kind });
  expect(kept.result).toMatchObject({ volts: 17.32051 });
  expect(kept.conditions.supplyVolts).toBe(13.123456789);
  expect(Object.keys(kept)).toEqual(Object.keys(given));
  expect(keptRecord(kept)).toEqual(kept);
  expect(() => keptRecord({ ...given, result: { ...result, volts: Number.NaN } })).toThrow(/volts/);
  expect(() => keptRecord({ kind: 'gain' })).toThrow();
});
