/** An acoustic calibrator on the microphone: which placements count, and what a full scale is in sound pressure. */
import { describe, expect, it } from 'vitest';
import { soundLevelDb, soundScale } from '../../src/plan/calibration/sound-scale.ts';
import {
  halvesOf,
  PLACEMENT_SECONDS,
  placementLevel,
  placementRequest,
  whyNotTogether,
} from '../../src/procedure/calibrator/placement.ts';
import { readTake } from '../../src/procedure/take/read-take.ts';
import type { Take } from '../../src/procedure/take/take.ts';
import { seededUniform } from './seeded-random.ts';

const CALIBRATOR = { levelDb: 94, frequencyHz: 1000, withinDb: 0.4 };
const RATE_HZ = 48_000;

interface Heard {
  hz?: number;
  dbfs?: number;
  /** Level of white noise, dBFS. */
  noiseDbfs?: number;
  /** How much louder it is at the end. */
  driftDb?: number;
  ceiling?: number;
}

/** What the microphone hands over, sine convention. */
function heard({ hz = 1000.7, dbfs = -27.3, noiseDbfs = -90, driftDb = 0, ceiling = 1 }: Heard = {}): Take {
  const random = seededUniform(5);
  const noise = 10 ** (noiseDbfs / 20) * Math.sqrt(1.5);
  const frames = PLACEMENT_SECONDS * RATE_HZ;
  const samples = Float32Array.from({ length: frames }, (_, n) => {
    const level = 10 ** ((dbfs + (driftDb * n) / frames) / 20);
    const value = level * Math.sin((2 * Math.PI * hz * n) / RATE_HZ) + noise * (2 * random() - 1);
    return Math.min(ceiling, Math.max(-ceiling, value));
  });
  return { sampleRateHz: RATE_HZ, startFrame: 4800, channels: [samples], doubts: [] };
}

function placed(take: Take, calibrator = CALIBRATOR) {
  const request = placementRequest(calibrator, 0);
  const [first, second] = halvesOf(take).map((half) => readTake(request, half));
  return placementLevel([first!, second!], calibrator);
}

describe('a placement', () => {
  it('gives the level of the tone, off frequency as a calibrator may be', () => {
    const level = placed(heard());
    // By sine fit with noise 63 dB below over 3 s: far below a thousandth of a decibel.
    expect(level).toMatchObject({ levelDbfs: expect.closeTo(-27.3, 3) });
    expect(placed(heard({ hz: 1015 }))).toMatchObject({ levelDbfs: expect.closeTo(-27.3, 3) });
  });

  it.each<[string, Heard, RegExp]>([
    ['another tone', { hz: 1040 }, /No steady tone of 1000 Hz/],
    ['no tone', { dbfs: -120 }, /No steady tone of 1000 Hz/],
    ['a level that moves', { driftDb: 0.5 }, /moved by 0\.25 dB/],
    ['a coupler that leaks', { noiseDbfs: -42 }, /stands only 1[56] dB over everything else/],
    ['an overloaded input', { dbfs: 2 }, /overloads this input/],
    ['a clipped tone', { dbfs: -10, ceiling: 0.2 }, /arrives clipped/],
  ])('says why not for %s', (_, what, sentence) => {
    expect(placed(heard(what))).toMatch(sentence);
  });

  it('says why not where only its end is clipped', () => {
    const whole = heard({ dbfs: -10 });
    const [samples] = whole.channels;
    const cut = samples!.map((value, n) =>
      n < samples!.length / 2 ? value : Math.max(-0.29, Math.min(0.29, value)),
    );
    expect(placed({ ...whole, channels: [cut] })).toMatch(/arrives clipped/);
  });

  it('says why not where audio was lost', () => {
    expect(placed({ ...heard(), doubts: ['gap'] })).toMatch(/was lost.*Measure again/);
  });

  it('belongs with another that is near, and not with one that is not', () => {
    const at = (levelDbfs: number) => ({ levelDbfs, uncertaintyDb: 0 });
    expect(whyNotTogether([at(-27)])).toBeNull();
    expect(whyNotTogether([at(-27), at(-27.4)])).toBeNull();
    expect(whyNotTogether([at(-27), at(-27.8)])).toMatch(/differ by 0\.8 dB/);
  });
});

