import { describe, expect, test } from 'vitest';
import { judgeInput } from '../../src/dsp/honesty/judge-input.ts';
import type { InputFault } from '../../src/dsp/honesty/judgement.ts';
import { renderSteps } from '../../src/dsp/tones/steps.ts';
import {
  automaticGain,
  type Conditions,
  cleanTrial,
  echoCanceller,
  gate,
  lowPass,
  noiseSuppressor,
  processed,
  STEPS,
} from './honesty-recordings.ts';

type Processor = (samples: Float64Array, sampleRateHz: number) => Float64Array;

function judged(processor: Processor, conditions: Conditions = {}) {
  const judgement = judgeInput(processed(cleanTrial(conditions), processor));
  return { ...judgement, faults: judgement.findings.map((finding) => finding.fault) };
}

const played = () => Float64Array.from([...new Float64Array(48_000), ...renderSteps(STEPS, 48_000), 0]);

/** Each with the finding it must lead to, and what its sentence must say. */
const CASES: {
  what: string;
  fault: InputFault;
  says: RegExp;
  processor: Processor;
  conditions?: Conditions;
}[] = [
  {
    what: 'automatic gain, slow',
    fault: 'automatic-gain',
    says: /(rises|falls) by \d+\.\d\d dB while the tone holds still; level steps are off by/,
    processor: (x, rate) =>
      automaticGain(x, rate, { targetDb: -20, attackSeconds: 0.5, releaseSeconds: 3, mostDb: 20 }),
  },
  {
    what: 'automatic gain, fast',
    fault: 'automatic-gain',
    says: /off by/,
    processor: (x, rate) =>
      automaticGain(x, rate, { targetDb: -18, attackSeconds: 0.05, releaseSeconds: 0.4, mostDb: 12 }),
  },
  {
    what: 'automatic gain of 1 dB at most',
    fault: 'automatic-gain',
    says: /off by/,
    processor: (x, rate) =>
      automaticGain(x, rate, { targetDb: -20, attackSeconds: 1, releaseSeconds: 20, mostDb: 1 }),
  },
  {
    what: 'a gate that turns the noise down',
    fault: 'noise-gate',
    // 30 dB, less up to 4 where the gate closes within the first cell that is looked at.
    says: /falls by (2[6-9]|30) dB while nothing plays/,
    processor: (x, rate) => gate(x, rate, { thresholdDb: -60, floorDb: -30, holdSeconds: 0.15 }),
  },
  {
    what: 'a gate that shuts at once',
    fault: 'noise-gate',
    says: /exact zeros, while the tone has noise of -75\.\d dBFS/,
    processor: (x, rate) =>
      gate(x, rate, { thresholdDb: -60, floorDb: Number.NEGATIVE_INFINITY, holdSeconds: 0.001 }),
  },
  {
    what: 'an expander',
    fault: 'noise-gate',
    says: /softer than they are \(level steps are off by \+2\.00/,
    processor: (x) => x,
    conditions: { steps: { ...STEPS, levelsDbfs: [-42, -30, -20, -10] } },
  },
  {
    what: 'noise suppression',
    fault: 'noise-suppression',
    says: /falls by 1[78]\.\d dB while it plays: it is taken for noise/,
    processor: (x, rate) => noiseSuppressor(x, rate),
  },
  {
    what: 'echo cancelling',
    fault: 'echo-cancelling',
    says: /moves by -\d+\.\d dB/,
    processor: (x) => echoCanceller(x, played(), { step: 1e-4, leak: 1e-5 }),
  },
  {
    what: 'echo cancelling across two clocks',
    fault: 'echo-cancelling',
    says: /back and forth by [1-9]\d*\.\d dB/,
    processor: (x) => echoCanceller(x, played(), { step: 1e-4, leak: 1e-5 }),
    conditions: { clockPpm: 50 },
  },
  {
    what: 'a level that goes back and forth about what it should be',
    fault: 'echo-cancelling',
    says: /back and forth by [5-9]\.\d dB/,
    processor: (x, rate) =>
      x.map((value, n) => value * 10 ** (0.05 * Math.sin((2 * Math.PI * 1.1 * n) / rate) * 0.5)),
  },
  {
    what: 'a limiter on a tone whose harmonics lie where images would',
    fault: 'compression',
    says: /harmonics at -2\d dBc/,
    processor: (x) => x.map((value) => Math.max(-0.25, Math.min(0.25, value))),
    conditions: { steps: { ...STEPS, frequencyHz: 1000 } },
  },
  {
    what: 'the band of a headset',
    fault: 'band-limit',
    says: /above 8\.[01] kHz/,
    processor: (x, rate) => lowPass(x, rate, 8000),
  },
  {
    what: 'the band of a call',
    fault: 'band-limit',
    says: /above 3\.[3-5] kHz/,
    processor: (x, rate) => lowPass(x, rate, 3400),
  },
  {
    what: 'a lower rate on the way',
    fault: 'resampled',
    says: /ends at 16\.[01] kHz, below the 24\.0 kHz/,
    processor: (x, rate) => lowPass(x, rate, 16_000),
  },
  {
    what: 'a limiter',
    fault: 'compression',
    says: /off by [−+]0\.00, [−+]0\.00, −1\.0\d dB\).*harmonics at -2\d dBc/,
    processor: (x) => x.map((value) => Math.max(-0.25, Math.min(0.25, value))),
  },
  {
    what: 'a soft limiter',
    fault: 'compression',
    says: /Loud steps come back too soft/,
    processor: (x) => x.map((value) => 0.5 * Math.tanh(value / 0.5)),
  },
  {
    what: 'a rate that is pulled',
    fault: 'clock-error',
    says: /1000 ppm high/,
    processor: (x) => x,
    conditions: { clockPpm: 1000 },
  },
];

