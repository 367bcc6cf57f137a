import { expect, it } from 'vitest';
import { median, robustSpread } from '../../src/dsp/statistics/median.ts';

it('is the middle value, or the mean of the two in the middle, and leaves the values as they are', () => {
  const values = [9, 1, 4];
  expect(median(values)).toBe(4);
  expect(values).toEqual([9, 1, 4]);
  expect(median(Float64Array.of(10, 1, 2, 5))).toBe(3.5);
  expect(median([])).toBeNaN();
});

it('spreads as a normal scatter does, one wild value or not', () => {
  // Distances from the median 3: 2, 1, 0, 1, 97; their median is 1.
  expect(robustSpread([1, 2, 3, 4, 100])).toBe(1.4826);
});
