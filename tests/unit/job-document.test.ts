import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { channelChain } from '../../src/job/channel-chain.ts';
import { JOB_VERSION, type Job } from '../../src/job/document.ts';
import { gainTask, planJob } from '../../src/job/job-plan.ts';
import { jsonFault } from '../../src/job/json-fault.ts';
import { MIGRATIONS, type Migration, migrate } from '../../src/job/migrations.ts';
import { JOB_PRESETS, newJob } from '../../src/job/new-job.ts';
import { parseJob, readJob } from '../../src/job/read-job.ts';
import type { RecordOf } from '../../src/job/records.ts';
import { JobRefused } from '../../src/job/refused.ts';
import { DEFAULT_TOLERANCES } from '../../src/job/tolerances.ts';
import { writeJob } from '../../src/job/write-job.ts';
import type { GainResult } from '../../src/procedure/gain/gain.ts';
import { gainRecord } from './job-records.ts';

const HATCHBACK = readFileSync(new URL('../../shared/examples/hatchback.job.json', import.meta.url), 'utf8');
const hatchback = () => readJob(HATCHBACK);

function refusal(change: (job: Record<string, never>) => void): string {
  const raw = JSON.parse(HATCHBACK);
  change(raw);
  try {
    readJob(JSON.stringify(raw));
  } catch (fault) {
    if (fault instanceof JobRefused) return fault.message;
    throw fault;
  }
  throw new Error('the job was read');
}

// biome-ignore lint/suspicious/noExplicitAny: each case bends the raw document where it likes
type Raw = any;

describe('the demo job', () => {
  it('plans to hand-worked volts: sqrt(75*4), sqrt(60*4) and sqrt(400*2), each tone reading its target', () => {
    const volts = planJob(hatchback()).map(({ channelId, plan }) => [
      channelId,
      plan.targetVolts?.toFixed(3),
      plan.toneVolts?.toFixed(3),
      plan.limitedBy,
    ]);
    expect(volts).toEqual([
      ['front-left', '17.321', '17.321', 'amplifier'],
      ['front-right', '17.321', '17.321', 'amplifier'],
      ['rear-left', '15.492', '15.492', 'drivers'],
      ['rear-right', '15.492', '15.492', 'drivers'],
      ['subwoofer', '28.284', '28.284', 'amplifier'],
    ]);
  });

  it('holds no records, and comes back from writing as it was', () => {
    expect(hatchback().records).toEqual([]);
    expect(JSON.parse(writeJob(hatchback()))).toEqual(JSON.parse(HATCHBACK));
  });
});

