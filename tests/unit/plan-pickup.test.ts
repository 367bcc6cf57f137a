/** From the source to the amplifiers' inputs: what the plan warns of, and what a summed channel reads. */
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chainWarnings, pickupOf } from '../../src/job/chain-warnings.ts';
import type { Job } from '../../src/job/document.ts';
import { planJobChannel } from '../../src/job/job-plan.ts';
import { outputsFree, outputsUsed } from '../../src/job/outputs.ts';
import { readJob } from '../../src/job/read-job.ts';
import { summedTone } from '../../src/job/summed-tone.ts';
import { resistorHeatWatts } from '../../src/plan/pickup/load-resistors.ts';
import { highestLineVolts, type Pickup, pickupWarnings } from '../../src/plan/pickup/pickup-warnings.ts';
import { PlanRefused } from '../../src/plan/refused.ts';
import { partialTones } from '../../src/plan/tone/summed-inputs.ts';
import { gainRecord } from './job-records.ts';

const hatchback = (): Job =>
  readJob(readFileSync(new URL('../../shared/examples/hatchback.job.json', import.meta.url), 'utf8'));

/** Nothing to be said of it: 10 V across 47 ohm is 2.13 W, rated at more than twice that. */
const SOUND: Pickup = {
  at: 'speaker-level',
  loadResistors: { ohms: 47, watts: 5 },
  highestVolts: 10,
  converter: { highestInputVolts: 16, ratioDb: -12, turnOn: 'remote-wire' },
};

const said = (part: Partial<Pickup>) => pickupWarnings({ ...SOUND, ...part });
const kinds = (part: Partial<Pickup>) => said(part).map(({ kind }) => kind);

describe('the way from source to amplifiers', () => {
  it('has nothing to be warned of where all is noted and fits', () => {
    expect(said({})).toEqual([]);
  });

  it('asks for load resistors at speaker level, and for none at line level', () => {
    expect(said({ loadResistors: null })).toMatchObject([
      { kind: 'load-resistors-missing', at: 'source', grave: true },
    ]);
    expect(kinds({ at: 'line-level', loadResistors: null })).toEqual([]);
    expect(kinds({ at: 'line-level' })).toEqual(['load-resistors-needless']);
  });

  it('works out what each must bear: 14 V across 47 ohm is 4.17 W, so one for 5 W is too near', () => {
    expect(resistorHeatWatts(14, 47)).toBeCloseTo(196 / 47, 12);
    const [warning] = said({ highestVolts: 14 });
    expect(warning).toMatchObject({ kind: 'load-resistors-too-weak', grave: false });
    expect(warning?.sentence).toMatch(/bears 4\.17 W and is rated for 5 W: take ones for 8\.3 W or more/);
  });

  it('calls it grave where the rating itself is exceeded', () => {
    expect(said({ loadResistors: { ohms: 20, watts: 2 } })).toMatchObject([
      { kind: 'load-resistors-too-weak', grave: true },
    ]);
  });

  it('sends to the maker where the highest voltage is not known', () => {
    const warnings = said({ highestVolts: null });
    expect(warnings.map(({ kind }) => kind)).toEqual(['load-resistors-unjudged', 'converter-input-unjudged']);
    expect(warnings[0]?.sentence).toMatch(/see its maker/);
  });

  it('warns where the source gives more than the converter takes, and not where it gives as much', () => {
    const converter = { highestInputVolts: 10, ratioDb: null, turnOn: 'remote-wire' } as const;
    expect(kinds({ converter })).toEqual([]);
    expect(said({ converter: { ...converter, highestInputVolts: 9 } })).toMatchObject([
      { kind: 'converter-input-exceeded', at: 'converter', grave: true },
    ]);
  });

  it('says when a converter sleeps, and when there is none', () => {
    expect(kinds({ converter: { ...SOUND.converter!, turnOn: 'sensing' } })).toEqual(['converter-sleeps']);
    expect(kinds({ converter: null })).toEqual(['converter-missing']);
    expect(kinds({ at: 'line-level', loadResistors: null, converter: null })).toEqual([]);
  });

  it('gives the most that reaches the amplifiers: 10 V less 12 dB is 2.51 V', () => {
    expect(highestLineVolts(SOUND)).toBeCloseTo(10 * 10 ** (-12 / 20), 12);
    expect(highestLineVolts({ ...SOUND, converter: null })).toBe(10);
    expect(highestLineVolts({ ...SOUND, converter: { ...SOUND.converter!, ratioDb: null } })).toBeNull();
    expect(highestLineVolts({ ...SOUND, highestVolts: null })).toBeNull();
  });

  it.each([
    [0, 47],
    [10, 0],
    [Number.NaN, 47],
  ])('refuses %f V across %f ohm', (volts, ohms) => {
    expect(() => resistorHeatWatts(volts, ohms)).toThrow(PlanRefused);
  });
});

