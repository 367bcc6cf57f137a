import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { record } from '../../src/job/records.ts';
import { supplyResult } from '../../src/procedure/supply/result.ts';
import type { SupplyEvent, SupplyPoint, SupplyState, SupplyTask } from '../../src/procedure/supply/supply.ts';
import { supplyStart, supplyStep } from '../../src/procedure/supply/supply-steps.ts';

/** The demo job's four-channel amplifier. */
const TASK: SupplyTask = {
  amplifierId: 'four-channel',
  positive: { metres: 5, areaMm2: 21.2, material: 'copper' },
  ground: { metres: 0.6, areaMm2: 21.2, material: 'copper' },
  stage: 'AB',
  ratedWatts: 300,
  supplyVolts: 14.4,
  groundVolts: 0.1,
};

interface Vehicle {
  groundOhms: number;
  positiveOhms: number;
  batteryOhms?: number;
  restAmperes?: number;
  toneAmperes?: number;
  batteryVolts?: number;
}

const rounded = (volts: number, digit: number) => Math.round(volts / digit) * digit;

/** What a multimeter of so many counts shows in a vehicle whose legs are known. */
function readings(vehicle: Vehicle): Record<SupplyPoint, SupplyEvent> {
  const { groundOhms, positiveOhms, batteryOhms = 0.008, restAmperes = 1.8, toneAmperes = 30 } = vehicle;
  const at = (point: SupplyPoint, amperes: number) => {
    const battery = (vehicle.batteryVolts ?? 12.6) - amperes * batteryOhms;
    if (point === 'ground-leg') return rounded(amperes * groundOhms, 0.001);
    if (point === 'battery') return rounded(battery, 0.01);
    return rounded(battery - amperes * (groundOhms + positiveOhms), 0.01);
  };
  const event = (point: SupplyPoint): SupplyEvent => ({
    type: 'volts',
    point,
    pair: {
      restVolts: at(point, restAmperes),
      toneVolts: at(point, toneAmperes),
      voltsPerDigit: point === 'ground-leg' ? 0.001 : 0.01,
    },
  });
  return { 'ground-leg': event('ground-leg'), amplifier: event('amplifier'), battery: event('battery') };
}

function clamp(restAmperes = 1.8, toneAmperes = 30): SupplyEvent {
  return { type: 'current', current: { from: 'clamp', restAmperes, toneAmperes, amperesPerDigit: 0.1 } };
}

function measured(vehicle: Vehicle, task = TASK): SupplyState {
  const all = readings(vehicle);
  const current = clamp(vehicle.restAmperes, vehicle.toneAmperes);
  return [all['ground-leg'], current, all.amplifier, all.battery].reduce(supplyStep, supplyStart(task));
}

const HEALTHY: Vehicle = { groundOhms: 0.001, positiveOhms: 0.0055 };