describe('reading a job', () => {
  it.each<[string, (raw: Raw) => void, RegExp]>([
    [
      'a negative impedance',
      (r) => {
        r.channels[2].drivers.coilOhms = -4;
      },
      /channels\[2\]\.drivers\.coilOhms is -4; it must be above 0/,
    ],
    [
      'a text for a number',
      (r) => {
        r.channels[0].overlapDb = '5';
      },
      /channels\[0\]\.overlapDb is "5"; it must be a number/,
    ],
    [
      'something missing',
      (r) => {
        delete r.amplifiers[0].name;
      },
      /amplifiers\[0\]\.name is missing; it must be a text/,
    ],
    [
      'an unknown key',
      (r) => {
        r.channels[0].overlapDB = 5;
      },
      /channels\[0\] is an object; it must not have "overlapDB"/,
    ],
    [
      'an unknown word',
      (r) => {
        r.channels[0].fedBy = 'middle';
      },
      /fedBy is "middle"; it must be one of "left", "right", "both"/,
    ],
    [
      'two channels of one id',
      (r) => {
        r.channels[1].id = 'front-left';
      },
      /channels\[1\]\.id is "front-left"; it must differ from the id of channels\[0\]/,
    ],
    [
      'an amplifier nobody has',
      (r) => {
        r.channels[1].amplifierId = 'fifth';
      },
      /amplifierId is "fifth"; it must be the id of an amplifier of this job \(four-channel, mono\)/,
    ],
    [
      'a malformed id',
      (r) => {
        r.channels[0].id = 'Front Left';
      },
      /channels\[0\]\.id is "Front Left"; it must be small letters/,
    ],
    [
      'a local time',
      (r) => {
        r.createdAt = '14.3.2026';
      },
      /createdAt is "14\.3\.2026"; it must be a time such as/,
    ],
    [
      'a coil count of 3',
      (r) => {
        r.channels[0].drivers.coilsEach = 3;
      },
      /coilsEach is 3; it must be 1|coilsEach is 3; it must be 2/,
    ],
    [
      'two faults',
      (r) => {
        r.title = '';
        r.channels[0].toleranceDb = 0;
      },
      /\(and 1 more fault\)/,
    ],
    [
      'a newer version',
      (r) => {
        r.version = 3;
      },
      /^This job is of version 3, made by a newer Kneepoint; this one reads up to version 2/,
    ],
    [
      'an unknown older version',
      (r) => {
        r.version = 0;
      },
      /version 0, which cannot be read/,
    ],
    [
      'no version',
      (r) => {
        delete r.version;
      },
      /version is missing; it must be a whole number/,
    ],
    [
      'another format',
      (r) => {
        r.format = 'kneepoint-tone-set';
      },
      /is of format "kneepoint-tone-set"; a job says "format": "kneepoint-job"/,
    ],
  ])('refuses %s in one sentence that says where and what would be right', (_, change, sentence) => {
    const message = refusal(change);
    expect(message).toMatch(sentence);
    expect(message).toMatch(/^[^\n]+\.$/);
  });

  it.each([
    ['{"format": "kneepoint-job",\n  "version": }', 2, 14],
    ['{"a": [1, 2', 1, 12],
    ['', 1, 1],
    ['{"a": 1}\n\nx', 3, 1],
    ['{"a": "\\q"}', 1, 8],
    ["{'a': 1}", 1, 2],
    ['[1, 2,]', 1, 7],
  ])('says where %j stops being JSON', (text, line, column) => {
    expect(() => readJob(text)).toThrow(`line ${line}, column ${column};`);
    expect(jsonFault(text)).toEqual({ line, column });
  });

  it('finds no fault in what is JSON, however deep, and passes a byte-order mark', () => {
    expect(jsonFault(HATCHBACK)).toBeNull();
    expect(jsonFault(`${'['.repeat(100_000)}${']'.repeat(100_000)}`)).toBeNull();
    expect(jsonFault(' {"a":[{},[],-1.5e+3,"\\u00e9\\n",true,null]} ')).toBeNull();
    expect(readJob(`\uFEFF${HATCHBACK}`).id).toBe('hatchback');
  });
});

describe('migrations', () => {
  /** An invented older format, to see the machine at work: version 0 called the title a name. */
  const fromZero: Migration = {
    from: 0,
    why: 'title was called name',
    migrate: ({ name, ...rest }) => ({ ...rest, title: name }),
  };

  it('lift an older document step by step, and every step on the way runs', () => {
    const { title, ...rest } = JSON.parse(HATCHBACK);
    const old = { ...rest, version: 0, name: title };
    expect(migrate(old, 0, 1, [fromZero])).toMatchObject({ steps: [0], document: { title, version: 1 } });
    expect(parseJob(old, [fromZero, ...MIGRATIONS])).toEqual(hatchback());
    expect(old.name).toBe(title);
  });

  it('lead from every released version to the present one, without a gap and without a spare', () => {
    const wanted = Array.from({ length: JOB_VERSION - 1 }, (_, index) => index + 1);
    expect(MIGRATIONS.map((step) => step.from)).toEqual(wanted);
  });

  it('lift a job of version 1: what is new is unknown, what is there stays', () => {
    const { tolerances: _, ...old } = JSON.parse(HATCHBACK);
    old.version = 1;
    delete old.source.loadResistors;
    delete old.source.highestVolts;
    delete old.converter.ratioDb;
    delete old.converter.turnOn;
    for (const amplifier of old.amplifiers) {
      delete amplifier.class;
      delete amplifier.wiring;
    }
    for (const channel of old.channels) {
      delete channel.speakerRun;
      if (channel.id !== 'subwoofer') delete channel.slopes;
    }
    const { overlapDb: _o, bursts: _b, clippingStage: _c, ...oldResult } = gainRecord('kept').result;
    old.records = [{ ...gainRecord('kept'), result: oldResult }];
    const job = readJob(JSON.stringify(old));
    expect(job.records[0]?.result).toEqual({
      ...oldResult,
      overlapDb: null,
      bursts: null,
      clippingStage: null,
    });
    expect(job.version).toBe(JOB_VERSION);
    expect(job.source.loadResistors).toBeNull();
    expect(job.source.highestVolts).toBeNull();
    expect(job.converter).toMatchObject({ ratioDb: null, turnOn: 'unknown', highestInputVolts: 16 });
    expect(job.amplifiers.map((one) => [one.class, one.wiring])).toEqual([
      [null, null],
      [null, null],
    ]);
    expect(job.channels[0]).toMatchObject({ slopes: { highPass: null, lowPass: null }, speakerRun: null });
    expect(job.channels[4]?.slopes).toEqual(hatchback().channels[4]?.slopes);
    expect(job.tolerances).toEqual(DEFAULT_TOLERANCES);
    expect(job.records.map((record) => record.id)).toEqual(['kept']);
  });

  it('stop at a gap instead of guessing', () => {
    expect(() => migrate({}, 0, 2, [fromZero])).toThrow('no step leads on from version 1');
  });
});

