import { describe, expect, test } from 'vitest';
import { judgeInput } from '../../src/dsp/honesty/judge-input.ts';
import type { InputFault } from '../../src/dsp/honesty/judgement.ts';
import type { StepsSpec } from '../../src/dsp/tones/spec.ts';
import { usualRunOptions } from '../../src/job/run-track/options.ts';
import { runTrack } from '../../src/job/run-track/run-track.ts';
import { AutomaticGain } from '../../src/rig/automatic-gain.ts';
import {
  automaticGain,
  type Conditions,
  cleanTrial,
  gate,
  noiseSuppressor,
  processed,
} from './honesty-recordings.ts';

/** The stepped tone of a run track is shorter than the tone set's: what the long one finds, it must find too. */
const run = runTrack(null, usualRunOptions(null), 44_100);
const steps = run.parts.find((part) => part.kind === 'steps') as StepsSpec;
/** As it is cut out of a recording, no more than its guards around it. */
const CUT: Conditions = { steps, leadSeconds: run.guardSeconds, tailSeconds: run.guardSeconds };

const CASES: {
  what: string;
  fault: InputFault;
  processor: (x: Float64Array, rate: number) => Float64Array;
}[] = [
  {
    what: 'automatic gain, slow',
    fault: 'automatic-gain',
    processor: (x, rate) =>
      automaticGain(x, rate, { targetDb: -20, attackSeconds: 0.5, releaseSeconds: 3, mostDb: 20 }),
  },
  {
    what: 'automatic gain, fast',
    fault: 'automatic-gain',
    processor: (x, rate) =>
      automaticGain(x, rate, { targetDb: -18, attackSeconds: 0.05, releaseSeconds: 0.4, mostDb: 12 }),
  },
  {
    what: 'automatic gain of 1 dB at most',
    fault: 'automatic-gain',
    processor: (x, rate) =>
      automaticGain(x, rate, { targetDb: -20, attackSeconds: 1, releaseSeconds: 20, mostDb: 1 }),
  },
  {
    what: "the practice rig's own automatic gain",
    fault: 'automatic-gain',
    processor: (x, rate) => {
      const gain = new AutomaticGain({ towardDbfs: -20, share: 0.5, farthestDb: 18, dbPerSecond: 12 }, rate);
      return x.map((sample) => gain.run(sample));
    },
  },
  {
    what: 'a gate',
    fault: 'noise-gate',
    processor: (x, rate) => gate(x, rate, { thresholdDb: -60, floorDb: -30, holdSeconds: 0.15 }),
  },
  { what: 'noise suppression', fault: 'noise-suppression', processor: noiseSuppressor },
];

describe('the stepped tone of a run track', () => {
  test.each(CASES)('finds $what', ({ fault, processor }) => {
    const judgement = judgeInput(processed(cleanTrial(CUT), processor));
    expect(judgement.verdict).toBe('processed');
    expect(judgement.findings.map((finding) => finding.fault)).toContain(fault);
  });

  test.each([{}, { noiseBelowDb: 40 }, { gainDb: -20 }, { clockPpm: 200 }, { sampleRateHz: 44_100 }])(
    'finds nothing where there is nothing: %o',
    (conditions) => {
      for (const seed of [1, 2, 3, 4, 5]) {
        const judgement = judgeInput(cleanTrial({ ...CUT, ...conditions, seed }));
        expect(judgement.findings).toEqual([]);
        expect(judgement.verdict).toBe('raw');
      }
    },
  );
});
