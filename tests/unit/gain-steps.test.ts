import { describe, expect, it } from 'vitest';
import type { Clipping, LiveReading } from '../../src/dsp/reading.ts';
import type { GainReading } from '../../src/procedure/gain/gain.ts';
import { gainStart, gainStep } from '../../src/procedure/gain/gain-steps.ts';
import { gainReading } from '../../src/procedure/gain/reading.ts';
import { FRONT_LEFT, RIG, reading } from './gain-turn.ts';
import { seededUniform } from './seeded-random.ts';

const CLEAN: Clipping = {
  verdict: 'clean',
  side: null,
  overdriveDb: null,
  kneeDbfs: null,
  shape: null,
  compressionDb: null,
  uncertainty: null,
  evidence: [],
};

function live(levelDbfs: number): LiveReading {
  return {
    endFrame: 96_000,
    windowFrames: 9600,
    sampleRateHz: 48_000,
    grade: 'valid',
    doubts: [],
    motion: 'steady',
    channelIdentity: 'mono',
    channels: [
      {
        levelDbfs,
        samplePeakDbfs: levelDbfs,
        truePeakDbtp: levelDbfs,
        crestFactorDb: 3.01,
        dcFullScale: 0,
        tone: {
          frequencyHz: 997,
          levelDbfs,
          phaseRadians: 0,
          thdPercent: 0.02,
          thdPlusNoisePercent: 0.03,
          sinadDb: 70,
          noiseDbfs: -80,
          harmonicsDbc: [],
          uncertainty: {
            levelDb: 0.003,
            frequencyHz: 0.001,
            thdPercent: 0,
            thdPlusNoisePercent: 0,
            sinadDb: 0,
            noiseDb: 0,
            harmonicsDb: [],
          },
        },
        clipping: CLEAN,
      },
    ],
  };
}

describe('a live reading as the station needs it', () => {
  it('has volts by the calibration, and both uncertainties joined in quadrature (JCGM 100, 5.1.2)', () => {
    const made = gainReading(live(-6), 0, { voltsPerFs: 35, uncertaintyDb: 0.004 });
    expect(made.volts).toBeCloseTo(35 * 10 ** (-6 / 20), 9);
    // 0.003 and 0.004 dB make 0.005 dB, which is 0.0576 % of the volts.
    expect((made.voltsUncertainty ?? 0) / (made.volts ?? 1)).toBeCloseTo(0.005 * 0.115129, 7);
    expect(made).toMatchObject({ seconds: 2, levelDbfs: -6, frequencyHz: 997, thdPercent: 0.02 });
  });

  it('has no volts without a calibration, and none for silence or a level that is no number', () => {
    expect(gainReading(live(-6), 0, null)).toMatchObject({
      volts: null,
      voltsUncertainty: null,
      levelDbfs: -6,
    });
    const silent = live(-6);
    silent.channels[0]!.tone = null;
    for (const one of [silent, live(Number.NaN)]) {
      expect(gainReading(one, 0, { voltsPerFs: 35, uncertaintyDb: 0 })).toMatchObject({
        volts: null,
        levelDbfs: null,
        frequencyHz: null,
        thdPercent: null,
      });
    }
  });

  it('refuses a channel that the input does not have', () => {
    expect(() => gainReading(live(-6), 1, null)).toThrow(/channel 2 .* has 1/);
  });
});

describe('what the hands are told, and whether it may be accepted', () => {
  const inside = reading(RIG, -0.525, 1, seededUniform(1));
  const cases: [string, Partial<GainReading>, RegExp, RegExp, string][] = [
    [
      'an overloaded input',
      { clipping: { ...CLEAN, verdict: 'input-overload' } },
      /^The input itself is overloaded, not the amplifier/,
      /overloaded/,
      'input-overload',
    ],
    [
      'no tone',
      { levelDbfs: null, frequencyHz: null, volts: null, thdPercent: null },
      /^No tone is heard.*997 Hz/,
      /No steady 997 Hz tone/,
      'no-reading',
    ],
    [
      'another tone',
      { frequencyHz: 1003 },
      /1003\.0 Hz, is not the asked one/,
      /set with 997 Hz/,
      'no-reading',
    ],
    ['lost sound', { grade: 'invalid', doubts: ['gap'] }, /^Wait.*was lost/, /was lost/, 'no-reading'],
    [
      'no calibration',
      { volts: null, voltsUncertainty: null },
      /^Calibrate the input/,
      /not calibrated/,
      'no-reading',
    ],
  ];
  it.each(cases)('%s', (_, change, instruction, why, zone) => {
    const state = gainStep(gainStart(FRONT_LEFT), { type: 'reading', reading: { ...inside, ...change } });
    expect(state.instruction).toMatch(instruction);
    expect(state.acceptance.can).toBe(false);
    expect(state.acceptance.why).toMatch(why);
    expect(state.aim.zone).toBe(zone);
  });

  it('a clock that is 1000 ppm off is still the asked tone', () => {
    const state = gainStep(gainStart(FRONT_LEFT), {
      type: 'reading',
      reading: { ...inside, frequencyHz: 997 * 1.001 },
    });
    expect(state.acceptance.can).toBe(true);
  });

  it('a suspect input may be accepted, with its reason as the second thought', () => {
    const state = gainStep(gainStart(FRONT_LEFT), {
      type: 'reading',
      reading: { ...inside, grade: 'suspect', doubts: ['processing-unknown'] },
    });
    expect(state.acceptance).toMatchObject({ can: true, needsSecondThought: true });
    expect(state.acceptance.why).toMatch(/does not say whether/);
  });

  it('before anything is heard it says what to connect, and leaves the state it was given alone', () => {
    const start = gainStart(FRONT_LEFT);
    expect(start.instruction).toMatch(/^Play the 997 Hz tone at -5 dBFS/);
    expect(start.acceptance).toMatchObject({ can: false, why: 'Nothing has been read yet.' });
    const copy = structuredClone(start);
    gainStep(start, { type: 'reading', reading: inside });
    expect(start).toEqual(copy);
  });

  it('refuses a task without a positive aim', () => {
    expect(() => gainStart({ ...FRONT_LEFT, aimVolts: 0 })).toThrow(/aimVolts of channel front-left is 0/);
  });
});
