import { describe, expect, test } from 'vitest';
import { nameClippingStage, type StageReading, whoseClipping } from '../../src/dsp/knee/whose-clipping.ts';
import { WindowAnalyser } from '../../src/dsp/measure/window-analyser.ts';
import { AUDIO_BAND } from '../../src/dsp/reading.ts';
import { DEMO_CONTROLS, DEMO_RIG, DEMO_TONE } from '../../src/rig/demo-rig.ts';
import { PracticeRig } from '../../src/rig/practice-rig.ts';
import type { RigConfig } from '../../src/rig/rig.ts';
import { limited } from './gain-turn.ts';
import { seededUniform } from './seeded-random.ts';

const FRAMES = 8192;
const analyser = new WindowAnalyser({ frames: FRAMES, sampleRateHz: DEMO_RIG.sampleRateHz });

/** Gains of the three stages, dB; each acts ahead of its own stage's ceiling. */
interface Gains {
  radioDb: number;
  converterDb: number;
  amplifierDb: number;
}
type Stage = 'radio' | 'converter' | 'amplifier';
/** Peak volts behind each stage's ceiling, and full scale of the input. */
type Ceilings = Record<Stage | 'input', number>;

/** What the analyser reads behind the amplifier of such a chain. */
function readThrough(gains: Gains, ceilings: Ceilings, seed: number): StageReading {
  const door = DEMO_RIG.channels[0]!;
  const config: RigConfig = {
    ...DEMO_RIG,
    seed,
    radio: {
      ...DEMO_RIG.radio,
      fullScaleVolts: 10 ** (gains.radioDb / 20) / Math.SQRT2,
      volumeSteps: 40,
      ceilingPeakVolts: ceilings.radio,
    },
    converter: { ...DEMO_RIG.converter, gainDb: gains.converterDb, ceilingPeakVolts: ceilings.converter },
    channels: [
      {
        ...door,
        lowestGainDb: gains.amplifierDb,
        highestGainDb: gains.amplifierDb + 1,
        ceilingPeakVolts: ceilings.amplifier,
        outputOhms: 0,
      },
    ],
    input: { ...DEMO_RIG.input, voltsPerFs: ceilings.input / Math.SQRT2 },
  };
  const rig = new PracticeRig(config, { ...DEMO_CONTROLS, volumeStep: 40 }, { ...DEMO_TONE, levelDbfs: 0 });
  const settle = new Float32Array(4096);
  rig.fill([settle], settle.length);
  const samples = new Float32Array(FRAMES);
  rig.fill([samples], FRAMES);
  const { tone, clipping } = analyser.analyse(samples, {
    band: AUDIO_BAND,
    expectedHz: DEMO_TONE.frequencyHz,
  });
  const { verdict, kneeDbfs, shape = null } = clipping;
  return {
    levelDbfs: tone?.levelDbfs ?? Number.NaN,
    thdPercent: tone?.thdPercent ?? 0,
    verdict,
    shape,
    kneeDbfs,
  };
}

/** A chain in which only `clips` is driven past its ceiling, by `overdriveDb`; the others have 2 dB and more to spare. */
function chain(clips: Stage | 'input', overdriveDb: number, uniform: () => number) {
  const gains = {
    radioDb: 18 + 4 * uniform(),
    converterDb: -16 + 4 * uniform(),
    amplifierDb: 20 + 6 * uniform(),
  };
  const spare = () => 10 ** ((2 + 6 * uniform()) / 20);
  const cut = 10 ** (-overdriveDb / 20);
  const drive = {
    radio: 10 ** (gains.radioDb / 20),
    converter: 10 ** ((gains.radioDb + gains.converterDb) / 20),
    amplifier: 10 ** ((gains.radioDb + gains.converterDb + gains.amplifierDb) / 20),
    input: 10 ** ((gains.radioDb + gains.converterDb + gains.amplifierDb) / 20),
  };
  const ceilings = { radio: 0, converter: 0, amplifier: 0, input: 0 };
  for (const stage of ['radio', 'converter', 'amplifier', 'input'] as const) {
    ceilings[stage] = drive[stage] * (stage === clips ? cut : spare());
  }
  return { gains, ceilings };
}

