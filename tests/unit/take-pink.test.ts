import { describe, expect, it } from 'vitest';
import { renderPink } from '../../src/dsp/tones/pink.ts';
import { weightingDb } from '../../src/dsp/weighting/curves.ts';
import type { MicrophoneCurve } from '../../src/plan/calibration/microphone-curve.ts';
import { type PinkTakeRequest, readPinkTake } from '../../src/procedure/take/pink-take.ts';
import { seededGauss, seededUniform } from './seeded-random.ts';

const RATE_HZ = 48_000;
const MIDDLE = { lowHz: 500, highHz: 2000 };
const BASS = { lowHz: 31.25, highHz: 64 };

function pink(band: typeof MIDDLE, seed: number, seconds = 20): Float32Array {
  const spec = { kind: 'pink', ...band, levelDbfs: -30, durationSeconds: seconds, seed } as const;
  return Float32Array.from(renderPink(spec, RATE_HZ));
}

function read(samples: Float32Array, bands: PinkTakeRequest['bands'], weighting: 'A' | 'C' | 'Z' = 'Z') {
  const request: PinkTakeRequest = { kind: 'pink', channelIndex: 0, bands, weighting };
  return readPinkTake(request, { sampleRateHz: RATE_HZ, startFrame: 0, channels: [samples], doubts: [] });
}

describe('the level of band-limited noise', () => {
  it.each([
    ['the middle', MIDDLE],
    ['a subwoofer’s band', BASS],
  ])('of %s over the whole track is what was rendered', (_, band) => {
    const { levelDbfs } = read(pink(band, 3), [band]).levels[0]!;
    // The band's edges are spread by half a line's main lobe, 6 Hz: a tenth of the narrow band's power at most, 0.4 dB.
    expect(Math.abs(levelDbfs! + 30)).toBeLessThan(band === BASS ? 0.4 : 0.05);
  });

  it('says how far a few seconds of Gaussian noise may lie off: 4.34 dB / sqrt(B T)', () => {
    const errors: number[] = [];
    let said = 0;
    for (let seed = 1; seed <= 60; seed += 1) {
      const gauss = seededGauss(seededUniform(seed));
      const white = Float32Array.from({ length: 2 * RATE_HZ }, () => 0.05 * gauss());
      const { levelDbfs, uncertaintyDb } = read(white, [{ lowHz: 400, highHz: 450 }]).levels[0]!;
      // 0.05 RMS over 24 kHz: 2 x 0.0025 x 50 / 24000 in 50 Hz.
      errors.push(levelDbfs! - 10 * Math.log10((2 * 0.0025 * 50) / 24_000));
      said += uncertaintyDb / 60;
    }
    const spread = Math.sqrt(errors.reduce((sum, error) => sum + error * error, 0) / errors.length);
    // A spread from 60 is itself known to 9 %; a window leaves the record's two ends out, which costs some 15 %.
    expect(spread / said).toBeGreaterThan(0.75);
    expect(spread / said).toBeLessThan(1.4);
    expect(said).toBeCloseTo(10 / Math.LN10 / Math.sqrt(50 * 2), 1);
  });

  it('does not count what sounds outside the band', () => {
    const wanted = pink(MIDDLE, 3, 6);
    const rumble = Float32Array.from(
      wanted,
      (value, n) => value + 0.3 * Math.sin((2 * Math.PI * 90 * n) / RATE_HZ),
    );
    const [alone, beside] = [wanted, rumble].map((samples) => read(samples, [MIDDLE]).levels[0]!.levelDbfs!);
    expect(Math.abs(beside! - alone!)).toBeLessThan(0.001);
  });

  it('is weighted by IEC 61672-1', () => {
    const narrow = { lowHz: 195, highHz: 205 };
    const samples = pink(narrow, 5);
    const [z, a] = (['Z', 'A'] as const).map((w) => read(samples, [narrow], w).levels[0]!.levelDbfs!);
    expect(a! - z!).toBeCloseTo(weightingDb('A', 200), 1);
  });

  it('is freed of what the microphone is known to deviate by, line by line', () => {
    const samples = pink(MIDDLE, 3, 6);
    const plain = read(samples, [MIDDLE]).levels[0]!.levelDbfs!;
    const levelWith = (curve: MicrophoneCurve) => {
      const request: PinkTakeRequest = {
        kind: 'pink',
        channelIndex: 0,
        bands: [MIDDLE],
        weighting: 'Z',
        microphone: curve,
      };
      const take = { sampleRateHz: RATE_HZ, startFrame: 0, channels: [samples], doubts: [] };
      return readPinkTake(request, take).levels[0]!.levelDbfs!;
    };
    const flat = [500, 2000].map((frequencyHz) => ({ frequencyHz, readsHighDb: 2 }));
    expect(levelWith(flat) - plain).toBeCloseTo(-2, 9);
    // Right in the lower octave and 20 dB low in the upper one, each by its end of the curve; an octave of pink noise
    // holds half of the power: 10 lg (1/2 + 1/2 x 100) = 17.03 dB more.
    const tilted = [
      { frequencyHz: 999.9, readsHighDb: 0 },
      { frequencyHz: 1000, readsHighDb: -20 },
    ];
    // The noise of 6 s is not exactly half and half: 4.34 / sqrt(500 Hz x 6 s) = 0.08 dB either way.
    expect(Math.abs(levelWith(tilted) - plain - 17.03)).toBeLessThan(0.3);
  });

  it('of each band asked for, in their order; silence has none', () => {
    const [low, middle] = read(pink(BASS, 3, 6), [BASS, MIDDLE]).levels;
    expect(low!.levelDbfs! - middle!.levelDbfs!).toBeGreaterThan(60);
    expect(read(new Float32Array(RATE_HZ), [MIDDLE]).levels[0]!.levelDbfs).toBeNull();
  });

  it('of an input at its full scale is invalid', () => {
    const samples = pink(MIDDLE, 3, 2).map((value) => Math.max(-1, Math.min(1, 100 * value)));
    expect(read(samples, [MIDDLE])).toMatchObject({ grade: 'invalid', doubts: ['input-overload'] });
  });

  it('refuses a recording too short for its lines, and a band beyond the rate', () => {
    expect(() => read(new Float32Array(1000), [MIDDLE])).toThrow(/at least 0\.7 s/);
    expect(() => read(new Float32Array(RATE_HZ), [{ lowHz: 500, highHz: 30_000 }])).toThrow(/cannot be read/);
  });
});
