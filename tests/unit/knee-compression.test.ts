import { expect, test } from 'vitest';
import { compressionPoint, gainCompression } from '../../src/dsp/knee/gain-compression.ts';
import { limited } from './gain-turn.ts';

/** Input re ceiling, output by the closed form of references 3.2. */
const STEPS = [-6, 0, 0.5, 1, 2, 3, 6].map((inputDb) => ({
  inputDb,
  outputDb: limited(inputDb).fundamentalDb + 17,
}));

test('compression of an ideal limiter, step by step, as in references 3.2', () => {
  const curve = gainCompression(STEPS.toReversed());
  expect(curve.map((one) => one.inputDb)).toEqual([-6, 0, 0.5, 1, 2, 3, 6]);
  // 0.5 - 0.3621, 1 - 0.6242, 2 - 1.0029, 3 - 1.2664, 6 - 1.7110.
  for (const [at, published] of [0, 0, 0.1379, 0.3758, 0.9971, 1.7336, 4.289].entries()) {
    expect(curve[at]?.compressionDb).toBeCloseTo(published, 3);
  }
});

test('the 1 dB point lies just past 2 dB over', () => {
  expect(compressionPoint(STEPS, 1)).toBeCloseTo(2.004, 2);
  expect(compressionPoint(STEPS.slice(0, 3), 1)).toBeNull();
});

test('uncertainties of both ends join; one step alone says nothing', () => {
  const [, second] = gainCompression([
    { inputDb: 0, outputDb: 0, uncertaintyDb: 0.03 },
    { inputDb: 1, outputDb: 1, uncertaintyDb: 0.04 },
  ]);
  expect(second).toEqual({ inputDb: 1, compressionDb: 0, uncertaintyDb: 0.05 });
  expect(
    gainCompression([
      { inputDb: 0, outputDb: 0 },
      { inputDb: 1, outputDb: Number.NaN },
    ]),
  ).toEqual([]);
});
