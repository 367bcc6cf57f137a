/** Source and amplifier on one ruler: the level of what is played at which each gives up. */
import { describe, expect, it } from 'vitest';
import {
  amplifierCeiling,
  type Ceiling,
  firstToGive,
  sourceCeiling,
  sourceRecordFor,
} from '../../src/job/ceilings.ts';
import type { RecordOf } from '../../src/job/records.ts';
import { comparison } from '../../src/ui/stations/gain/ceiling-words.ts';
import { HATCHBACK } from './gain-hand.ts';
import { gainRecord } from './job-records.ts';

const at = (toneDbfs: number, isAtLeast = false): Ceiling => ({ toneDbfs, isAtLeast, volts: null });

/** A radio of 1.5 dB a step that gives 8 V at step 30 with full scale, measured at -10 dBFS; knee at 8.5 V. */
function source(id: string, part: Partial<RecordOf<'source'>['result']> = {}): RecordOf<'source'> {
  const volts = (step: number) => 8 * 10 ** ((1.5 * (step - 30) - 10) / 20);
  const step = (number: number) => ({
    step: number,
    levelDbfs: -20,
    volts: volts(number),
    thdPercent: 0.01,
    verdict: 'clean' as const,
    overdriveDb: null,
    bassDb: null,
    trebleDb: null,
    bassVerdict: null,
  });
  const { conditions } = gainRecord('x');
  return {
    kind: 'source',
    id,
    at: '2026-03-14T09:40:00.000Z',
    conditions,
    result: {
      point: 'radio',
      side: 'left',
      volumeSteps: 40,
      tones: {
        middle: { frequencyHz: 997, levelDbfs: -10 },
        bass: { frequencyHz: 43, levelDbfs: -10 },
        treble: { frequencyHz: 8000, levelDbfs: -10 },
      },
      steps: [step(20), step(28), step(36), { ...step(40), verdict: 'clipped', overdriveDb: 2 }],
      highestCleanStep: 36,
      cleanToTop: false,
      ceilingDbfs: -12,
      ceilingVolts: volts(36),
      ceilingVoltsUncertainty: null,
      kneeVolts: 8.5,
      clippedTone: 'middle',
      bassCutFromStep: null,
      bassCutAtCeilingDb: null,
      limitsFromStep: null,
      grade: 'valid',
      doubts: [],
      findings: [],
      ...part,
    },
  };
}

describe('the source', () => {
  it('gives up at the tone level that takes its volts at that step to its knee, between measured steps too', () => {
    // At step 30 full scale is 8 V; 8.5 V lie 0.527 dB above.
    expect(sourceCeiling(source('a'), 30)?.toneDbfs).toBeCloseTo(20 * Math.log10(8.5 / 8), 6);
    expect(sourceCeiling(source('a'), 28)?.toneDbfs).toBeCloseTo(20 * Math.log10(8.5 / 8) + 3, 6);
    expect(sourceCeiling(source('a'), 30)).toMatchObject({ isAtLeast: false, volts: 8.5 });
  });

  it('without a knee is known from below, up to its highest clean step and no further', () => {
    const clean = source('a', { kneeVolts: null });
    expect(sourceCeiling(clean, 30)).toMatchObject({ toneDbfs: -10, isAtLeast: true });
    expect(sourceCeiling(clean, 38)).toBeNull();
  });

  it('says nothing about a step beyond all that were measured clean', () => {
    expect(sourceCeiling(source('a'), 38)).toBeNull();
  });

  it('is taken from the newest record of the side that feeds the channel', () => {
    const [frontLeft, frontRight, , , subwoofer] = HATCHBACK.channels;
    const records = [source('left'), source('right', { side: 'right' }), source('newer-left')];
    expect(sourceRecordFor(frontLeft!, records)?.id).toBe('newer-left');
    expect(sourceRecordFor(frontRight!, records)?.id).toBe('right');
    expect(sourceRecordFor(subwoofer!, records)?.id).toBe('newer-left');
    expect(sourceRecordFor(frontLeft!, [])).toBeNull();
  });
});

describe('the amplifier', () => {
  const recorded = gainRecord('g');
  if (recorded.kind !== 'gain') throw new Error(recorded.kind);

  it('gives up where its knee stands above the volts of the setting tone', () => {
    // 17.3 V at -5 dBFS, knee at 18.4 V.
    expect(amplifierCeiling(recorded)?.toneDbfs).toBeCloseTo(-5 + 20 * Math.log10(18.4 / 17.3), 9);
  });

  it('is known from below by clean bursts, and not at all without either', () => {
    const bursts = {
      readings: [],
      conclusion: { verdict: 'clean', cleanVolts: 19.4, marginDb: 1 },
    } as const;
    const result = { ...recorded.result, knee: null, volts: 1.73, toneDbfs: -25 };
    const burst = amplifierCeiling({
      ...recorded,
      result: { ...result, bursts: { ...bursts, readings: [] } },
    });
    expect(burst?.toneDbfs).toBeCloseTo(-25 + 20 * Math.log10(19.4 / 1.73), 9);
    expect(burst?.isAtLeast).toBe(true);
    expect(amplifierCeiling({ ...recorded, result })).toBeNull();
  });
});

describe('side by side', () => {
  it.each([
    [at(-5.7), at(-4.5), 'The radio gives up 1.2 dB before the amplifier'],
    [
      at(0.5),
      at(-4.5),
      'The amplifier gives up 5.0 dB before the radio; 5.0 dB of that is the planned overlap.',
    ],
    [at(-4.4), at(-4.5), 'The radio and the amplifier give up together.'],
    [at(0.5), at(0.1), 'Nothing that can be played at this volume step reaches either ceiling.'],
    [at(-3, true), at(-4.5), 'The amplifier gives up at least 1.5 dB before the radio'],
    [at(-6, true), at(-4.5), 'Which of the two gives up first these records do not say.'],
    [at(-6), at(-4.5, true), 'The radio gives up at least 1.5 dB before the amplifier'],
    [at(-6, true), at(-4.5, true), 'Which of the two gives up first these records do not say.'],
  ])('%o and %o', (radio, amplifier, words) => {
    expect(comparison(radio, amplifier, 'radio', 5)).toContain(words);
  });

  it('an amplifier known from below, under a source whose ceiling is known, decides nothing', () => {
    expect(firstToGive(at(-3), at(-6, true)).first).toBeNull();
  });
});