describe('a vehicle measured point by point', () => {
  it('is led through in order, and a healthy one is accepted without a word', () => {
    const all = readings(HEALTHY);
    let state = supplyStart(TASK);
    expect([state.next, state.acceptance.can]).toEqual(['ground-leg', false]);
    expect(state.instruction).toMatch(/battery’s minus post .* ground terminal/);
    const next: string[] = [];
    for (const event of [all['ground-leg'], clamp(), all.amplifier, all.battery]) {
      state = supplyStep(state, event);
      next.push(state.next);
    }
    expect(next).toEqual(['current', 'amplifier', 'battery', 'done']);
    expect(state.findings).toEqual([]);
    expect(state.figures.legs.ground?.verdict).toBe('good');
    expect(state.figures.legs.positive?.ohms.value).toBeCloseTo(0.0055, 3);
    expect(state.figures.batterySagVolts?.value).toBeCloseTo(0.008 * 28.2, 2);
    expect(state.acceptance.can).toBe(true);
    expect(supplyResult(state)).toMatchObject({ inside: true, groundDropVolts: 0.03, findings: [] });
  });

  it('names a ground of 50 mΩ, with the figures that say so', () => {
    const state = measured({ ...HEALTHY, groundOhms: 0.05 });
    expect(state.findings.map(({ fault }) => fault)).toEqual(['poor-ground']);
    expect(state.findings[0]?.evidence).toMatch(/50 mΩ ± \d\.?\d* mΩ and its wire explains 0\.63 mΩ/);
    expect(state.instruction).toMatch(/^Mend what is named below/);
    expect(state.findings[0]?.remedy).toMatch(/battery’s negative off.*bare metal/);
    expect(state.acceptance).toMatchObject({ can: true, needsSecondThought: true });
    expect(supplyResult(state)).toMatchObject({ inside: false, ground: { verdict: 'poor' } });
  });

  it('names a supply wire whose joints drop, and not the ground', () => {
    const state = measured({ ...HEALTHY, positiveOhms: 0.05 });
    expect(state.findings.map(({ fault }) => fault)).toEqual(['poor-positive']);
    expect(supplyResult(state).inside).toBe(false);
  });

  it('names a drop past the tolerance where the wire itself explains it', () => {
    const long = { metres: 5, areaMm2: 8.37, material: 'copper' } as const;
    const state = measured({ ...HEALTHY, groundOhms: 0.0108 }, { ...TASK, ground: long });
    expect(state.figures.legs.ground?.verdict).toBe('good');
    expect(state.findings.map(({ fault }) => fault)).toEqual(['ground-drop']);
    expect(state.findings[0]?.evidence).toMatch(/0\.324 V under the tone, where 0\.1 V/);
  });

  it('names a bad ground by its drop where the wire is not noted', () => {
    const unknown = { ...TASK, ground: null };
    expect(measured({ ...HEALTHY, groundOhms: 0.05 }, unknown).findings.map(({ fault }) => fault)).toEqual([
      'ground-drop',
    ]);
    expect(measured(HEALTHY, unknown).findings).toEqual([]);
    expect(measured(HEALTHY, unknown).acceptance.why).toMatch(/note its wire/);
  });

  it('says so where an amplifier reads more than its battery', () => {
    const all = readings(HEALTHY);
    const swapped = supplyStep(measured(HEALTHY), {
      ...all.amplifier,
      point: 'battery',
    } as SupplyEvent);
    const wrong = supplyStep(swapped, { ...all.battery, point: 'amplifier' } as SupplyEvent);
    expect(wrong.findings.map(({ fault }) => fault)).toContain('readings-disagree');
  });
});

describe('what a multimeter can and cannot tell', () => {
  it('reads a drop with the probes swapped as the same drop', () => {
    const all = readings(HEALTHY);
    if (all['ground-leg'].type !== 'volts') throw new Error('not a reading');
    const { pair } = all['ground-leg'];
    const negative = { ...pair, restVolts: -pair.restVolts, toneVolts: -pair.toneVolts };
    const swapped = supplyStep(measured(HEALTHY), { type: 'volts', point: 'ground-leg', pair: negative });
    expect(swapped.figures.legs).toEqual(measured(HEALTHY).figures.legs);
  });

  it('cannot tell 1 mΩ from 6 with hardly any current, and says how to', () => {
    const state = measured({ ...HEALTHY, toneAmperes: 2.8 });
    expect(state.figures.legs.ground?.verdict).toBe('cannot-tell');
    expect(state.acceptance.why).toMatch(/draw more current/);
    expect(supplyResult(state).inside).toBe(false);
  });

  it('cannot tell by a current that is known to half of itself, however finely the volts are read', () => {
    const pair = { restVolts: 0, toneVolts: 0.0005, voltsPerDigit: 0.0001 };
    const read = supplyStep(supplyStart(TASK), { type: 'volts', point: 'ground-leg', pair });
    // 0.7 A of a clamp of 5 digits of 0.1 A: 0.7 ± 0.8 A.
    const judged = supplyStep(read, clamp(1.8, 2.5)).figures.legs.ground;
    expect(judged).toMatchObject({
      verdict: 'cannot-tell',
      why: expect.stringMatching(/rises by 0\.7 ± 0\.8 A/),
    });
    expect(supplyStep(read, clamp(1.8, 21.8)).figures.legs.ground?.why).not.toMatch(/rises by/);
  });

  it('refuses to accept where the tone draws nothing', () => {
    const state = measured({ ...HEALTHY, toneAmperes: 1.8 });
    expect(state.acceptance).toMatchObject({ can: false, why: expect.stringMatching(/does not rise/) });
    expect(() => supplyResult(state)).toThrow(/does not rise/);
  });

  it('without a clamp goes by the power: still names 50 mΩ, still calls a healthy ground good', () => {
    // 300 W of class AB at their full power draw 300 / 0.6 / 14.4 A.
    const amperes = 300 / 0.6 / 14.4;
    const byPower = (groundOhms: number) =>
      supplyStep(measured({ ...HEALTHY, groundOhms, restAmperes: 0, toneAmperes: amperes }), {
        type: 'current',
        current: { from: 'power', watts: 300 },
      });
    expect(byPower(0.05).figures.riseAmperes?.value).toBeCloseTo(amperes, 6);
    expect(byPower(0.05).findings.map(({ fault }) => fault)).toEqual(['poor-ground']);
    expect(byPower(0.001).findings).toEqual([]);
    expect(byPower(0.001).acceptance.why).toMatch(/worked out from the power/);
  });

  it('a meter that says little of itself leaves the verdict open', () => {
    const coarse = supplyStep(measured(HEALTHY), {
      type: 'meter',
      meter: { percentOfReading: 2, digits: 200 },
    });
    expect(coarse.figures.legs.ground?.verdict).toBe('cannot-tell');
  });
});

