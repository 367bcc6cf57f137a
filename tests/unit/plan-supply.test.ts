import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { drawAmperes, drawRiseAmperes } from '../../src/plan/supply/draw.ts';
import { type DcMeter, judgeLeg, legOhms, stepVolts } from '../../src/plan/supply/leg.ts';
import { type PowerWiring, planPowerWiring } from '../../src/plan/supply/power-wiring.ts';
import { speakerRunCost } from '../../src/plan/supply/speaker-run.ts';
import { awgAreaMm2 } from '../../src/plan/wire/awg.ts';
import { runOhmsBounds, type WireRun } from '../../src/plan/wire/wire-run.ts';

const FOUR_GAUGE: WireRun = { metres: 5, areaMm2: awgAreaMm2(4), material: 'copper' };

describe('current from power', () => {
  it('is P / (efficiency U) at a full sine: 300 W of class AB at 14.4 V draw 34.7 A, of class D 24.5 A', () => {
    const output = { outputWatts: 300, ratedWatts: 300, supplyVolts: 14.4 };
    expect(drawAmperes({ ...output, stage: 'AB' }).amperes).toBeCloseTo(300 / 0.6 / 14.4, 10);
    expect(drawAmperes({ ...output, stage: 'D' }).amperes).toBeCloseTo(300 / 0.85 / 14.4, 10);
  });

  it('of class AB follows the voltage, sqrt(1/8) at music; of class D leaves 75 % there', () => {
    const music = { outputWatts: 300 / 8, ratedWatts: 300, supplyVolts: 14.4 };
    expect(drawAmperes({ ...music, stage: 'AB' }).amperes).toBeCloseTo(34.722 * Math.sqrt(1 / 8), 3);
    const drawn = drawAmperes({ ...music, stage: 'D' }).amperes * 14.4;
    // The fixed share is kept to two digits.
    expect(300 / 8 / drawn).toBeCloseTo(0.75, 2);
  });

  it('rises with the output, inside what the class spans, and never gives more than it takes', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.001, max: 1, noNaN: true }),
        fc.constantFrom('AB' as const, 'D' as const),
        (share, stage) => {
          const output = { outputWatts: 100 * share, ratedWatts: 100, supplyVolts: 12, stage };
          const { low, amperes, high } = drawAmperes(output);
          expect(low).toBeLessThan(amperes);
          expect(amperes).toBeLessThan(high);
          expect(low * 12).toBeGreaterThan(output.outputWatts);
          const louder = { ...output, outputWatts: output.outputWatts * 1.1 };
          expect(drawAmperes(louder).amperes).toBeGreaterThan(amperes);
          expect(drawRiseAmperes(output).amperes).toBeLessThanOrEqual(amperes);
        },
      ),
    );
  });
});

describe('speaker runs', () => {
  it('5 m of 18 AWG before 4 ohm: 0.2095 ohm out and back, 0.44 dB, damping factor under 19.1', () => {
    const cost = speakerRunCost({ metres: 5, areaMm2: awgAreaMm2(18), material: 'copper' }, 4);
    expect(cost.wireOhms).toBeCloseTo(0.2095, 4);
    expect(cost.lossDb).toBeCloseTo(20 * Math.log10(4.2095 / 4), 3);
    expect(cost.dampingFactorMost).toBeCloseTo(19.1, 1);
    expect(cost.lostShare).toBeCloseTo(0.0498, 4);
    expect(cost.warnings).toEqual([]);
  });

  it('warns of a long thin run into a low load', () => {
    const cost = speakerRunCost({ metres: 6, areaMm2: awgAreaMm2(18), material: 'copper-clad-aluminium' }, 2);
    // 12 m of 33.3 mΩ/m: 0.4 ohm before 2 ohm.
    expect(cost.warnings.join()).toMatch(/loses 1\.6 dB .* under 5:/);
  });
});

