import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it, vi } from 'vitest';
import { planCommand } from '../../src/cli/plan-command.ts';
import { UsageError } from '../../src/cli/usage-error.ts';

const DEMO_JOB = new URL('../../shared/examples/hatchback.job.json', import.meta.url).pathname;

let folder: string;
let printed: string;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'kneepoint-plan-'));
});
afterAll(() => rm(folder, { recursive: true }));
beforeEach(() => {
  printed = '';
  vi.spyOn(process.stdout, 'write').mockImplementation((text) => {
    printed += String(text);
    return true;
  });
});
afterEach(() => vi.restoreAllMocks());

async function json(...args: string[]) {
  const status = await planCommand.run([...args, '--json']);
  return { status, document: JSON.parse(printed) };
}

/** The sentence a bad call ends in; fails where the call was accepted or anything was printed. */
async function complaint(...args: string[]): Promise<string> {
  const error = await planCommand.run(args).then(
    () => null,
    (fault: unknown) => fault,
  );
  expect(error).toBeInstanceOf(UsageError);
  expect(printed).toBe('');
  const { message } = error as UsageError;
  expect(message).not.toContain('\n');
  return message;
}

type DemoJob = Record<string, unknown> & {
  source: { loadResistors: unknown; highestVolts: number | null };
  amplifiers: { wiring: Record<string, unknown> | null }[];
  channels: { drivers: Record<string, unknown>; speakerRun: unknown }[];
};

async function demoJobWith(change: (job: DemoJob) => void): Promise<string> {
  const job = JSON.parse(await readFile(DEMO_JOB, 'utf8')) as DemoJob;
  change(job);
  const path = join(folder, `job-${Math.random()}.json`);
  await writeFile(path, JSON.stringify(job));
  return path;
}

describe('plan --watts --ohms', () => {
  it("prints the contract's document to the digit", async () => {
    expect(await json('--watts', '75', '--ohms', '4')).toEqual({
      status: 0,
      document: {
        targetVolts: 17.3205,
        targetPeakVolts: 24.4949,
        targetDbv: 24.771,
        overlapDb: 0,
        toneDbfs: 0,
        toneVolts: 17.3205,
      },
    });
  });

  it('reads overlap and tone: sqrt(300) * 10^((5 - 25) / 20) = 1.7321 V, written -25 or 25', async () => {
    for (const tone of ['-25', '25']) {
      printed = '';
      const { document } = await json('--watts', '75', '--ohms', '4', '--overlap', '5', '--tone', tone);
      expect(document).toMatchObject({ overlapDb: 5, toneDbfs: -25, toneVolts: 1.7321 });
    }
  });

  it('takes decimals as written and fractions exactly (references, item 1)', async () => {
    expect((await json('--watts', '100', '--ohms', '1.33')).document.targetVolts).toBe(11.5326);
    printed = '';
    expect((await json('--watts', '100', '--ohms', '4/3')).document.targetVolts).toBe(11.547);
  });

  it('prints a table for people', async () => {
    expect(await planCommand.run(['--watts', '75', '--ohms', '4'])).toBe(0);
    expect(printed).toMatch(/target V +peak V +dBV/);
    expect(printed).toMatch(/^ *17\.321 +24\.495 +24\.77/m);
    expect(printed).toMatch(/Caution: .*disconnect drivers/);
  });

  it.each([
    [['--watts', '-5', '--ohms', '4'], /--watts -5: .*watts.* above 0/],
    [['--watts', '75', '--ohms', '0'], /--ohms 0: .*ohms.* above 0/],
    [['--watts', 'NaN', '--ohms', '4'], /--watts NaN/],
    [['--watts', 'Infinity', '--ohms', '4'], /--watts Infinity/],
    [['--watts', '', '--ohms', '4'], /--watts/],
    [['--watts', '75', '--ohms', '4/0'], /--ohms 4\/0/],
    [['--watts', '75'], /--ohms is missing/],
    [[], /--watts is missing/],
    [['--watts', '75', '--ohms', '4', '--overlap', '-1'], /--overlap -1: .*0 to 60/],
    [['--watts', '75', '--ohms', '4', '--tone', 'loud'], /--tone loud/],
    [['--watts', '75', '--ohms', '4', '--volume', '11'], /--volume/],
  ])('refuses %j in one sentence', async (args, sentence) => {
    expect(await complaint(...args)).toMatch(sentence);
  });
});