describe('each processor is named, with its evidence', () => {
  test.each(CASES)('$what', ({ what, fault, says, processor, conditions }) => {
    const { verdict, faults, findings } =
      what === 'an expander' ? expanded(conditions!) : judged(processor, conditions);
    expect(verdict).toBe('processed');
    expect(faults[0]).toBe(fault);
    expect(findings[0]!.evidence).toMatch(says);
    // Automatic gain raises noise in the pauses or lowers it; nothing else may come along.
    const also: InputFault[] = fault === 'automatic-gain' ? ['automatic-gain', 'noise-gate'] : [fault];
    expect(faults.filter((found) => !also.includes(found))).toEqual([]);
  });

  /** Plays one set of steps and asks for another. */
  function expanded(conditions: Conditions) {
    const judgement = judgeInput({ ...cleanTrial(conditions), steps: STEPS });
    return { ...judgement, faults: judgement.findings.map((finding) => finding.fault) };
  }
});

describe('one channel given twice', () => {
  test('bit for bit', () => {
    const trial = cleanTrial();
    const { findings } = judgeInput({ ...trial, channels: [trial.channels[0]!, trial.channels[0]!.slice()] });
    expect(findings.map((finding) => finding.fault)).toEqual(['one-channel-twice']);
    expect(findings[0]!.evidence).toMatch(/alike in every one of \d+ samples/);
  });

  test('at another level, on 24 bits', () => {
    const trial = cleanTrial();
    const copy = trial.channels[0]!.map((x) => Math.round(0.7 * x * 2 ** 23) / 2 ** 23);
    const { findings } = judgeInput({ ...trial, channels: [trial.channels[0]!, copy] });
    expect(findings.map((finding) => finding.fault)).toEqual(['one-channel-twice']);
    expect(findings[0]!.evidence).toMatch(/correlation 1\.0000/);
  });

  test('two converters behind one noisy source are two, as long as their own noise is heard', () => {
    const trial = cleanTrial();
    const source = cleanTrial({ seed: 9 }).channels[0]!;
    // The source's noise 20 dB over the converters' own.
    const channels = trial.channels.map((channel) => channel.map((x, n) => 0.1 * x + source[n]!));
    expect(judgeInput({ ...trial, channels }).findings).toEqual([]);
  });
});
