import { availableParallelism } from 'node:os';
import { defineConfig } from 'vitest/config';

/** Nothing in them hangs on the clock of the machine, so several browsers may share it: most of the time they wait. */
const ON_RIG = [
  'tests/browser/*-on-rig.test.ts',
  'tests/browser/first-screen.test.ts',
  'tests/browser/gain-all-channels.test.ts',
  'tests/browser/leaving-a-take.test.ts',
  'tests/browser/plan-*.test.ts',
  'tests/browser/report*.test.ts',
  'tests/browser/sign-off*.test.ts',
  'tests/browser/stations-by-hand.test.ts',
  'tests/browser/whole-job.test.ts',
];

/** The runner would leave one core idle. */
const ALL_CORES = availableParallelism();

export default defineConfig({
  test: {
    projects: [
      {
        test: {
          name: 'unit',
          include: ['tests/unit/**/*.test.ts'],
          testTimeout: 60_000,
          maxWorkers: ALL_CORES,
        },
      },
      {
        test: {
          name: 'reference',
          include: ['tests/reference/**/*.test.ts'],
          testTimeout: 240_000,
          maxWorkers: ALL_CORES,
        },
      },
      {
        test: {
          name: 'browser-rig',
          include: ON_RIG,
          testTimeout: 120_000,
          hookTimeout: 120_000,
          maxWorkers: 3,
          sequence: { groupOrder: 1 },
        },
      },
      {
        test: {
          name: 'browser',
          include: ['tests/browser/**/*.test.ts'],
          exclude: ON_RIG,
          testTimeout: 120_000,
          hookTimeout: 120_000,
          fileParallelism: false,
          sequence: { groupOrder: 2 },
        },
      },
    ],
  },
});
