import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { jobDocument } from '../../src/job/document.ts';
import { DEMO_CONTROLS, DEMO_RIG, DEMO_TONE } from '../../src/rig/demo-rig.ts';
import type { RigSineTone } from '../../src/rig/rig.ts';
import { gainSetting } from '../../src/rig/settings.ts';
import { type RigTruth, rigTruth } from '../../src/rig/truth.ts';

const job = jobDocument.parse(
  JSON.parse(readFileSync(new URL('../../shared/examples/hatchback.job.json', import.meta.url), 'utf8')),
);

/**
 * Worked by hand, V = sqrt(P R): doors 75 W (fronts) and 60 W (rears, whose
 * drivers are the weaker) into 4 ohm; subwoofer 400 W into 2 ohm.
 */
const TARGET_VOLTS: Record<string, number> = {
  'front-left': 17.3205,
  'front-right': 17.3205,
  'rear-left': 15.4919,
  'rear-right': 15.4919,
  subwoofer: 28.2843,
};

const settingTone = (channel: (typeof job.channels)[number]): RigSineTone => ({
  kind: 'sine',
  frequencyHz: channel.tone.frequencyHz,
  levelDbfs: channel.tone.levelDbfs,
  channels: 'both',
});

test('the rig has the channels of the demo job, fed as the job says', () => {
  const feeds = (channels: { id: string; fedBy: string }[]) =>
    channels.map(({ id, fedBy }) => ({ id, fedBy }));
  expect(feeds(DEMO_RIG.channels)).toEqual(feeds(job.channels));
  expect(DEMO_RIG.radio.volumeSteps).toBe(job.source.volumeSteps);
  expect(DEMO_RIG.ratedSupplyVolts).toBe(job.amplifiers[0]!.ratedSupplyVolts);
  expect(Object.keys(DEMO_CONTROLS.gains)).toEqual(job.channels.map((channel) => channel.id));
});

test.each(job.channels)(
  '$id: its target lies inside the control, its knee 0.3 to 1.5 dB above',
  (channel) => {
    const rigChannel = DEMO_RIG.channels.find((candidate) => candidate.id === channel.id)!;
    const at = (setting: number): RigTruth =>
      rigTruth(
        DEMO_RIG,
        { ...DEMO_CONTROLS, probe: channel.id, gains: { [channel.id]: setting } },
        settingTone(channel),
      );
    const target = TARGET_VOLTS[channel.id]!;
    const gainDb = rigChannel.lowestGainDb + 20 * Math.log10(target / at(0).unlimitedVolts);
    const setting = gainSetting(rigChannel, gainDb);
    // Room to be too low and too high.
    expect(setting).toBeGreaterThan(0.3);
    expect(setting).toBeLessThan(0.8);
    const right = at(setting);
    expect(right.outputVolts).toBeCloseTo(target, 3);
    expect(right.firstToClip).toBeNull();
    expect(-right.overdriveDb!).toBeGreaterThan(0.3);
    expect(-right.overdriveDb!).toBeLessThan(1.5);
    // Fully up, the amplifier is the one that clips, and the simulated input still holds it.
    expect(
      at(1)
        .stages.filter((stage) => stage.clips)
        .map((stage) => stage.stage),
    ).toEqual(['amplifier']);
  },
);

test('as the installer finds it, nothing clips; the doors tone clips the radio from step 34, full scale from 31', () => {
  const firstClipped = (tone: RigSineTone) =>
    Array.from({ length: 41 }, (_, step) => step).find(
      (volumeStep) => rigTruth(DEMO_RIG, { ...DEMO_CONTROLS, volumeStep }, tone).firstToClip === 'radio',
    );
  expect(rigTruth(DEMO_RIG, DEMO_CONTROLS, DEMO_TONE).firstToClip).toBeNull();
  expect(firstClipped(DEMO_TONE)).toBe(34);
  expect(firstClipped({ ...DEMO_TONE, levelDbfs: 0 })).toBe(31);
});