describe('power wiring', () => {
  const sound: PowerWiring = {
    outputWatts: 300,
    stage: 'AB',
    supplyVolts: 14.4,
    positive: FOUR_GAUGE,
    ground: { ...FOUR_GAUGE, metres: 0.6 },
    fuseAmps: 60,
    fuseMetresFromBattery: 0.3,
    allowedDropVolts: 0.5,
  };
  const kinds = (part: Partial<PowerWiring>) =>
    planPowerWiring({ ...sound, ...part }).warnings.map(({ kind }) => kind);

  it('gives current, drop, gauge and fuse of a sound one, and warns of nothing', () => {
    const plan = planPowerWiring(sound);
    expect(plan.warnings).toEqual([]);
    expect(plan.dropVolts).toBeCloseTo((34.722 * 5.6 * 0.81517) / 1000, 4);
    expect(plan.fuse).toEqual({ loadAmps: 40, wireAmps: 100 });
    // 1/58 * 5.6 m * 34.7 A / 0.5 V = 6.7 mm², thinner than a 40 A fuse allows: 8 AWG carries 61 A.
    expect([plan.advised.awg?.name, plan.advised.metric?.name]).toEqual(['8 AWG', '10 mm²']);
    expect(plan.musicAmperes).toBeCloseTo(12.28, 2);
  });

  it('advises by the fuse where a short way would allow a thinner wire', () => {
    const short = { ...FOUR_GAUGE, metres: 0.5 };
    // The drop alone would allow 1.2 mm²; 40 A of fuse need a wire that carries them.
    expect(planPowerWiring({ ...sound, positive: short, ground: short }).advised.awg?.name).toBe('10 AWG');
  });

  it('names each fault, what can burn first', () => {
    expect(kinds({ fuseAmps: 150 })).toEqual(['fuse-past-wire']);
    expect(kinds({ fuseAmps: null })).toEqual(['fuse-missing']);
    expect(kinds({ fuseMetresFromBattery: 1 })).toEqual(['fuse-far']);
    expect(kinds({ fuseAmps: 30 })).toEqual(['fuse-under-load']);
    expect(kinds({ allowedDropVolts: 0.1 })).toEqual(['drop-past-allowed']);
    expect(kinds({ ground: { ...FOUR_GAUGE, metres: 0.6, areaMm2: 8.37 } })).toEqual(['ground-thinner']);
    expect(kinds({ ground: { ...FOUR_GAUGE, metres: 0.6, material: 'copper-clad-aluminium' } })).toEqual([
      'ground-thinner',
    ]);
    expect(kinds({ stage: null })).toEqual(['class-assumed']);
    const thin = { ...FOUR_GAUGE, areaMm2: awgAreaMm2(12) };
    expect(kinds({ positive: thin, ground: thin })).toEqual([
      'fuse-past-wire',
      'wire-under-load',
      'drop-past-allowed',
    ]);
  });

  it('says what it can where nothing is noted', () => {
    const plan = planPowerWiring({ ...sound, positive: null, ground: null, fuseAmps: null });
    expect(plan).toMatchObject({ positive: null, ground: null, dropVolts: null, warnings: [] });
    expect(plan.fuse).toEqual({ loadAmps: 40, wireAmps: null });
    expect(plan.advised).toEqual({ awg: null, metric: null });
  });
});

describe('a leg from two pairs of readings', () => {
  const meter: DcMeter = { percentOfReading: 0.5, digits: 3, voltsPerDigit: 0.001 };
  const ground: WireRun = { ...FOUR_GAUGE, metres: 0.6 };
  const current = { value: 25, uncertainty: 0.5 };
  const legOf = (ohms: number) =>
    judgeLeg(legOhms(stepVolts(0.01, 0.01 + ohms * 25, meter), current), ground);

  it('a ground of 50 mΩ is poor, one of its wire and 1 mΩ of joints is good', () => {
    const poor = legOf(0.05);
    expect(poor.verdict).toBe('poor');
    expect(poor.ohms.value).toBeCloseTo(0.05, 10);
    // 0.6 m of 4 AWG: 0.489 mΩ, at most 1.15 * 1.1179 times that.
    expect(poor.wireOhms?.high).toBeCloseTo(0.000_489_1 * 1.15 * 1.1179, 6);
    expect(poor.restOhms).toBeCloseTo(0.05 - 0.000_628_8, 6);
    expect(poor.why).toMatch(/50 mΩ ± 2 mΩ and its wire explains 0\.63 mΩ: the other 49 mΩ/);
    expect(legOf(0.0015).verdict).toBe('good');
  });

  it('a long thin wire explains what a short thick one does not', () => {
    const long: WireRun = { metres: 5, areaMm2: awgAreaMm2(10), material: 'copper-clad-aluminium' };
    const ohms = legOhms(stepVolts(0, 0.03 * 25, meter), current);
    expect(judgeLeg(ohms, long).verdict).toBe('good');
    expect(judgeLeg(ohms, ground).verdict).toBe('poor');
  });

  it('cannot tell near the border, with less than the wire must have, and without a wire', () => {
    expect(legOf(0.0058).why).toMatch(/too wide to tell/);
    const little = judgeLeg(legOhms({ value: 0, uncertainty: 0.0001 }, current), { ...ground, metres: 5 });
    expect(little).toMatchObject({
      verdict: 'cannot-tell',
      why: expect.stringMatching(/less than its wire/),
    });
    expect(judgeLeg({ value: 0.05, uncertainty: 0.001 }, null)).toMatchObject({
      verdict: 'cannot-tell',
      wireOhms: null,
      restOhms: null,
    });
  });

  it('carries the uncertainties through: 1 mV digits thrice, 0.5 %, 2 % of the current', () => {
    const { value, uncertainty } = legOhms(stepVolts(0.01, 1.26, meter), current);
    const digits = 0.003 / Math.sqrt(3);
    const volts = Math.hypot((0.005 * 1.25) / Math.sqrt(3), digits, digits);
    expect(value).toBeCloseTo(0.05, 12);
    expect(uncertainty).toBeCloseTo(0.05 * Math.hypot(volts / 1.25, 0.02), 12);
  });

  it('calls no leg poor that its wire can have, nor good that its interval leaves open', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.0001, max: 0.1, noNaN: true }),
        fc.double({ min: 1, max: 200, noNaN: true }),
        (ohms, amperes) => {
          const measured = legOhms(stepVolts(0, ohms * amperes, meter), {
            value: amperes,
            uncertainty: amperes * 0.02,
          });
          const { verdict } = judgeLeg(measured, ground);
          const most = runOhmsBounds(ground).high + 0.005;
          if (ohms < most) expect(verdict).not.toBe('poor');
          else expect(verdict).not.toBe('good');
        },
      ),
    );
  });
});