describe('whose clipping it is, on the practice rig', () => {
  const stages = ['amplifier', 'converter', 'radio', 'input'] as const;
  test.each(stages)(
    '%s, in ten chains of random gains, ceilings and overdrives, each control turned down',
    (clips) => {
      const uniform = seededUniform(5 + clips.length);
      for (let run = 1; run <= 10; run++) {
        const overdriveDb = 0.3 + 3 * uniform();
        const { gains, ceilings } = chain(clips, overdriveDb, uniform);
        const turned = (['amplifier', 'converter', 'radio'] as const).map((stage) => {
          const readings = [0, 1.5 + uniform(), 4 + 2 * uniform()].map((downDb, at) =>
            readThrough({ ...gains, [`${stage}Db`]: gains[`${stage}Db`] - downDb }, ceilings, 10 * run + at),
          );
          return { stage, readings };
        });
        const named = nameClippingStage(turned);
        const what = `run ${run}, ${overdriveDb.toFixed(2)} dB: ${named.evidence.join(' ')}`;
        expect(named.stage, what).toBe(clips);
        expect(named.confidence, what).toBeGreaterThan(0.9);
      }
    },
  );
});

describe('from figures', () => {
  const at = (levelDbfs: number, thdPercent: number, change: Partial<StageReading> = {}): StageReading => ({
    levelDbfs,
    thdPercent,
    verdict: 'clipped',
    ...change,
  });

  test('a soft ceiling of this stage, even where its hard fit creeps up with the level', () => {
    const creeping = [-1, -0.3, 0.3, 0.8].map((level) =>
      at(level, 3 * 10 ** (0.1 * level), { shape: 'soft', kneeDbfs: -0.8 + 0.5 * level }),
    );
    expect(whoseClipping(creeping)).toMatchObject({ stage: 'this' });
  });

  test('the ideal limiter, at any overdrive', () => {
    for (const drives of [
      [0.1, 0.5],
      [1, 3],
      [3, 8],
      [6, 12],
    ]) {
      const readings = drives.map((drive) => {
        const { fundamentalDb, thdPercent } = limited(drive);
        return at(fundamentalDb, thdPercent, { kneeDbfs: 0 });
      });
      const spanDb = readings[1]!.levelDbfs - readings[0]!.levelDbfs;
      expect(whoseClipping(readings).stage).toBe(spanDb < 0.5 ? null : 'this');
    }
  });

  test('an earlier stage by THD alone needs some decibels, by the wave half of one', () => {
    expect(whoseClipping([at(-20, 4.6), at(-26, 4.7)])).toMatchObject({ stage: 'earlier' });
    expect(whoseClipping([at(-20, 4.6), at(-20.6, 4.6)]).stage).toBeNull();
    expect(whoseClipping([at(-20, 4.6, { kneeDbfs: -21 }), at(-20.6, 4.6, { kneeDbfs: -21.6 })]).stage).toBe(
      'earlier',
    );
  });

  test('nothing is said where nothing clips, the level stands, or distortion rises as the level falls', () => {
    expect(
      whoseClipping([at(-20, 0.01, { verdict: 'clean' }), at(-26, 0.01, { verdict: 'clean' })]).stage,
    ).toBeNull();
    expect(whoseClipping([at(-20, 4.6), at(-20.1, 4.6)]).stage).toBeNull();
    expect(whoseClipping([at(-20, 4.6), at(-26, 18)]).stage).toBeNull();
    expect(nameClippingStage([])).toMatchObject({ stage: null, confidence: 0 });
  });

  test('what no control moves comes from the source', () => {
    const readings = [at(-20, 4.6), at(-26, 4.6)];
    expect(
      nameClippingStage([
        { stage: 'amplifier', readings },
        { stage: 'radio', readings },
      ]).stage,
    ).toBe('source');
  });
});
