import { describe, expect, test } from 'vitest';
import { kneeAmplitude, limitedHarmonic } from '../../src/dsp/clipping/limited-sine.ts';
import { angleOfOverdrive } from '../../src/dsp/clipping/overdrive.ts';
import { combinedLevelDb } from '../../src/dsp/uncertainty/level-budget.ts';
import { measureRecord, signal } from './dsp-signals.ts';
import { seededGauss, seededUniform } from './seeded-random.ts';

const sampleRateHz = 48_000;

/**
 * Claims are judged by how often twice the claimed uncertainty covers the truth: 95.45 % of normal errors.
 * Of `count` draws the share is known to `sqrt(0.0434 / count)`; three and a half of these below is the least
 * allowed, and as many above the most, for a claim that is too wide is false as well.
 */
function expectCovered(z: readonly number[], what: string): void {
  const covered = z.filter((each) => Math.abs(each) <= 2).length / z.length;
  const scatter = 3.5 * Math.sqrt(0.0434 / z.length);
  expect(covered, what).toBeGreaterThan(0.9545 - scatter);
  expect(covered, what).toBeLessThan(Math.min(1.0001, 0.9545 + scatter));
}

interface Drawn {
  what: string;
  z: number;
}

/** One short noisy tone with three harmonics, and how far each figure lies from the truth in claimed uncertainties. */
function drawnTone(uniform: () => number, seed: number): Drawn[] {
  const frequencyHz = 30 * 150 ** uniform();
  const frames = Math.floor(sampleRateHz * (0.2 + 0.3 * uniform()));
  const amplitude = 0.5;
  const noiseRms = amplitude * Math.SQRT1_2 * 10 ** (-(30 + 60 * uniform()) / 20);
  const shares = [1, 0.02 * uniform(), 0.05 * uniform() ** 4, 0.001 * uniform()];
  const lines = shares.map((share, at) => ({
    frequencyHz: frequencyHz * (at + 1),
    amplitude: share * amplitude,
    phase: 6 * uniform(),
  }));
  const tone = measureRecord(signal({ sampleRateHz, frames, lines, dc: 0.003, noiseRms, seed }), sampleRateHz)
    .tone!;
  const { uncertainty } = tone;
  const inBand = lines.slice(1).filter((line) => line.frequencyHz <= 20_000);
  const distortion = inBand.reduce((sum, line) => sum + line.amplitude ** 2 / 2, 0);
  const noise = (noiseRms ** 2 * 19_980) / 24_000;
  const carrier = amplitude ** 2 / 2;
  const ofTotal = Math.sqrt((distortion + noise) / (carrier + distortion + noise));
  return [
    { what: 'level', z: (tone.levelDbfs - 20 * Math.log10(amplitude)) / uncertainty.levelDb },
    { what: 'frequency', z: (tone.frequencyHz - frequencyHz) / uncertainty.frequencyHz },
    { what: 'THD', z: (tone.thdPercent - 100 * Math.sqrt(distortion / carrier)) / uncertainty.thdPercent! },
    { what: 'THD+N', z: (tone.thdPlusNoisePercent - 100 * ofTotal) / uncertainty.thdPlusNoisePercent! },
    { what: 'SINAD', z: (tone.sinadDb + 20 * Math.log10(ofTotal)) / uncertainty.sinadDb! },
    { what: 'noise', z: (tone.noiseDbfs - 10 * Math.log10(2 * noise)) / uncertainty.noiseDb! },
    {
      what: '2nd harmonic',
      z: (tone.harmonicsDbc[0]! - 20 * Math.log10(shares[1]!)) / uncertainty.harmonicsDb![0]!,
    },
  ];
}

describe('Monte Carlo of claimed uncertainties', () => {
  const count = 500;
  const uniform = seededUniform(77);
  const drawn = Array.from({ length: count }, (_, at) => drawnTone(uniform, at + 1)).flat();
  test.each(['level', 'frequency', 'THD', 'THD+N', 'SINAD', 'noise', '2nd harmonic'])(
    '%s: twice the claim covers 95 %% of 500 tones, 30 to 90 dB over noise',
    (what) => {
      const z = drawn.filter((each) => each.what === what).map((each) => each.z);
      expect(z).toHaveLength(count);
      expectCovered(z, what);
    },
  );
});

test('level and frequency of 2 to 12 cycles: covered by twice the claim as well', () => {
  const uniform = seededUniform(31);
  const z = { level: [] as number[], frequency: [] as number[] };
  for (let seed = 1; seed <= 400; seed += 1) {
    const cycles = 2 * 6 ** uniform();
    const frames = Math.floor(sampleRateHz * 0.2);
    const frequencyHz = (cycles * sampleRateHz) / frames;
    const noiseRms = 0.5 * Math.SQRT1_2 * 10 ** (-(30 + 60 * uniform()) / 20);
    const lines = [{ frequencyHz, amplitude: 0.5, phase: 6 * uniform() }];
    const samples = signal({ sampleRateHz, frames, lines, dc: 0.003, noiseRms, seed });
    const { levelDbfs, frequencyHz: found, uncertainty } = measureRecord(samples, sampleRateHz).tone!;
    z.level.push((levelDbfs - 20 * Math.log10(0.5)) / uncertainty.levelDb);
    z.frequency.push((found - frequencyHz) / uncertainty.frequencyHz);
  }
  expectCovered(z.level, 'level');
  expectCovered(z.frequency, 'frequency');
});