it('never calls a healthy ground poor, nor one of 50 mΩ good, whatever the current and the engine', () => {
  fc.assert(
    fc.property(
      fc.double({ min: 5, max: 150, noNaN: true }),
      fc.double({ min: 12, max: 14.8, noNaN: true }),
      fc.double({ min: 0.0006, max: 0.002, noNaN: true }),
      (toneAmperes, batteryVolts, groundOhms) => {
        const conditions = { toneAmperes, batteryVolts, positiveOhms: 0.0055 };
        expect(measured({ ...conditions, groundOhms }).figures.legs.ground?.verdict).not.toBe('poor');
        expect(measured({ ...conditions, groundOhms: 0.05 }).findings[0]?.fault).toBe('poor-ground');
      },
    ),
  );
});

it('leaves the state given as it was, and replays into the same one', () => {
  const start = supplyStart(TASK);
  const before = JSON.stringify(start);
  expect(measured(HEALTHY)).toEqual(measured(HEALTHY));
  supplyStep(start, readings(HEALTHY)['ground-leg']);
  expect(JSON.stringify(start)).toBe(before);
});

it('makes a record that the job takes', () => {
  const result = supplyResult(measured(HEALTHY));
  const conditions = {
    supplyVolts: 12.6,
    engineRunning: false,
    loaded: true,
    volumeStep: 30,
    calibration: null,
    input: 'Multimeter',
    note: '',
  };
  const at = '2026-03-14T10:00:00.000Z';
  expect(record.safeParse({ kind: 'supply', id: 'supply-1', at, conditions, result }).error).toBeUndefined();
});

it.each([
  [
    { type: 'volts', point: 'battery', pair: { restVolts: 0, toneVolts: 12, voltsPerDigit: 0.01 } },
    /0 V was/,
  ],
  [{ type: 'volts', point: 'battery', pair: { restVolts: 126, toneVolts: 12, voltsPerDigit: 1 } }, /126 V/],
  [
    { type: 'volts', point: 'ground-leg', pair: { restVolts: 0, toneVolts: Number.NaN, voltsPerDigit: 1 } },
    /NaN V/,
  ],
  [{ type: 'current', current: { from: 'power', watts: 0 } }, /0 W/],
  [
    { type: 'current', current: { from: 'clamp', restAmperes: -1, toneAmperes: 3, amperesPerDigit: 1 } },
    /-1 A/,
  ],
  [{ type: 'meter', meter: { percentOfReading: -1, digits: 3 } }, /-1 %/],
] as [SupplyEvent, RegExp][])('refuses %j in one sentence', (event, sentence) => {
  expect(() => supplyStep(supplyStart(TASK), event)).toThrow(sentence);
});

it('refuses a task without power, and one with an impossible wire', () => {
  expect(() => supplyStart({ ...TASK, ratedWatts: 0 })).toThrow(/ratedWatts of amplifier four-channel is 0/);
  const ground = { metres: 0, areaMm2: 21.2, material: 'copper' } as const;
  expect(() => supplyStart({ ...TASK, ground })).toThrow(/four-channel: The length/);
});