describe('plan JOB.json', () => {
  it('gives every target of the demo job, worked by hand', async () => {
    const { status, document } = await json(DEMO_JOB);
    expect(status).toBe(0);
    expect(document.pass).toBe(true);
    const targets = document.channels.map((channel: Record<string, unknown>) => [
      channel.id,
      channel.loadOhms,
      channel.cleanWatts,
      channel.limitedBy,
      channel.targetVolts,
    ]);
    // sqrt(75 * 4), sqrt(60 * 4), and the subwoofer's two 4 ohm coils in parallel: sqrt(400 * 2).
    expect(targets).toEqual([
      ['front-left', 4, 75, 'amplifier', 17.3205],
      ['front-right', 4, 75, 'amplifier', 17.3205],
      ['rear-left', 4, 60, 'drivers', 15.4919],
      ['rear-right', 4, 60, 'drivers', 15.4919],
      ['subwoofer', 2, 400, 'amplifier', 28.2843],
    ]);
    expect(document.channels[2].warnings[0].kind).toBe('drivers-rated-below-amplifier');
  });

  it('prints a table, and each warning with its channel', async () => {
    expect(await planCommand.run([DEMO_JOB])).toBe(0);
    expect(printed).toMatch(/^Front left door +4\.00 +75 +80 +amplifier +17\.32/m);
    expect(printed).toMatch(/^- Rear left door: The drivers take 60 W/m);
  });

  it('gives the wiring: 300 W of class AB draw 34.72 A, which drop 0.158 V in 5.6 m of 4 AWG', async () => {
    const { document } = await json(DEMO_JOB);
    expect(document.amplifiers[0]).toMatchObject({
      id: 'four-channel',
      class: 'AB',
      outputWatts: 300,
      fullSineAmperes: 34.72,
      advisedAwg: '8 AWG',
      advisedMm2: 10,
      fuseAmperes: 80,
      wireFuseAmperes: 100,
      warnings: [],
    });
    // 1/58 * 5.6 m / 21.2 mm² * 34.72 A.
    expect(Math.abs(document.amplifiers[0].dropVolts - 0.1581)).toBeLessThan(2e-4);
    // 8 m of 1.5 mm² before 4 ohm: 91.95 mΩ, 20 lg(4.09195 / 4).
    expect(document.channels[0].speakerRun).toMatchObject({ ohms: 0.09195, lossDb: 0.197 });
    printed = '';
    await planCommand.run([DEMO_JOB]);
    expect(printed).toMatch(
      /^Four-channel amplifier +AB +300 +34\.7 +12\.3 +0\.141 +0\.017 +0\.50 +8 AWG or 10 mm²/m,
    );
    expect(printed).toMatch(/Caution: .*fuse the supply close to the battery/);
  });

  it('warns of a fuse that does not protect its wire, and knows nothing of wires not noted', async () => {
    const path = await demoJobWith((job) => {
      job.amplifiers[0]!.wiring!.fuseAmps = 150;
      job.amplifiers[1]!.wiring = null;
      job.channels[0]!.speakerRun = null;
    });
    const { status, document } = await json(path);
    expect(status).toBe(0);
    expect(document.amplifiers[0].warnings).toEqual([
      { kind: 'fuse-past-wire', sentence: expect.stringMatching(/150 A does not protect 4 AWG/) },
    ]);
    expect(document.amplifiers[1]).toMatchObject({ positive: null, dropVolts: null, fuseAmperes: null });
    expect(document.channels[0].speakerRun).toBeNull();
    printed = '';
    await planCommand.run([path]);
    expect(printed).toMatch(/^- Four-channel amplifier: The fuse of 150 A does not protect/m);
  });

  it('says which inputs must carry a summed tone, and what one of them alone reads', async () => {
    const { document } = await json(DEMO_JOB);
    expect(document.channels[4].summed).toEqual({
      inputs: 2,
      reachesAll: true,
      // 20 lg(1/2), and half of sqrt(800) V.
      partial: [{ carrying: 1, lossDb: -6.021, toneVolts: 14.1421 }],
    });
    expect(document.channels[0].summed).toBeNull();
    printed = '';
    await planCommand.run([DEMO_JOB]);
    expect(printed).toMatch(
      /^- Subwoofer is fed from a sum: the left and the right input must carry the tone; on one alone 14\.14 V, 6\.02 dB low\.$/m,
    );
  });

  it('warns of the chain: load resistors that are missing, a converter that the radio overdrives', async () => {
    const path = await demoJobWith((job) => {
      job.source.loadResistors = null;
      job.source.highestVolts = 20;
    });
    const { document } = await json(path);
    expect(document.warnings.map(({ kind, at }: Record<string, string>) => [kind, at])).toEqual(
      expect.arrayContaining([
        ['load-resistors-missing', 'source'],
        ['converter-input-exceeded', 'converter'],
      ]),
    );
    printed = '';
    await planCommand.run([path]);
    expect(printed).toMatch(/^- The source gives up to 20 V and the converter takes 16 V/m);
  });

  it('ends in 1 where a load is under the minimum, and gives null for that target alone', async () => {
    const path = await demoJobWith(({ channels }) => {
      channels[0]!.drivers.coilOhms = 1;
    });
    const { status, document } = await json(path);
    expect(status).toBe(1);
    expect(document.pass).toBe(false);
    expect(document.channels[0]).toMatchObject({ amplifierWatts: null, targetVolts: null, toneVolts: null });
    expect(document.channels[0].warnings[0].kind).toBe('load-under-minimum');
    expect(document.channels[1].targetVolts).toBe(17.3205);
  });

  it('refuses a newer version, saying so', async () => {
    const path = await demoJobWith((job) => {
      job.version = 99;
    });
    expect(await complaint(path)).toMatch(/newer/);
  });

  it('refuses wiring that cannot be made, naming the channel', async () => {
    const path = await demoJobWith(({ channels }) => {
      channels[4]!.drivers.driverWiring = 'series-parallel';
    });
    expect(await complaint(path)).toMatch(/subwoofer.*exactly 4 drivers/);
  });

  it('refuses an invalid figure, saying where', async () => {
    const path = await demoJobWith(({ channels }) => {
      channels[1]!.drivers.coilOhms = 0;
    });
    expect(await complaint(path)).toMatch(/channels\[1\]\.drivers\.coilOhms/);
  });

  it('refuses what is no file, no JSON, or one too many', async () => {
    const notJson = join(folder, 'not.json');
    await writeFile(notJson, 'volts');
    expect(await complaint(join(folder, 'missing.json'))).toMatch(/no such file/);
    expect(await complaint(folder)).toMatch(/folder/);
    expect(await complaint(notJson)).toMatch(/not JSON/);
    expect(await complaint(DEMO_JOB, DEMO_JOB)).toMatch(/one job file/);
    expect(await complaint(DEMO_JOB, '--watts', '75')).toMatch(/--watts does not go with a job file/);
  });
});

it('documents its exit status and every column in --help', async () => {
  await planCommand.run([DEMO_JOB]);
  const headers = printed.split('\n').filter((line) => /^(channel|amplifier|speaker wire) /.test(line));
  expect(headers).toHaveLength(3);
  const columns = headers.flatMap((header) => header.trim().split(/ {2,}/).slice(1));
  for (const column of columns) expect(planCommand.help).toContain(column);
  expect(planCommand.help).toMatch(/Exit status: 0 .* 1 .*2 /s);
});