/** A cosine on two rails, harmonics summed one by one (Chebyshev), so that nothing folds back. */
function limitedRecord(uniform: () => number, highDb: number, lowDb: number, snrDb: number) {
  const gauss = seededGauss(uniform);
  const frequencyHz = 60 * 30 ** uniform();
  const wave = { amplitude: 0.4, highAngle: angleOfOverdrive(highDb), lowAngle: angleOfOverdrive(lowDb) };
  const orders = Math.floor(23_000 / frequencyHz);
  const terms = Array.from({ length: orders + 1 }, (_, order) => limitedHarmonic(wave, order));
  const noiseRms = terms[1]! * Math.SQRT1_2 * 10 ** (-snrDb / 20);
  const phase = 6 * uniform();
  const samples = Float64Array.from({ length: Math.floor(sampleRateHz * 0.4) }, (_, n) => {
    const cosine = Math.cos((2 * Math.PI * frequencyHz * n) / sampleRateHz + phase);
    let before = 1;
    let here = cosine;
    let x = terms[1]! * cosine;
    for (let order = 2; order <= orders; order += 1) {
      [before, here] = [here, 2 * cosine * here - before];
      x += terms[order]! * here;
    }
    return x + noiseRms * gauss();
  });
  return { wave, samples };
}

describe('overdrive and knee', () => {
  const errors = (snrDb: number, sides: 1 | 2, count: number) => {
    const uniform = seededUniform(5 + sides);
    return Array.from({ length: count }, () => {
      const overdriveDb = 0.5 * 12 ** uniform();
      const { wave, samples } = limitedRecord(uniform, overdriveDb, sides === 2 ? overdriveDb : 0, snrDb);
      const { clipping } = measureRecord(samples, sampleRateHz);
      return {
        overdrive: (clipping.overdriveDb! - overdriveDb) / clipping.uncertainty!.overdriveDb,
        knee: (clipping.kneeDbfs! - 20 * Math.log10(kneeAmplitude(wave))) / clipping.uncertainty!.kneeDb,
      };
    });
  };

  test.each([1, 2] as const)('at 42 dB, where noise decides: covered as claimed, %i crests cut', (sides) => {
    const all = errors(42, sides, 150);
    expectCovered(
      all.map((each) => each.overdrive),
      'overdrive',
    );
    expectCovered(
      all.map((each) => each.knee),
      'knee',
    );
  });

  test('at 80 dB the trust in the path decides: a perfect path lies well inside', () => {
    const all = errors(80, 2, 40);
    for (const { overdrive, knee } of all) {
      expect(Math.abs(overdrive)).toBeLessThan(2);
      expect(Math.abs(knee)).toBeLessThan(2);
    }
  });

  test('a whole wave has neither figure nor uncertainty', () => {
    const whole = signal({
      sampleRateHz,
      frames: 48_000,
      lines: [{ frequencyHz: 997, amplitude: 0.5 }],
      noiseRms: 1e-5,
    });
    expect(measureRecord(whole, sampleRateHz).clipping.uncertainty).toBeNull();
  });
});

describe('budget of a level in volts (JCGM 100, 4.3.7 and 5.1.2)', () => {
  test('independent parts add as squares', () => {
    expect(combinedLevelDb({ readingDb: 0.03, calibrationDb: 0.04 })).toBeCloseTo(0.05, 12);
    expect(combinedLevelDb({ readingDb: 0.03 })).toBe(0.03);
    expect(combinedLevelDb({ readingDb: Number.NaN, calibrationDb: 0.04 })).toBeNaN();
  });

  test.each([
    { ratio: 0.02, resistors: 0.01 },
    { ratio: 0.5, resistors: 0.05 },
    { ratio: 0.1, resistors: 0.001 },
  ])('a divider of $ratio with resistors within $resistors: as 20,000 drawn dividers scatter', (divider) => {
    const uniform = seededUniform(8);
    const { ratio, resistors } = divider;
    let [sum, squares] = [0, 0];
    const draws = 20_000;
    for (let draw = 0; draw < draws; draw += 1) {
      const upper = (1 - ratio) * (1 + resistors * (2 * uniform() - 1));
      const lower = ratio * (1 + resistors * (2 * uniform() - 1));
      const db = 20 * Math.log10(lower / (upper + lower) / ratio);
      sum += db;
      squares += db * db;
    }
    const scatter = Math.sqrt(squares / draws - (sum / draws) ** 2);
    // A rectangular pair's standard deviation is known to 0.4 % from 20,000 draws: four times that.
    expect(combinedLevelDb({ readingDb: 0, divider }) / scatter).toBeCloseTo(1, 1);
    expect(Math.abs(combinedLevelDb({ readingDb: 0, divider }) / scatter - 1)).toBeLessThan(0.016);
  });
});