describe('writing a job', () => {
  it('gives the same bytes whatever the order of keys, and again after reading', () => {
    const job = hatchback();
    const turned = Object.fromEntries(Object.entries(job).reverse()) as Job;
    expect(Object.keys(turned)[0]).not.toBe(Object.keys(job)[0]);
    expect(writeJob(turned)).toBe(writeJob(job));
    expect(writeJob(readJob(writeJob(job)))).toBe(writeJob(job));
    expect(writeJob(job).endsWith('}\n')).toBe(true);
  });

  it('refuses NaN, which JSON would turn into null unnoticed', () => {
    expect(() => writeJob({ ...hatchback(), supplyVolts: Number.NaN })).toThrow(/supplyVolts is/);
  });
});

describe('records', () => {
  it('take what the Gain station gives, field for field', () => {
    // Fails to compile where the procedure's result no longer fits the document.
    const fits = (result: GainResult): RecordOf<'gain'>['result'] => result;
    expect(fits(gainRecord('a').result as GainResult).channelId).toBe('front-left');
  });
});

describe('from job to plan and station', () => {
  it('gathers the chain: a tone on both sides reaches both summed inputs, on one side one', () => {
    const job = hatchback();
    expect(channelChain(job, 'subwoofer')).toMatchObject({
      summedInputs: 2,
      inputsWithTone: 2,
      supplyVolts: 14.4,
    });
    job.channels[4]!.fedBy = 'left';
    expect(channelChain(job, 'subwoofer').inputsWithTone).toBe(1);
    expect(gainTask(job, 'subwoofer', 'wire').aimVolts).toBeCloseTo(28.2843 / 2, 3);
    expect(() => channelChain(job, 'centre')).toThrow(/no channel "centre"; its channels are front-left, /);
  });

  it('gives the task of a channel, or says why there is none', () => {
    expect(gainTask(hatchback(), 'front-left', 'meter')).toEqual({
      channelId: 'front-left',
      aimVolts: expect.closeTo(17.3205, 4),
      targetVolts: expect.closeTo(17.3205, 4),
      toneHz: 997,
      toneDbfs: -5,
      level: 'planned',
      plannedDbfs: -5,
      overlapDb: 5,
      summedInputs: 1,
      inputsWithTone: 1,
      toleranceDb: 0.5,
      way: 'meter',
    });
    const job = hatchback();
    job.amplifiers[0]!.perChannel.minimumLoadOhms = 8;
    expect(() => gainTask(job, 'front-left', 'wire')).toThrow(/front-left has no target voltage: .*4/);
    job.channels[0]!.drivers.coilWiring = 'series';
    expect(() => planJob(job)).toThrow(/^Channel front-left: .*two coils/);
  });
});

describe('a new job', () => {
  it.each(JOB_PRESETS.map((one) => one.preset))(
    'from %s is valid and every channel of it has a target',
    (preset) => {
      const job = newJob({ preset, id: 'new', at: '2026-03-14T09:00:00.000Z' });
      expect(readJob(writeJob(job))).toEqual(job);
      for (const { plan } of planJob(job)) expect(plan.toneVolts).toBeGreaterThan(0);
    },
  );
});
