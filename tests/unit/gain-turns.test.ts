import { describe, expect, it } from 'vitest';
import { kneesAgree } from '../../src/dsp/knee/find-knee.ts';
import { limiterCurve } from '../../src/dsp/knee/limiter-curve.ts';
import type { GainEvent, GainReading, GainState, GainTask } from '../../src/procedure/gain/gain.ts';
import { gainStart, gainStep } from '../../src/procedure/gain/gain-steps.ts';
import { gainResult } from '../../src/procedure/gain/result.ts';
import { type Bench, FRONT_LEFT, limited, RIG, reading, turn } from './gain-turn.ts';
import { seededUniform } from './seeded-random.ts';

function heard(readings: GainReading[], start: GainState = gainStart(FRONT_LEFT)): GainState {
  return readings.reduce<GainState>(
    (state, one) => gainStep(state, { type: 'reading', reading: one }),
    start,
  );
}

function task(change: Partial<GainTask>): GainState {
  return gainStart({ ...FRONT_LEFT, ...change });
}

const kneeDb = (state: GainState, bench: Bench) =>
  20 * Math.log10((state.knee?.volts ?? 0) / bench.kneeVolts);
/** Drive, relative to the knee, at which the demo channel reads its aim. */
const AIM_DRIVE_DB = 20 * Math.log10(FRONT_LEFT.aimVolts / RIG.kneeVolts);

describe('the bench of these tests', () => {
  it('has the clipped sine of the references: 1 % at 0.25126 dB, fundamental 0.2011 dB over; 10 % at 2.17314, 1.0551', () => {
    expect(limited(0.25126).thdPercent).toBeCloseTo(1, 4);
    expect(limited(0.25126).fundamentalDb).toBeCloseTo(0.2011, 4);
    expect(limited(2.17314).thdPercent).toBeCloseTo(10, 3);
    expect(limited(2.17314).fundamentalDb).toBeCloseTo(1.0551, 4);
  });

  it('and the curve of the knee agrees with it', () => {
    const curve = limiterCurve({ lowest: 2, highest: Number.POSITIVE_INFINITY });
    for (const overdriveDb of [0.03, 0.07, 0.2, 0.35, 0.8, 1.45]) {
      const { thdPercent, fundamentalDb } = limited(overdriveDb);
      // The curve ends at the 60th order; at 0.03 dB over those above it make 1 % of the distortion.
      expect(Math.abs(curve.levelAboveDb(thdPercent) - fundamentalDb)).toBeLessThan(0.001);
    }
  });
});

