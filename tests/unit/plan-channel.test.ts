import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { ChannelChain, DriverGroup } from '../../src/plan/chain.ts';
import { planChannel } from '../../src/plan/channel-plan.ts';
import { PlanRefused } from '../../src/plan/refused.ts';
import { planTarget } from '../../src/plan/target.ts';

const DOOR: DriverGroup = {
  count: 1,
  coilsEach: 1,
  coilOhms: 4,
  coilWiring: 'single',
  driverWiring: 'single',
  continuousWattsEach: 75,
};

const CHAIN: ChannelChain = {
  amplifier: {
    perChannel: {
      ratings: [
        { loadOhms: 4, watts: 75 },
        { loadOhms: 2, watts: 110 },
      ],
      minimumLoadOhms: 2,
    },
    bridged: { ratings: [{ loadOhms: 4, watts: 220 }], minimumLoadOhms: 4 },
    ratedSupplyVolts: 14.4,
  },
  bridged: false,
  drivers: DOOR,
  supplyVolts: null,
  overlapDb: 0,
  toneDbfs: 0,
  summedInputs: 1,
  inputsWithTone: 1,
};

const plan = (change: Partial<ChannelChain>) => planChannel({ ...CHAIN, ...change });
const kinds = (change: Partial<ChannelChain>) => plan(change).warnings.map(({ kind }) => kind);
const drivers = (change: Partial<DriverGroup>) => ({ drivers: { ...DOOR, ...change } });

describe('a plain channel', () => {
  it('75 W into 4 ohm: sqrt(300) = 17.3205 V, peak 24.4949 V, 24.771 dBV, nothing to warn of', () => {
    const door = plan({});
    expect(door.loadOhms).toBe(4);
    expect(door.targetVolts).toBeCloseTo(17.3205, 4);
    expect(door.targetPeakVolts).toBeCloseTo(24.4949, 4);
    expect(door.targetDbv).toBeCloseTo(24.771, 3);
    expect(door.toneVolts).toBe(door.targetVolts);
    expect(door.limitedBy).toBe('drivers');
    expect(door.warnings).toEqual([]);
  });

  it('takes the smaller of amplifier and drivers, and says which', () => {
    const weak = plan(drivers({ continuousWattsEach: 50 }));
    expect(weak).toMatchObject({ cleanWatts: 50, limitedBy: 'drivers' });
    expect(weak.targetVolts).toBeCloseTo(Math.sqrt(200), 12);
    expect(weak.warnings.map(({ kind }) => kind)).toEqual(['drivers-rated-below-amplifier']);
    const strong = plan(drivers({ continuousWattsEach: 100 }));
    expect(strong).toMatchObject({ cleanWatts: 75, limitedBy: 'amplifier' });
    expect(strong.warnings.map(({ kind }) => kind)).toEqual(['amplifier-rated-below-drivers']);
  });

  it('never lets the hardest worked of three unequal drivers past its rating', () => {
    // 4 ohm in series with two 4 ohm in parallel: 6 ohm. 20 W each: 20 / (2/3) = 30 W in all.
    const three = plan(
      drivers({ count: 3, driverWiring: 'one-in-series-with-parallel-pair', continuousWattsEach: 20 }),
    );
    expect(three.loadOhms).toBeCloseTo(6, 12);
    expect(three.driverWatts).toBeCloseTo(30, 12);
    expect(three.warnings.find(({ kind }) => kind === 'drivers-rated-below-amplifier')?.sentence).toMatch(
      /2\/3/,
    );
  });
});

describe('overlap and tone', () => {
  it('a tone at minus the overlap reaches the target', () => {
    const door = plan({ overlapDb: 5, toneDbfs: -5 });
    expect(door.toneVolts).toBeCloseTo(door.targetVolts!, 12);
    expect(door.warnings).toEqual([]);
  });

  it('a tone 20 dB further down reads a tenth of the target, and cannot show the knee', () => {
    const door = plan({ overlapDb: 5, toneDbfs: -25 });
    expect(door.toneVolts).toBeCloseTo(door.targetVolts! / 10, 12);
    const [warning] = door.warnings;
    expect(warning?.kind).toBe('tone-never-reaches-target');
    expect(warning?.sentence).toMatch(/20\.0 dB below.*-5 dBFS/);
  });

  it('a tone above minus the overlap would clip at the right gain', () => {
    const [warning] = plan({ overlapDb: 5, toneDbfs: 0 }).warnings;
    expect(warning?.kind).toBe('tone-past-target');
    expect(warning?.sentence).toMatch(/5\.0 dB above.*-5 dBFS/);
  });

  it('a tone on one of two summed inputs reads half, 6.02 dB low', () => {
    const sub = plan({ summedInputs: 2, inputsWithTone: 1 });
    expect(sub.toneVolts).toBeCloseTo(sub.targetVolts! / 2, 12);
    const low = sub.warnings.find(({ kind }) => kind === 'tone-reads-low-on-summed-input');
    expect(low?.sentence).toMatch(/1 of 2 .* 6\.02 dB low/);
    expect(kinds({ summedInputs: 2, inputsWithTone: 2 })).toEqual([]);
  });

  it('V * 10^((g - t) / 20) for any overlap and tone', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 20, noNaN: true }),
        fc.double({ min: 0, max: 60, noNaN: true }),
        (overlapDb, below) => {
          const { targetVolts, toneVolts } = plan({ overlapDb, toneDbfs: -below });
          const db = 20 * Math.log10(toneVolts! / targetVolts!);
          expect(Math.abs(db - (overlapDb - below))).toBeLessThan(1e-9);
        },
      ),
    );
  });
});

