/** The Quiet station's noise part: what it asks for, what it names, what it records. */
import { describe, expect, it } from 'vitest';
import { record } from '../../src/job/records.ts';
import type { NoiseEvent, NoiseState, NoiseTask } from '../../src/procedure/noise/noise.ts';
import { noiseStart, noiseStep } from '../../src/procedure/noise/noise-steps.ts';
import { noiseResult } from '../../src/procedure/noise/result.ts';
import { music } from './noise-recordings.ts';
import { eventOf, FLOOR_RMS, RATE_HZ, recording, type Sound, TASK, takeEvent } from './noise-takes.ts';

const IDLE_HZ = 1185;
const REVVED_HZ = 3015;
const at = (hz: number) => () => hz;

function run(events: NoiseEvent[], task: NoiseTask = TASK): NoiseState {
  return events.reduce(noiseStep, noiseStart(task));
}

function three(off: Sound, idle: Sound, revved: Sound): NoiseEvent[] {
  return [takeEvent('off', off), takeEvent('idle', idle), takeEvent('revved', revved)];
}

const faults = (state: NoiseState) => state.findings.map(({ fault }) => fault);
/** 0.1 % of the truth: what the station promises. */
const near = (hz: number | undefined, truth: number) => Math.abs((hz ?? Number.NaN) / truth - 1) < 0.001;

describe('a quiet vehicle', () => {
  it('is asked off, idle and revved, and then nothing more', () => {
    const wanted = [];
    let state = noiseStart(TASK);
    for (const event of three({}, {}, {})) {
      wanted.push(state.wanted);
      expect(state.acceptance.can).toBe(wanted.length > 1);
      state = noiseStep(state, event);
    }
    expect(wanted).toEqual([
      { engine: 'off', lead: 'plugged' },
      { engine: 'idle', lead: 'plugged' },
      { engine: 'revved', lead: 'plugged' },
    ]);
    expect(state.wanted).toBeNull();
    expect(state.findings).toEqual([]);
    expect(state.acceptance).toEqual({ can: true, why: null, needsSecondThought: false });
  });

  it('has its floor told in volts against the target', () => {
    const state = run(three({}, {}, {}));
    // White to 24 kHz: 20 kHz hold 20/24 of it. 4 s of noise scatter by 4.34/sqrt(20000 * 4) = 0.015 dB, k = 3.
    const rmsVolts = FLOOR_RMS * Math.SQRT2 * Math.sqrt(19_980 / 24_000) * 35;
    expect(Math.abs(state.levels[0]!.levelDbv! - 20 * Math.log10(rmsVolts))).toBeLessThan(0.05);
    const truthDb = 20 * Math.log10(Math.sqrt(300) / rmsVolts);
    const result = noiseResult(state);
    expect(Math.abs(result.belowTargetDb! - truthDb)).toBeLessThan(0.05);
    expect(result.inside).toBe(true);
    // The calibration's own 0.05 dB is nearly all of it.
    expect(result.belowTargetUncertaintyDb).toBeGreaterThan(0.05);
    expect(result.belowTargetUncertaintyDb).toBeLessThan(0.06);
  });

  it('says octave by octave what the engine adds', () => {
    const state = run(three({}, { floorRms: 2 * FLOOR_RMS }, {}));
    const [idle, revved] = noiseResult(state).rises;
    expect([idle?.engine, revved?.engine]).toEqual(['idle', 'revved']);
    for (const { riseDb, uncertaintyDb } of idle!.octaves) {
      expect(Math.abs(riseDb - 20 * Math.log10(2))).toBeLessThan(4 * uncertaintyDb);
    }
    for (const { riseDb, uncertaintyDb } of revved!.octaves) {
      expect(Math.abs(riseDb)).toBeLessThan(4 * uncertaintyDb);
    }
  });
});

