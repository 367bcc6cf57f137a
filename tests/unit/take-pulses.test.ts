import { describe, expect, it } from 'vitest';
import type { ExpectedFilter } from '../../src/dsp/time/expected-band.ts';
import { pulsePlace } from '../../src/dsp/tones/polarity.ts';
import { type PulseTakeRequest, readPulseTake } from '../../src/procedure/take/pulse-take.ts';
import { type PulseRecipe, pulseRecording } from './pulse-recordings.ts';

const RATE_HZ = 48_000;
const DOOR: ExpectedFilter[] = [{ kind: 'high-pass', alignment: 'linkwitz-riley', order: 4, cutoffHz: 80 }];
const SUBWOOFER: ExpectedFilter[] = [
  { kind: 'high-pass', alignment: 'butterworth', order: 2, cutoffHz: 25 },
  { kind: 'low-pass', alignment: 'linkwitz-riley', order: 4, cutoffHz: 80 },
];
/** One train for both: the doors' pulse, the subwoofer's half an interval later. */
const TRAIN = [997, 43].map((frequencyHz, which) => ({ frequencyHz, place: pulsePlace(which, 2) }));
const REFLECTIONS = [
  [0.0021, 0.4],
  [0.0037, -0.25],
  [0.0062, 0.3],
] as const;

function recipe(part: Partial<PulseRecipe>): PulseRecipe {
  return {
    sampleRateHz: RATE_HZ,
    seconds: 5,
    everySeconds: 1,
    pulses: TRAIN,
    filters: DOOR,
    arrivalSeconds: 0.0042,
    ...part,
  };
}

function request(which: 0 | 1, bands: ExpectedFilter[][], path: PulseTakeRequest['path']): PulseTakeRequest {
  return { kind: 'pulses', channelIndex: 0, ...TRAIN[which]!, everySeconds: 1, path, bands };
}

function read(part: Partial<PulseRecipe>, asked: PulseTakeRequest) {
  const made = recipe(part);
  return readPulseTake(asked, {
    sampleRateHz: RATE_HZ,
    startFrame: made.startFrame ?? 0,
    channels: [pulseRecording(made)],
    doubts: [],
  });
}

/** Arrival of the interval's start against where the player's clock put it, seconds. */
function arrivalOf(arrivalFrame: number, skewPpm: number): number {
  const interval = RATE_HZ * (1 + skewPpm * 1e-6);
  const count = Math.round(arrivalFrame / interval);
  return (arrivalFrame - count * interval) / RATE_HZ;
}

describe('a train of pulses on a wire', () => {
  it.each([
    [0, 1],
    [-80, -1],
    [37, 1],
  ] as const)('at a skew of %d ppm, sign %d: polarity, arrival, skew', (skewPpm, sign) => {
    const reading = read({ skewPpm, sign, startFrame: 123_457 }, request(0, [DOOR], 'wire'));
    const heard = reading.heard!;
    expect(heard.polarity).toBe(sign === 1 ? 'upright' : 'inverted');
    expect(heard.pulses).toBeGreaterThanOrEqual(4);
    // Without noise what is left is the interpolation, -98 dB, and the model's grid (an eighth of 75 us).
    expect(Math.abs(arrivalOf(heard.arrivalFrame, skewPpm) - 0.0042)).toBeLessThan(0.01e-3);
    expect(Math.abs(heard.skewPpm - skewPpm)).toBeLessThan(0.5);
  });
});

describe('a train of pulses in a cabin at 20 dB', () => {
  const noisy = { reflections: REFLECTIONS, skewPpm: 24, startFrame: 480_011 };

  it('of a door: arrival within 0.02 ms (issue 3), skew within three of its uncertainties', () => {
    for (const seed of [1, 2, 3, 4]) {
      const reading = read({ ...noisy, noiseRms: 0.01, seed }, request(0, [DOOR], 'cabin'));
      const heard = reading.heard!;
      expect(heard.polarity).toBe('upright');
      expect(Math.abs(arrivalOf(heard.arrivalFrame, 24) - 0.0042)).toBeLessThan(0.02e-3);
      expect(Math.abs(heard.skewPpm - 24)).toBeLessThan(3 * heard.skewUncertaintyPpm);
      expect(heard.skewUncertaintyPpm).toBeLessThan(20);
    }
  });

  it('of a subwoofer: polarity, and an arrival as uncertain as it says', () => {
    const rolledOff: ExpectedFilter[][] = [30, 45].map((cutoffHz) => [
      ...SUBWOOFER,
      { kind: 'high-pass', alignment: 'butterworth', order: 2, cutoffHz },
    ]);
    const driver: ExpectedFilter[] = [
      ...SUBWOOFER,
      { kind: 'high-pass', alignment: 'butterworth', order: 2, cutoffHz: 38 },
    ];
    for (const sign of [1, -1] as const) {
      const part = { ...noisy, filters: driver, sign, noiseRms: 0.003 };
      const heard = read(part, request(1, rolledOff, 'cabin')).heard!;
      expect(heard.likelier).toBe(sign === 1 ? 'upright' : 'inverted');
      expect(heard.polarity).toBe(heard.likelier);
      const error = Math.abs(arrivalOf(heard.arrivalFrame, 24) - 0.0042);
      expect(error).toBeLessThan(2 * heard.arrivalUncertaintySeconds);
      expect(heard.arrivalUncertaintySeconds).toBeLessThan(3e-3);
    }
  });
});

describe('what is no train', () => {
  it('noise, hum and silence are not heard as one', () => {
    const noise = read({ pulses: [], noiseRms: 0.05 }, request(0, [DOOR], 'cabin'));
    expect(noise.heard).toBeNull();
    expect(noise.signalToNoiseDb).toBeLessThan(12);
    const hum = Float32Array.from(
      { length: 5 * RATE_HZ },
      (_, n) => 0.1 * Math.sin((2 * Math.PI * 50 * n) / RATE_HZ),
    );
    const take = { sampleRateHz: RATE_HZ, startFrame: 0, doubts: [] };
    expect(readPulseTake(request(1, [SUBWOOFER], 'cabin'), { ...take, channels: [hum] }).heard).toBeNull();
    const silence = new Float32Array(5 * RATE_HZ);
    expect(readPulseTake(request(0, [DOOR], 'cabin'), { ...take, channels: [silence] }).heard).toBeNull();
  });

  it('a recording shorter than an interval is refused', () => {
    expect(() => read({ seconds: 0.5 }, request(0, [DOOR], 'cabin'))).toThrow(/shorter than the interval/);
  });

  it('says undecided where the bands it may have disagree on which way up', () => {
    // Far below its corner each order of a high-pass turns the phase by a quarter: two orders more look like a reversal.
    const below = (order: number): ExpectedFilter[] => [
      { kind: 'high-pass', alignment: 'butterworth', order, cutoffHz: 400 },
      { kind: 'low-pass', alignment: 'butterworth', order: 8, cutoffHz: 60 },
    ];
    const [narrow, steep] = [below(2), below(4)];
    const one = read({ filters: narrow }, request(1, [narrow], 'wire')).heard!;
    const other = read({ filters: narrow }, request(1, [steep], 'wire')).heard!;
    const both = read({ filters: narrow }, request(1, [narrow, steep], 'wire')).heard!;
    expect(one.likelier).not.toBe(other.likelier);
    expect(both.polarity).toBe('undecided');
  });
});
