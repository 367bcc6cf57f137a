import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Job } from '../../src/job/document.ts';
import { readJob } from '../../src/job/read-job.ts';
import { JobRefused } from '../../src/job/refused.ts';
import { supplyTask, toneWatts } from '../../src/job/supply-task.ts';
import { amplifierOutputWatts, planJobPowerWiring, planJobSpeakerRun } from '../../src/job/wiring-plan.ts';
import { typedFigure } from '../../src/ui/stations/quiet/supply/typed-figure.ts';

const DEMO = readJob(
  readFileSync(new URL('../../shared/examples/hatchback.job.json', import.meta.url), 'utf8'),
);
const [DOORS, MONO] = DEMO.amplifiers;

describe("an amplifier's power", () => {
  it('is that of its channels at their wired loads, whatever the drivers take', () => {
    // The rear doors' drivers take 60 W; the amplifier still gives 75 W.
    expect(amplifierOutputWatts(DEMO, DOORS!)).toBeCloseTo(300, 6);
    expect(amplifierOutputWatts(DEMO, MONO!)).toBeCloseTo(400, 6);
  });

  it('is all channels at the highest rating where no channel uses it', () => {
    const unused: Job = { ...DEMO, channels: DEMO.channels.filter((one) => one.id === 'subwoofer') };
    expect(amplifierOutputWatts(unused, DOORS!)).toBe(4 * 110);
  });

  it('under the setting tone follows the sides that play: 75 + 75 + 60 + 60 W, left half of it', () => {
    expect(toneWatts(DEMO, 'four-channel', 'both')).toBeCloseTo(270, 6);
    expect(toneWatts(DEMO, 'four-channel', 'left')).toBeCloseTo(135, 6);
    expect(toneWatts(DEMO, 'mono', 'left')).toBe(0);
    expect(toneWatts(DEMO, 'mono', 'both')).toBeCloseTo(400, 6);
  });
});

it('judges an amplifier by its own wires, at the supply that was found', () => {
  expect(supplyTask(DEMO, 'four-channel')).toEqual({
    amplifierId: 'four-channel',
    positive: { metres: 5, areaMm2: 21.2, material: 'copper' },
    ground: { metres: 0.6, areaMm2: 21.2, material: 'copper' },
    stage: 'AB',
    ratedWatts: expect.closeTo(300, 6),
    supplyVolts: 14.4,
    groundVolts: 0.1,
  });
  const unknown: Job = {
    ...DEMO,
    supplyVolts: null,
    amplifiers: DEMO.amplifiers.map((one) => ({ ...one, wiring: null, class: null, ratedSupplyVolts: 13.8 })),
  };
  expect(supplyTask(unknown, 'mono')).toMatchObject({
    positive: null,
    ground: null,
    stage: null,
    supplyVolts: 13.8,
  });
});

it('refuses an amplifier that is not there, and wires that cannot be, by name', () => {
  expect(() => supplyTask(DEMO, 'nine')).toThrow(
    /no amplifier "nine"; its amplifiers are four-channel, mono/,
  );
  const wiring = { ...DOORS!.wiring!, positive: { ...DOORS!.wiring!.positive!, metres: 0 } };
  const bad: Job = { ...DEMO, amplifiers: [{ ...DOORS!, wiring }, MONO!] };
  expect(() => planJobPowerWiring(bad, 'four-channel')).toThrow(JobRefused);
  const run = { metres: 4, areaMm2: 0, material: 'copper' } as const;
  const thin: Job = { ...DEMO, channels: DEMO.channels.map((one) => ({ ...one, speakerRun: run })) };
  expect(() => planJobSpeakerRun(thin, 'subwoofer')).toThrow(/^Channel subwoofer: .*cross-section/);
});

it.each([
  ['0.034', 0.034, 0.001],
  ['13,52', 13.52, 0.01],
  ['-0.002 ', -0.002, 0.001],
  ['12', 12, 1],
])('reads %j as %f, to a digit of %f', (text, value, perDigit) => {
  expect(typedFigure(text)).toEqual({ value, perDigit: expect.closeTo(perDigit, 12) });
  expect(typedFigure(`${text} V`)).toBeNull();
});