describe('an engine that is heard', () => {
  const events = three({}, { whineHz: at(IDLE_HZ) }, { whineHz: at(REVVED_HZ) });

  it('is named with its frequency at idle and revved', () => {
    const state = run(events);
    expect(faults(state)).toEqual(['engine-whine']);
    expect(near(state.ripple?.idle?.fundamentalHz, IDLE_HZ)).toBe(true);
    expect(near(state.ripple?.revved?.fundamentalHz, REVVED_HZ)).toBe(true);
    expect(state.ripple?.course).toBe('follows');
    expect(state.findings[0]?.sentence).toContain('1185.0 Hz at idle becomes 3015.0 Hz');
    expect(state.findings[0]?.evidence).toContain('2.54 times');
  });

  it('is not named before it was heard to move', () => {
    const state = run(events.slice(0, 2));
    expect(state.ripple?.course).toBe('unknown');
    expect(state.findings[0]?.sentence).toContain('comes with the running engine');
  });

  it('is named where it sweeps while it is recorded', () => {
    const swept = (hz: number) => (seconds: number) =>
      hz * (1 + 0.2 * Math.sin(2 * Math.PI * 0.25 * seconds));
    const state = run(three({}, { whineHz: swept(IDLE_HZ) }, { whineHz: swept(REVVED_HZ) }));
    expect(faults(state)).toEqual(['engine-whine']);
    expect(Math.abs(state.ripple!.pitchRatio! / (REVVED_HZ / IDLE_HZ) - 1)).toBeLessThan(0.02);
  });

  it('is named where it wavers by a percent, as an idle does', () => {
    const wavering = (hz: number) => (seconds: number) =>
      hz * (1 + 0.01 * Math.sin(2 * Math.PI * 0.7 * seconds));
    const state = run(three({}, { whineHz: wavering(IDLE_HZ) }, { whineHz: wavering(REVVED_HZ) }));
    expect(faults(state)).toEqual(['engine-whine']);
    // Within what it wavers.
    expect(Math.abs(state.ripple!.idle!.fundamentalHz / IDLE_HZ - 1)).toBeLessThan(0.01);
    expect(Math.abs(state.ripple!.revved!.fundamentalHz / REVVED_HZ - 1)).toBeLessThan(0.01);
  });

  it('is named where it is revved to exactly twice the speed, harmonic upon harmonic', () => {
    const state = run(three({}, { whineHz: at(1200.7) }, { whineHz: at(2401.4) }));
    expect(faults(state)).toEqual(['engine-whine']);
    expect(state.ripple?.pitchRatio).toBeCloseTo(2, 3);
  });

  it('is told from the rev counter: in step, and out of step', () => {
    const typed = (revved: number): NoiseEvent[] => [
      { type: 'rpm', engine: 'idle', rpm: 790 },
      { type: 'rpm', engine: 'revved', rpm: revved },
    ];
    expect(run([...events, ...typed(2010)]).ripple?.course).toBe('follows');
    const odd = run([...events, ...typed(1200)]);
    expect(odd.ripple?.course).toBe('moves');
    expect(odd.findings[0]?.evidence).toContain('not in step');
    // Six pole pairs at twice to eight at three times the engine's speed: 948 to 1896 Hz at 790 rpm.
    expect(odd.findings[0]?.evidence).toContain('948 to 1896 Hz at 790 rpm, which fits');
  });

  it('is sought by one more recording with the lead pulled: what remains is the supply', () => {
    const asked = run(events);
    expect(asked.wanted).toEqual({ engine: 'idle', lead: 'unplugged' });
    expect(asked.ripple?.wayIn).toBe('not-told');
    const remains = run([...events, takeEvent('idle', { whineHz: at(IDLE_HZ + 4) }, 'unplugged')]);
    expect(remains.wanted).toBeNull();
    expect(remains.ripple?.wayIn).toBe('amplifier-supply');
    expect(remains.findings[0]?.remedy).toContain('ground point');
  });

  it('and what goes came along the lead', () => {
    const gone = run([...events, takeEvent('idle', {}, 'unplugged')]);
    expect(gone.ripple?.wayIn).toBe('signal-lead');
    expect(gone.findings[0]?.remedy).toContain('ahead of the amplifier');
    const part = run([
      ...events,
      takeEvent('idle', { whineHz: at(IDLE_HZ), whinePeaks: [5e-4, 2e-4, 1e-4] }, 'unplugged'),
    ]);
    expect(part.ripple?.wayIn).toBe('both');
    expect(Math.abs(part.ripple!.lossUnpluggedDb! - 6)).toBeLessThan(0.3);
  });

  it('is not called so where its tone stands still: a pump, a fan', () => {
    const state = run(three({}, { toneHz: 2345 }, { toneHz: 2345 }));
    expect(state.ripple).toBeNull();
    expect(state.steadyTones.map(({ heard }) => heard)).toEqual(['running']);
    expect(faults(state)).toEqual(['steady-tone']);
  });

  it('is not called so where the tone is there with the engine off, a little lower or not', () => {
    const state = run(three({ toneHz: 130.3 }, { toneHz: 131.1 }, { toneHz: 130.9 }));
    expect(state.ripple).toBeNull();
    expect(state.steadyTones.map(({ heard }) => heard)).toEqual(['always']);
    expect(faults(state)).toEqual(['steady-tone']);
  });

  it('is told where its place was not empty before, but much quieter', () => {
    const before = { whineHz: at(IDLE_HZ), whinePeaks: [3e-5] };
    const state = run(three(before, { whineHz: at(IDLE_HZ) }, { whineHz: at(REVVED_HZ) }));
    expect(near(state.ripple?.idle?.fundamentalHz, IDLE_HZ)).toBe(true);
    expect(state.ripple?.course).toBe('follows');
  });

  it.each([[[1e-4, 4e-5]], [[1e-4]]])('is found beside a louder tone that stands still: peaks %j', (weak) => {
    const state = run(
      three(
        {},
        { toneHz: 2345, whineHz: at(IDLE_HZ), whinePeaks: weak },
        { toneHz: 2345, whineHz: at(REVVED_HZ), whinePeaks: weak },
      ),
    );
    expect(faults(state)).toEqual(['engine-whine', 'steady-tone']);
    expect(near(state.ripple?.idle?.fundamentalHz, IDLE_HZ)).toBe(true);
    expect(near(state.ripple?.revved?.fundamentalHz, REVVED_HZ)).toBe(true);
  });
});