describe('what the maker allows', () => {
  it('uses the bridged rating and the load across the pair: 220 W into 4 ohm, sqrt(880) V', () => {
    const pair = plan({ bridged: true, ...drivers({ continuousWattsEach: 300 }) });
    expect(pair.amplifierWatts).toBe(220);
    expect(pair.targetVolts).toBeCloseTo(Math.sqrt(880), 12);
  });

  it('gives no target where bridging is not allowed', () => {
    const forbidden = plan({ bridged: true, amplifier: { ...CHAIN.amplifier, bridged: null } });
    expect(forbidden).toMatchObject({
      amplifierWatts: null,
      targetVolts: null,
      toneVolts: null,
      limitedBy: null,
    });
    expect(forbidden.warnings.map(({ kind }) => kind)).toEqual(['bridging-not-allowed']);
  });

  it('gives no target under the minimum load, bridged or not', () => {
    const under = plan(drivers({ count: 4, driverWiring: 'parallel' }));
    expect(under).toMatchObject({ loadOhms: 1, targetVolts: null });
    expect(under.warnings.map(({ kind }) => kind)).toEqual(['load-under-minimum']);
    const pair = plan({ bridged: true, ...drivers({ count: 2, driverWiring: 'parallel' }) });
    expect(pair.targetVolts).toBeNull();
    expect(pair.warnings[0]?.sentence).toMatch(/each of the two channels sees half/);
  });

  it('gives no target under the minimum even where a power is stated there', () => {
    const perChannel = { ...CHAIN.amplifier.perChannel, minimumLoadOhms: 4 };
    const under = plan({ amplifier: { ...CHAIN.amplifier, perChannel }, ...drivers({ coilOhms: 2 }) });
    expect(under).toMatchObject({ amplifierWatts: null, targetVolts: null });
    expect(under.warnings.map(({ kind }) => kind)).toEqual(['load-under-minimum']);
  });

  it('a load at the minimum is allowed, thirds of an ohm too', () => {
    const third = { ratings: [{ loadOhms: 1.33, watts: 300 }], minimumLoadOhms: 1.33 };
    const three = plan({
      amplifier: { ...CHAIN.amplifier, perChannel: third },
      ...drivers({ count: 3, driverWiring: 'parallel', continuousWattsEach: 100 }),
    });
    expect(three.targetVolts).toBeCloseTo(20, 12);
    expect(three.warnings).toEqual([]);
  });
});

describe('ratings that do not meet the load', () => {
  it('interpolates and says so with its bounds', () => {
    expect(kinds(drivers({ coilOhms: 3 }))).toContain('rating-interpolated');
  });

  it('above the highest stated load gives a lower bound and says so', () => {
    const high = plan(drivers({ coilOhms: 8 }));
    expect(high.amplifierWatts).toBeCloseTo(37.5, 12);
    expect(high.targetVolts).toBeCloseTo(Math.sqrt(300), 12);
    expect(high.warnings.find(({ kind }) => kind === 'no-rating-at-load')?.sentence).toMatch(/lower bound/);
  });

  it('below the lowest stated load gives no target', () => {
    const perChannel = { ratings: [{ loadOhms: 4, watts: 75 }], minimumLoadOhms: 2 };
    const low = plan({ amplifier: { ...CHAIN.amplifier, perChannel }, ...drivers({ coilOhms: 2 }) });
    expect(low).toMatchObject({ amplifierWatts: null, cleanWatts: null, targetVolts: null });
    expect(low.warnings.map(({ kind }) => kind)).toEqual(['no-rating-at-load']);
  });
});

describe('the supply', () => {
  it('is warned of where it differs: 12.6 V against 14.4 V is 1.16 dB', () => {
    const [warning] = plan({ supplyVolts: 12.6 }).warnings;
    expect(warning?.kind).toBe('supply-differs-from-rating');
    expect(warning?.sentence).toMatch(/1\.2 dB below/);
  });

  it('is let be where it is near enough', () => {
    expect(kinds({ supplyVolts: 14.2 })).toEqual([]);
  });
});

it.each<[string, Partial<ChannelChain>]>([
  ['a tone above full scale', { toneDbfs: 1 }],
  ['a negative overlap', { overlapDb: -1 }],
  ['more inputs with the tone than inputs', { inputsWithTone: 2 }],
  ['no input with the tone', { inputsWithTone: 0 }],
  ['a supply of 0 V', { supplyVolts: 0 }],
  ['a NaN overlap', { overlapDb: Number.NaN }],
  ['drivers of 0 W', drivers({ continuousWattsEach: 0 })],
])('refuses %s', (_, change) => {
  expect(() => plan(change)).toThrow(PlanRefused);
});

it.each([
  [-5, 4],
  [75, 0],
  [Number.NaN, 4],
  [75, Number.POSITIVE_INFINITY],
])('refuses a target of %f W into %f ohm', (watts, ohms) => {
  expect(() => planTarget({ watts, ohms })).toThrow(PlanRefused);
});
