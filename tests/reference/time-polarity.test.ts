/** Polarity and arrival in a simulated cabin, whose filters, reflections and noise are scipy's and numpy's. */
import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, test } from 'vitest';
import type { ExpectedFilter } from '../../src/dsp/time/expected-band.ts';
import { PolarityReader, type PolarityReading } from '../../src/dsp/time/polarity.ts';
import { lacks, runPython } from './oracle.ts';
import { scratchFolder } from './scratch-folder.ts';

interface Band {
  name: string;
  sampleRateHz: number;
  frames: number;
  filters: ExpectedFilter[];
  peakSign: number;
  truths: [sign: number, arrivalSeconds: number][];
}

const scratch = scratchFolder();

interface Trial {
  band: Band;
  upright: boolean;
  arrivalSeconds: number;
  samples: Float64Array;
  reading: PolarityReading;
}

function trials(seed: number, each: number, snrDb: number, which: string): Trial[] {
  const path = scratch(`responses-${seed}.f64`);
  const bands = runPython('cabin_responses.py', [seed, each, snrDb, which, path].map(String)) as Band[];
  const bytes = readFileSync(path);
  const samples = new Float64Array(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.length));
  let from = 0;
  return bands.flatMap((band) => {
    const reader = new PolarityReader({ ...band, path: 'cabin' });
    return band.truths.map(([sign, arrivalSeconds]) => {
      const response = samples.subarray(from, from + band.frames);
      from += band.frames;
      const reading = reader.read(response)!;
      return { band, upright: sign > 0, arrivalSeconds, samples: response, reading };
    });
  });
}

function isWrong(trial: Trial): boolean {
  return trial.reading.polarity === (trial.upright ? 'inverted' : 'upright');
}

describe.skipIf(lacks('python'))('polarity at 20 dB SNR in a cabin, every band of references item 10', () => {
  let all: Trial[] = [];
  beforeAll(() => {
    all = trials(11, 250, 20, 'all');
  }, 120_000);

  test('the likelier way up is right in 99.9 % of all', () => {
    const right = all.filter((trial) => trial.reading.likelier === (trial.upright ? 'upright' : 'inverted'));
    expect(right.length / all.length).toBeGreaterThanOrEqual(0.999);
  });

  test('decides right in 99.9 % of eight bands, never wrong in any, undecided at times in the narrowest', () => {
    // Issue 3: 99.9 %. A band of 0.8 octaves (35 to 60 Hz) holds too little to be decided every time.
    expect(all).toHaveLength(2250);
    expect(all.filter(isWrong).map((trial) => trial.band.name)).toEqual([]);
    const right = all.filter((trial) => trial.reading.polarity === (trial.upright ? 'upright' : 'inverted'));
    const wide = right.filter((trial) => trial.band.name !== 'LP LR4 60 + HP BW4 35');
    expect(wide.length / 2000).toBeGreaterThanOrEqual(0.999);
    // By hand, 3000 responses of that band: 36 undecided, none wrong; of 250, 3 in the mean, 11 or more once in 3000.
    expect(right.length - wide.length).toBeGreaterThanOrEqual(240);
  });

  test("the sign of the largest peak, the rule it replaces, is wrong for the references' bands", () => {
    // References item 10: five of the nine correct bands peak downward, by scipy's filters too.
    const downward = new Set(all.filter((t) => t.band.peakSign < 0).map((t) => t.band.name));
    expect([...downward]).toEqual([
      'LP LR4 80 + HP BW4 25',
      'LP BW4 80 + HP BW2 30',
      'LP LR4 60 + HP BW4 35',
      'HP LR4 3 kHz + LP BW2 20 kHz',
      'HP LR2 3 kHz + LP BW2 20 kHz',
    ]);
  });

  test('arrival of mid and tweeter bands is within 0.02 ms', () => {
    // Issue 3. 99.5 %: in the rest a sum of reflections exceeds the direct sound.
    for (const name of ['BP LR4 80-3000', 'HP LR4 3 kHz + LP BW2 20 kHz', 'HP LR2 3 kHz + LP BW2 20 kHz']) {
      const errors = all
        .filter((trial) => trial.band.name === name)
        .map((trial) => Math.abs(trial.reading.arrivalSeconds - trial.arrivalSeconds))
        .sort((a, b) => a - b);
      expect(errors[Math.floor(0.995 * errors.length)], name).toBeLessThan(0.02e-3);
    }
  });

  test("a subwoofer's arrival is as uncertain as it says", () => {
    // Reflections 1 to 10 ms late in a band 60 Hz wide: a shift of their share (about one half) of their mean lag
    // (about 4 ms) is indistinguishable, so no reading can be better than about a millisecond.
    const bass = all.filter((trial) => trial.band.sampleRateHz === 4000);
    const covered = bass.filter(
      ({ reading, arrivalSeconds }) =>
        Math.abs(reading.arrivalSeconds - arrivalSeconds) < 2 * reading.arrivalUncertaintySeconds,
    );
    // A normal error would be covered by two standard uncertainties in 95.4 %; the prior's shape is not the cabin's.
    expect(covered.length / bass.length).toBeGreaterThan(0.83);
    const median = bass.map((trial) => trial.reading.arrivalUncertaintySeconds).sort((a, b) => a - b)[
      bass.length >> 1
    ]!;
    expect(median).toBeGreaterThan(0.2e-3);
    expect(median).toBeLessThan(1e-3);
  });
});

test.skipIf(lacks('python'))('in strong noise it says undecided rather than guess', () => {
  const buried = trials(12, 100, 0, '2,3,4');
  const undecided = buried.filter((trial) => trial.reading.polarity === 'undecided');
  expect(undecided.length).toBeGreaterThan(150);
  // A confidence of 0.99 allows 1 in 100 of the decided to be wrong; 5 of at most 150 is far in its tail.
  expect(buried.filter(isWrong).length).toBeLessThanOrEqual(5);
});