describe('mains hum', () => {
  it.each([
    { humHz: 50.03, nominalHz: 50 },
    { humHz: 59.95, nominalHz: 60 },
  ])('of $humHz Hz is named, and is not the engine', ({ humHz, nominalHz }) => {
    const state = run(three({ humHz }, { humHz }, { humHz }));
    expect(faults(state)).toEqual(['mains-hum']);
    expect(state.hum?.nominalHz).toBe(nominalHz);
    expect(near(state.hum?.fundamentalHz, humHz)).toBe(true);
    expect(state.hum?.strongestOrder).toBe(2);
    expect(state.hum?.heardIn).toEqual(['off', 'idle', 'revved']);
    expect(state.findings[0]?.remedy).toMatch(/^Run the laptop on its battery/);
    expect(state.wanted).toEqual({ engine: 'off', lead: 'unplugged' });
  });

  it('and a whine are told apart where both are heard', () => {
    const humHz = 50;
    const state = run(three({ humHz }, { humHz, whineHz: at(IDLE_HZ) }, { humHz, whineHz: at(REVVED_HZ) }));
    expect(faults(state)).toEqual(['engine-whine', 'mains-hum']);
    expect(near(state.ripple?.idle?.fundamentalHz, IDLE_HZ)).toBe(true);
    expect(near(state.hum?.fundamentalHz, humHz)).toBe(true);
  });
});

describe('clicks', () => {
  it('are counted, and named; a few of them are no whine', () => {
    const state = run(three({}, { clickPeak: 0.01 }, {}));
    expect(faults(state)).toEqual(['clicks']);
    expect(state.findings[0]?.evidence).toBe('Counted 8 in 4 s with the engine idling.');
    expect(noiseResult(state).states.map(({ clicks }) => clicks)).toEqual([0, 8, 0]);
  });

  it('that come fast are the noise, and no music', () => {
    const state = run(three({}, { clickPeak: 0.01, clicksPerSecond: 9 }, {}));
    expect(state.takes.idle?.otherSound?.kind).toBe('programme');
    expect(faults(state)).toEqual(['clicks']);
  });
});