describe('turning up to the brackets', () => {
  it('goes under, inside, and may then be accepted', () => {
    const readings = turn(RIG, [-20, AIM_DRIVE_DB], 3, 1);
    const first = heard(readings.slice(0, 5));
    expect(first.aim.zone).toBe('under');
    expect(first.instruction).toMatch(/^Turn the amplifier's gain up/);
    const last = heard(readings);
    expect(last.aim.zone).toBe('inside');
    expect(last.aim.errorDb).toBeCloseTo(0, 1);
    expect(last.instruction).toBe('Inside the brackets and at rest: accept the reading.');
    expect(last.acceptance).toEqual({ can: true, why: null, needsSecondThought: false });
    const result = gainResult(last);
    expect(result).toMatchObject({ inside: true, knee: null, marginDb: null, clippingVerdict: 'clean' });
    expect(result.volts).toBeCloseTo(17.32, 1);
  });

  it('asks for rest while the level still moves, and accepts nothing then', () => {
    const moving = reading(RIG, AIM_DRIVE_DB, 1, seededUniform(2), 0.2);
    const state = heard([moving]);
    expect(state.aim.zone).toBe('inside');
    expect(state.instruction).toBe('Inside the brackets: let it rest a second, then accept.');
    expect(state.acceptance.can).toBe(false);
    expect(() => gainResult(state)).toThrow(/still moving/);
  });

  it('says turn down where it is clean but over', () => {
    const state = heard(turn({ ...RIG, kneeVolts: 30 }, [-4], 1, 3));
    expect(state.aim.zone).toBe('over');
    expect(state.instruction).toMatch(/gain down/);
    expect(state.acceptance).toMatchObject({ can: true, needsSecondThought: true });
    expect(state.acceptance.why).toMatch(/0\.8 dB over the aim|0\.7 dB over the aim/);
  });
});

describe('overshooting', () => {
  it('stops, tells the overdrive and how far to turn back, and refuses the reading', () => {
    const state = heard(turn(RIG, [-10, 0.8], 2, 4));
    expect(state.aim.zone).toBe('past-knee');
    // Back by the overdrive, and on to the aim, which lies 0.525 dB under this knee.
    expect(state.aim.turnBackDb).toBeCloseTo(0.8 - AIM_DRIVE_DB, 1);
    expect(state.instruction).toMatch(/^Stop: 0\.8 dB past the knee\. Turn back 1\.3 dB\.$/);
    expect(state.acceptance.can).toBe(false);
    expect(() => gainResult(state)).toThrow(/past the knee/);
  });

  it('finds the knee both ways within their uncertainty, and they agree', () => {
    const state = heard(turn(RIG, [-10, 1.5], 1, 5));
    expect(state.knee?.from).toBe('overdrive');
    expect(Math.abs(kneeDb(state, RIG))).toBeLessThan(0.05);
    expect(state.knee?.disputed).toBe(false);
    // The trace's own knee: 0.1 dB cells, blurred by 0.2 dB of turning in each window.
    expect(Math.abs(state.knee?.crossCheckDb ?? 9)).toBeLessThan(0.2);
    expect(state.clippingStage).not.toBe('earlier');
  });

  it('turns back all the way to an aim that lies far under the knee', () => {
    const bench = { ...RIG, kneeVolts: FRONT_LEFT.aimVolts * 10 ** (2 / 20) };
    const state = heard(turn(bench, [-10, 0.8], 2, 19));
    expect(state.aim.turnBackDb).toBeCloseTo(2.8, 1);
  });

  it('disputes a knee on which the two ways disagree, widens its uncertainty, and asks for a second thought', () => {
    const readings = turn(RIG, [-10, 1.5, AIM_DRIVE_DB], 1, 20).map((one) =>
      one.clipping.kneeDbfs === null
        ? one
        : { ...one, clipping: { ...one.clipping, kneeDbfs: one.clipping.kneeDbfs - 1.5 } },
    );
    // Clean above that false knee would disprove it; only the way up is heard.
    const { knee } = heard(readings.slice(0, 240));
    expect(knee?.disputed).toBe(true);
    expect(knee?.uncertaintyDb).toBeCloseTo(1.5, 0);
    expect(kneesAgree({ levelDbfs: 0, uncertaintyDb: 0.1 }, { levelDbfs: 0.5, uncertaintyDb: 0.1 })).toBe(
      true,
    );
    expect(kneesAgree({ levelDbfs: 0, uncertaintyDb: 0.1 }, { levelDbfs: 0.6, uncertaintyDb: 0.1 })).toBe(
      false,
    );
  });

  it('after turning back lands inside, keeps the knee and records the margin', () => {
    const state = heard(turn(RIG, [-10, 1, AIM_DRIVE_DB], 1, 6));
    expect(state.aim.zone).toBe('inside');
    const { marginDb, knee } = gainResult(state);
    expect(knee).not.toBeNull();
    expect(marginDb).toBeCloseTo(-AIM_DRIVE_DB, 1);
  });

  it('back and forth and unevenly, the knee stays put', () => {
    const state = heard(turn(RIG, [-8, 0.5, -3, 1.8, -1, 0.2, -5, 0.9, -0.6], 1.7, 7));
    expect(Math.abs(kneeDb(state, RIG))).toBeLessThan(0.05);
    expect(state.knee?.disputed).toBe(false);
  });
});

describe('a knee that only the trace sees', () => {
  const undecided = (one: GainReading): GainReading => ({
    ...one,
    clipping: {
      verdict: 'undecided',
      side: null,
      overdriveDb: null,
      kneeDbfs: null,
      shape: null,
      compressionDb: null,
      uncertainty: null,
      evidence: [],
    },
  });

  it.each([
    ['electronics, 0.02 % floor', RIG, 0.15],
    ['a noisy input, 1 % floor', { ...RIG, floorPercent: 1 }, 0.3],
    [
      "a driver's own 2 %, a third harmonic that grows by 2 dB per dB",
      { ...RIG, floorPercent: 2, floorGrowth: 2 },
      0.5,
    ],
  ])('is found where the distortion leaves its floor: %s', (_, bench, withinDb) => {
    const errorsDb: number[] = [];
    for (let seed = 1; seed <= 8; seed++) {
      const state = heard(turn(bench, [-10, 2], 1, seed).map(undecided));
      errorsDb.push(kneeDb(state, bench));
      expect(state.knee?.from).toBe('trace');
      expect(Math.abs(kneeDb(state, bench))).toBeLessThan(withinDb);
      expect(Math.abs(kneeDb(state, bench))).toBeLessThan(3 * (state.knee?.uncertaintyDb ?? 0));
      expect(state.aim.zone).toBe('past-knee');
    }
    // No bias beyond what a window blurs: 0.2 dB of turning, evenly spread, is 0.06 dB.
    expect(Math.abs(errorsDb.reduce((a, b) => a + b, 0) / errorsDb.length)).toBeLessThan(0.06);
  });
});

describe('where there is no knee, none is reported', () => {
  it('in 40 clean points, 300 times over, whatever the scatter and growth of the floor', () => {
    for (let seed = 1; seed <= 300; seed++) {
      const random = seededUniform(seed);
      const bench = {
        ...RIG,
        scatter: 0.05 + 0.4 * random(),
        floorPercent: 0.01 + 3 * random(),
        floorGrowth: 2 * random(),
      };
      const readings = Array.from({ length: 40 }, (_, i) =>
        reading(bench, -10 + 0.25 * i - 0.1, i / 20, random, 0.2),
      );
      expect(heard(readings).knee, `seed ${seed}`).toBeNull();
    }
  });

  it('nor where distortion climbs steadily by 3 dB per dB, which is steep but no corner', () => {
    for (let seed = 1; seed <= 8; seed++) {
      const readings = turn({ ...RIG, floorPercent: 3, floorGrowth: 3 }, [-12, -0.2], 2, seed);
      expect(heard(readings).knee, `seed ${seed}`).toBeNull();
    }
  });

  it('nor where something else doubles the distortion from some level on', () => {
    const quiet = { ...RIG, scatter: 0.02, floorPercent: 0.3 };
    const readings = turn(quiet, [-10, -0.2], 2, 22).map((one) =>
      (one.levelDbfs ?? 0) < -8 ? one : { ...one, thdPercent: 2 * (one.thdPercent ?? 0) },
    );
    expect(heard(readings).knee).toBeNull();
  });

  it('nor from a disturbance while the control rests at the top', () => {
    const readings = turn(RIG, [-10, -1], 2, 21);
    const disturbed = readings.map((one, i) =>
      i < readings.length - 8 ? one : { ...one, thdPercent: 5 + 0.5 * (i % 3) },
    );
    expect(heard(disturbed).knee).toBeNull();
  });

  it('nor from a single wild dot', () => {
    const readings = turn(RIG, [-10, -1], 2, 8);
    const wild = readings.map((one, i) => (i % 50 === 49 ? { ...one, thdPercent: 20 } : one));
    expect(heard(wild).knee).toBeNull();
  });

  it('nor where an earlier stage clips all along: turning back does not help, and the hands are told so', () => {
    const state = heard(turn({ ...RIG, earlierOverdriveDb: 1 }, [-10, -4, -8], 2, 9));
    expect(state.clippingStage).toBe('earlier');
    expect(state.knee).toBeNull();
    expect(state.aim).toMatchObject({ zone: 'past-knee', turnBackDb: null });
    expect(state.instruction).toMatch(/an earlier stage clips/);
    const repaired = heard(turn(RIG, [-8, AIM_DRIVE_DB], 2, 10), state);
    expect(repaired.clippingStage).toBeNull();
    expect(repaired.acceptance.can).toBe(true);
  });

  it('a new turn keeps the knee and the dots of the one before, until it finds its own', () => {
    const before = heard(turn(RIG, [-10, 1], 1, 11));
    const after = gainStep(before, { type: 'new-turn', seconds: 99 });
    expect(before.knee).not.toBeNull();
    expect(after.knee).toEqual(before.knee);
    expect(after.turn).toBe(1);
    expect(after.trace).toEqual(before.trace);
    const own = heard(turn({ ...RIG, kneeVolts: 17.9 }, [-10, 1], 1, 12), after);
    expect(20 * Math.log10((own.knee?.volts ?? 0) / 17.9)).toBeCloseTo(0, 1);
  });

  it('and drops it once a reading well above it is clean', () => {
    const before = gainStep(heard(turn(RIG, [-10, 1], 1, 11)), { type: 'new-turn', seconds: 99 });
    const raised = { ...RIG, kneeVolts: RIG.kneeVolts * 1.12 };
    expect(heard(turn(raised, [-10, -0.1], 2, 13), before).knee).toBeNull();
  });
});

describe('a target above the knee', () => {
  it('is said, and the aim moves to half a decibel under the knee', () => {
    const bench = { ...RIG, kneeVolts: 15 };
    const state = heard(turn(bench, [-10, 1, -0.5], 1, 12));
    expect(state.aim.limitedByKnee).toBe(true);
    expect(20 * Math.log10(state.aim.aimVolts / 15)).toBeCloseTo(-0.5, 1);
    expect(state.aim.zone).toBe('inside');
    expect(state.acceptance).toMatchObject({ can: true, needsSecondThought: true });
    expect(state.acceptance.why).toMatch(/clips below its planned target/);
    expect(gainResult(state).marginDb).toBeCloseTo(20 * Math.log10(15 / 17.3205), 1);
  });

  it('scales with a setting tone at reduced level', () => {
    const bench = { ...RIG, kneeVolts: 15 };
    const reduced = task({ aimVolts: FRONT_LEFT.targetVolts / 10 });
    const state = heard(turn(bench, [-10, 1], 1, 13), reduced);
    expect(20 * Math.log10(state.aim.aimVolts / 1.5)).toBeCloseTo(-0.5, 1);
  });
});

describe('with a multimeter', () => {
  const meter = (volts: number): GainEvent => ({ type: 'meter', volts, seconds: 0 });
  /** A microphone: no volts, an arbitrary level. */
  const mic = (one: GainReading): GainReading => ({ ...one, volts: null, voltsUncertainty: null });

  it('works with no input at all, with a second thought', () => {
    const state = gainStep(task({ way: 'meter' }), meter(17.1));
    expect(state.aim.zone).toBe('inside');
    expect(state.aim.errorDb).toBeCloseTo(20 * Math.log10(17.1 / 17.3205), 6);
    expect(state.acceptance).toMatchObject({ can: true, needsSecondThought: true });
    expect(gainResult(state)).toMatchObject({
      volts: 17.1,
      thdPercent: null,
      clippingVerdict: null,
      grade: null,
    });
  });

  /** What a microphone makes of one drive: a driver's 5 % that grows with level, and of the limit what a cabin leaves. */
  function heardByMicrophone(driveDb: number, room: number, random: () => number): GainReading {
    const one = reading(RIG, driveDb, 1, random);
    const amplitude = 10 ** (driveDb / 20);
    const wave = (phase: number) => Math.max(-1, Math.min(1, amplitude * Math.cos(phase)));
    const count = 4096;
    const cosine = (order: number) => {
      let sum = 0;
      for (let n = 0; n < count; n += 1) {
        const phase = (2 * Math.PI * n) / count;
        sum += wave(phase) * Math.cos(order * phase);
      }
      return sum;
    };
    const high = [5, 7, 9].map((order) => (room * cosine(order)) / cosine(1));
    const highOrderPercent = 100 * Math.hypot(4e-4 * (1 + 0.1 * random()), ...high);
    return {
      ...mic(one),
      thdPercent: Math.hypot(5 * amplitude, one.thdPercent ?? 0),
      highOrderPercent,
      clipping: { ...one.clipping, verdict: 'undecided', side: null, overdriveDb: null, kneeDbfs: null },
    };
  }

  it.each([0.5, 1, 2])(
    'hears the knee through a driver and a room that leaves %d of the high harmonics',
    (room) => {
      const random = seededUniform(16);
      const drives = Array.from({ length: 120 }, (_, at) => -10 + at * 0.1);
      const state = heard(
        drives.map((drive) => heardByMicrophone(drive, room, random)),
        task({ way: 'meter' }),
      );
      const kneeDbfs = 20 * Math.log10(RIG.kneeVolts / RIG.voltsPerFs);
      // Issue 3: within 0.5 dB by microphone.
      expect(Math.abs((state.knee?.levelDbfs ?? Number.NaN) - kneeDbfs)).toBeLessThan(0.5);
      expect(state.knee?.from).toBe('trace');
    },
  );

  it('hears none where the driver alone distorts', () => {
    const random = seededUniform(17);
    const drives = Array.from({ length: 120 }, (_, at) => -14 + at * 0.1);
    const state = heard(
      drives.map((drive) => heardByMicrophone(drive, 1, random)),
      task({ way: 'meter' }),
    );
    expect(state.knee).toBeNull();
  });

  it('follows the hand between two typings, and asks for the meter before accepting', () => {
    const readings = turn(RIG, [-6, AIM_DRIVE_DB], 2, 14).map(mic);
    const atStart = heard(readings.slice(0, 10), task({ way: 'meter' }));
    const typed = gainStep(atStart, meter(RIG.kneeVolts * 10 ** (-6 / 20)));
    const moving = heard(readings.slice(10, 30), typed);
    expect(moving.latest?.motion).toBe('changing');
    expect(moving.aim.errorDb).toBeCloseTo(-6 + 2 * 20 * 0.05 - AIM_DRIVE_DB, 1);
    const turned = heard(readings.slice(10), typed);
    expect(turned.aim.errorDb).toBeCloseTo(0, 1);
    expect(turned.acceptance.can).toBe(false);
    expect(turned.acceptance.why).toMatch(/read the meter again/);
    expect(turned.instruction).toMatch(/read the meter again/);
    expect(gainStep(turned, meter(17.3)).acceptance).toMatchObject({ can: true, needsSecondThought: false });
  });

  it('lets the microphone see the knee, in volts by the level since the typing', () => {
    const atStart = heard(turn(RIG, [-6], 2, 15).map(mic), task({ way: 'meter' }));
    const typed = gainStep(atStart, meter(RIG.kneeVolts * 10 ** (-6 / 20)));
    const state = heard(turn(RIG, [-6, 1], 2, 16).map(mic), typed);
    expect(state.aim.zone).toBe('past-knee');
    expect(Math.abs(kneeDb(state, RIG))).toBeLessThan(0.1);
    expect(state.acceptance.can).toBe(false);
  });

  it('refuses what is no voltage', () => {
    expect(() => gainStep(task({ way: 'meter' }), meter(0))).toThrow(RangeError);
    expect(() => gainStep(task({ way: 'meter' }), meter(Number.NaN))).toThrow(RangeError);
  });

  it('forgets typed volts and knee when the way changes', () => {
    const state = gainStep(gainStep(task({ way: 'meter' }), meter(17)), { type: 'way', way: 'wire' });
    expect(state).toMatchObject({ meterVolts: null, turn: 1, task: { way: 'wire' } });
  });
});

describe('the trace', () => {
  it('stays within 400 dots through minutes of turning, keeps the extremes, and the knee with them', () => {
    const path = Array.from({ length: 24 }, (_, i) => (i % 2 === 0 ? -12 - (i % 7) : 0.3 + (i % 5) * 0.3));
    const readings = turn(RIG, path, 1.5, 17);
    expect(readings.length).toBeGreaterThan(3000);
    const state = heard(readings);
    expect(state.trace.length).toBeLessThanOrEqual(400);
    const levels = readings.map((one) => one.levelDbfs ?? 0);
    const kept = state.trace.map((point) => point.levelDbfs);
    // A dot within 0.02 dB of the last one is a repeat and need not be kept.
    expect(Math.max(...kept)).toBeGreaterThan(Math.max(...levels) - 0.02);
    expect(Math.min(...kept)).toBeLessThan(Math.min(...levels) + 0.02);
    expect(Math.abs(kneeDb(state, RIG))).toBeLessThan(0.05);
    const near = state.trace.filter((p) => Math.abs(p.levelDbfs - (state.knee?.levelDbfs ?? 0)) < 1.5);
    expect(near.length).toBeGreaterThan(100);
  });

  it('leaves out what is invalid, of another tone, or from an overloaded input', () => {
    const good = reading(RIG, -3, 1, seededUniform(18));
    const overloaded = { ...good.clipping, verdict: 'input-overload' as const };
    const state = heard([
      { ...good, grade: 'invalid', doubts: ['gap'] },
      { ...good, grade: 'suspect', doubts: ['processing-on'] },
      { ...good, frequencyHz: 1200 },
      { ...good, clipping: overloaded },
      { ...good, frequencyHz: null, levelDbfs: null, thdPercent: null, volts: null },
    ]);
    expect(state.trace).toEqual([]);
  });
});