describe('a channel fed from a sum', () => {
  it('reads 6.02 dB low with one of two, 2.50, 6.02 and 12.04 dB low with three, two and one of four', () => {
    // 20 lg(k / n): the same tone adds as voltage.
    const losses = (inputs: number) => partialTones(inputs, 8).map(({ lossDb }) => Number(lossDb.toFixed(2)));
    expect([losses(1), losses(2), losses(4)]).toEqual([[], [-6.02], [-2.5, -6.02, -12.04]]);
    expect(partialTones(4, 8).map(({ toneVolts }) => toneVolts)).toEqual(
      [6, 4, 2].map((v) => expect.closeTo(v, 12)),
    );
    expect(partialTones(2, null)).toMatchObject([{ carrying: 1, toneVolts: null }]);
    expect(() => partialTones(0, 8)).toThrow(PlanRefused);
  });

  it('reads in volts what share of the inputs carries the tone, for any number of them', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 12 }),
        fc.double({ min: 0.1, max: 100, noNaN: true }),
        (inputs, volts) => {
          const partial = partialTones(inputs, volts);
          expect(partial).toHaveLength(inputs - 1);
          for (const { carrying, toneVolts } of partial) {
            expect(toneVolts! / volts).toBeCloseTo(carrying / inputs, 12);
          }
        },
      ),
    );
  });

  it('says which inputs must carry it, and agrees with the plan of either feed', () => {
    const job = hatchback();
    const channel = job.channels[4]!;
    const both = summedTone(channel, planJobChannel(job, channel.id).toneVolts);
    expect(both).toMatchObject({ inputs: 2, needed: 'the left and the right input', reachesAll: true });
    channel.fedBy = 'left';
    const oneSide = planJobChannel(job, channel.id).toneVolts!;
    // What the plan expects of one side is what the sum says one input reads.
    expect(both?.partial[0]?.toneVolts).toBeCloseTo(oneSide, 12);
    expect(summedTone(channel, oneSide)?.partial[0]?.toneVolts).toBeCloseTo(oneSide, 12);
    expect(summedTone(channel, oneSide)?.reachesAll).toBe(false);
    expect(summedTone({ ...channel, summedInputs: 4 }, null)?.needed).toBe('all 4 inputs');
    expect(summedTone(job.channels[0]!, 17)).toBeNull();
  });
});

/** Invented: a radio that the Source station found clean up to 20 V. */
function ceilingRecord(id: string, point: 'radio' | 'converter', kneeVolts: number): Job['records'][number] {
  const tone = { frequencyHz: 997, levelDbfs: -5 };
  return {
    kind: 'source',
    id,
    at: '2026-03-14T10:00:00.000Z',
    conditions: gainRecord('any').conditions,
    result: {
      point,
      side: 'left',
      volumeSteps: 40,
      tones: { middle: tone, bass: tone, treble: tone },
      steps: [],
      highestCleanStep: 30,
      cleanToTop: false,
      ceilingDbfs: -3,
      ceilingVolts: kneeVolts - 1,
      ceilingVoltsUncertainty: 0.1,
      kneeVolts,
      clippedTone: 'middle',
      bassCutFromStep: null,
      bassCutAtCeilingDb: null,
      limitsFromStep: null,
      grade: 'valid',
      doubts: [],
      findings: [],
    },
  };
}

describe('the source’s highest voltage', () => {
  it('is what is noted, or else the ceiling last recorded at the radio', () => {
    const job = hatchback();
    const records = [
      ceilingRecord('r1', 'radio', 12),
      ceilingRecord('r2', 'radio', 20),
      ceilingRecord('r3', 'converter', 2),
    ];
    const measured = { ...job, source: { ...job.source, highestVolts: null }, records };
    expect(pickupOf({ ...measured, records: [] }).highestVolts).toBeNull();
    expect(pickupOf(measured).highestVolts).toBe(20);
    expect(chainWarnings(measured).map(({ kind }) => kind)).toContain('converter-input-exceeded');
    expect(pickupOf({ ...measured, source: job.source }).highestVolts).toBe(8.5);
  });
});

describe('the amplifiers of a job', () => {
  it('count a bridged channel twice, and warn where more are used than there are', () => {
    const job = hatchback();
    expect([outputsUsed(job, 'four-channel'), outputsFree(job, 'four-channel')]).toEqual([4, 0]);
    expect(chainWarnings(job).filter(({ at }) => at === 'amplifier')).toEqual([]);
    job.channels[0]!.bridged = true;
    expect(outputsFree(job, 'four-channel')).toBe(-1);
    expect(chainWarnings(job).filter(({ at }) => at === 'amplifier')).toMatchObject([
      { kind: 'more-channels-than-outputs', amplifierId: 'four-channel', grave: true },
    ]);
  });

  it('take over what the pickup is warned of', () => {
    const job = hatchback();
    const bare = { ...job, source: { ...job.source, loadResistors: null } };
    expect(chainWarnings(bare).map(({ kind }) => kind)).toContain('load-resistors-missing');
  });
});