it('halves a take without losing its place on the clock', () => {
  const [first, second] = halvesOf(heard());
  expect([first.startFrame, second.startFrame]).toEqual([4800, 4800 + 3 * RATE_HZ]);
  expect([first.channels[0]?.length, second.channels[0]?.length]).toEqual([3 * RATE_HZ, 3 * RATE_HZ]);
});

describe('what a full scale is in sound pressure', () => {
  const level = (levelDbfs: number, uncertaintyDb = 0) => ({ levelDbfs, uncertaintyDb });

  it('94 dB read at -27.3 dBFS is 121.3 dB; 114 dB at -7.3 dBFS is the same microphone', () => {
    expect(soundScale(CALIBRATOR, [level(-27.3)]).splAtFullScaleDb).toBeCloseTo(121.3, 12);
    expect(soundScale({ ...CALIBRATOR, levelDb: 114 }, [level(-7.3)]).splAtFullScaleDb).toBeCloseTo(
      121.3,
      12,
    );
  });

  it('one placement: 0.4 / sqrt 3 = 0.2309 and 0.1 dB of seating make 0.2517 dB', () => {
    expect(soundScale(CALIBRATOR, [level(-27)]).uncertaintyDb).toBeCloseTo(0.2517, 4);
  });

  it('two that agree: the seating falls to 0.1 / sqrt 2; two 0.4 dB apart: 0.2 dB, by their own spread', () => {
    expect(soundScale(CALIBRATOR, [level(-27), level(-27)]).uncertaintyDb).toBeCloseTo(
      Math.hypot(0.4 / Math.sqrt(3), 0.1 / Math.SQRT2),
      12,
    );
    const apart = soundScale(CALIBRATOR, [level(-27), level(-27.4)]);
    expect(apart.splAtFullScaleDb).toBeCloseTo(121.2, 12);
    expect(apart.uncertaintyDb).toBeCloseTo(Math.hypot(0.4 / Math.sqrt(3), 0.2), 12);
    // Three, 0.3 dB apart each: deviation of the mean sqrt(0.18 / (3 x 2)) = 0.1732 dB.
    const three = soundScale(CALIBRATOR, [level(-27), level(-27.3), level(-27.6)]);
    expect(three.uncertaintyDb).toBeCloseTo(Math.hypot(0.4 / Math.sqrt(3), 0.17321), 5);
  });

  it('gives a tone its level freed of the microphone’s deviation, against that at the calibrator’s frequency', () => {
    const scale = soundScale(CALIBRATOR, [level(-27.3)]);
    const curve = [
      { frequencyHz: 1000, readsHighDb: 0.5 },
      { frequencyHz: 4000, readsHighDb: 2.5 },
    ];
    expect(soundLevelDb(-27.3, 1000, scale, curve)).toBeCloseTo(94, 12);
    // 2000 Hz lies half way on a logarithmic axis: it reads 1.5 dB high, 1 dB more than at 1000 Hz.
    expect(soundLevelDb(-27.3, 2000, scale, curve)).toBeCloseTo(93, 12);
    expect(soundLevelDb(-27.3, 50, scale, curve)).toBeCloseTo(94, 12);
    expect(soundLevelDb(-27.3, null, scale, curve)).toBeCloseTo(94, 12);
    expect(soundLevelDb(-27.3, 2000, scale, null)).toBeCloseTo(94, 12);
  });

  it('refuses nothing, silence, an overload, and a calibrator that is none', () => {
    expect(() => soundScale(CALIBRATOR, [])).toThrow(/No level was read/);
    expect(() => soundScale(CALIBRATOR, [level(Number.NEGATIVE_INFINITY)])).toThrow(/below 0 dBFS/);
    expect(() => soundScale(CALIBRATOR, [level(0.3)])).toThrow(/below 0 dBFS/);
    expect(() => soundScale({ ...CALIBRATOR, levelDb: Number.NaN }, [level(-27)])).toThrow(/above 0/);
    expect(() => soundScale({ ...CALIBRATOR, withinDb: -1 }, [level(-27)])).toThrow(/0 or above/);
  });
});