describe('what is of no use', () => {
  const spoilt = (spoil: (samples: Float32Array) => void): NoiseState => {
    const samples = recording({}, 3);
    spoil(samples);
    return run([eventOf({ engine: 'off', lead: 'plugged' }, samples)]);
  };

  it('an input that was overloaded, or lost a stretch, is recorded again', () => {
    const overloaded = spoilt((samples) => samples.fill(1, 9000, 9003));
    expect(overloaded.refused?.why).toMatch(/overloaded/);
    const lost = spoilt((samples) => {
      samples.set(recording({ floorRms: 1e-3 }, 4));
      samples.fill(0, 9000, 9600);
    });
    expect(lost.refused?.why).toMatch(/holes/);
    expect(lost.takes.off).toBeNull();
  });

  it('music is refused, and what was recorded before stays', () => {
    const before = run([takeEvent('off', {})]);
    const state = noiseStep(
      before,
      eventOf({ engine: 'idle', lead: 'plugged' }, Float32Array.from(music(RATE_HZ, 4, 3))),
    );
    expect(state.refused?.why).toMatch(/^Music, speech or handling/);
    expect(state.instruction).toBe(state.refused?.why);
    expect(state.takes.idle).toBeNull();
    expect(state.takes.off).toBe(before.takes.off);
  });

  it('digital silence is no quiet vehicle', () => {
    const state = run([eventOf({ engine: 'off', lead: 'plugged' }, new Float32Array(3 * RATE_HZ))]);
    expect(state.refused?.why).toMatch(/exact zeros/);
    expect(state.acceptance.can).toBe(false);
    expect(() => noiseResult(state)).toThrow(/begin with the engine off/);
  });

  it('a speed that no engine has is refused', () => {
    expect(() => run([{ type: 'rpm', engine: 'idle', rpm: 12 }])).toThrow(/12 rpm is no engine speed/);
  });
});

describe('accepting', () => {
  it('gives pause while states are missing, and where noise is too high', () => {
    const one = run([takeEvent('off', {})]);
    expect(one.acceptance).toMatchObject({ can: true, needsSecondThought: true });
    expect(one.acceptance.why).toMatch(/idling and with the engine revved/);
    const loud = run(three({ floorRms: 3e-4 }, { floorRms: 3e-4 }, { floorRms: 3e-4 }));
    expect(loud.acceptance.needsSecondThought).toBe(true);
    expect(faults(loud)).toEqual(['high-floor']);
    expect(noiseResult(loud).inside).toBe(false);
  });

  it('without volts judges nothing', () => {
    const state = run(three({}, {}, {}), { ...TASK, voltsPerFs: null, voltsUncertaintyDb: null });
    expect(state.acceptance.why).toMatch(/calibrate/);
    expect(noiseResult(state)).toMatchObject({ inside: null, belowTargetDb: null });
  });

  it('freezes what the record of this kind holds', () => {
    const state = run([
      ...three({ humHz: 50 }, { humHz: 50, whineHz: at(IDLE_HZ) }, { humHz: 50, whineHz: at(REVVED_HZ) }),
      takeEvent('idle', { humHz: 50 }, 'unplugged'),
      { type: 'rpm', engine: 'idle', rpm: 790 },
    ]);
    const stored = record.parse({
      kind: 'noise',
      id: 'one',
      at: '2026-03-14T10:00:00.000Z',
      conditions: {
        supplyVolts: null,
        engineRunning: null,
        loaded: null,
        volumeStep: 30,
        calibration: null,
        input: null,
        note: '',
      },
      result: noiseResult(state),
    });
    expect(JSON.stringify(stored.result)).toBe(JSON.stringify(noiseResult(state)));
  });
});
