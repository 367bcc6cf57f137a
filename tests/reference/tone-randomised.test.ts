import { describe, expect, test } from 'vitest';
import { StreamMeasurer } from '../../src/dsp/measure/streaming-measure.ts';
import { seededGauss, seededUniform } from '../unit/seeded-random.ts';

/**
 * The 1,000 tones of the first-light issue: 20 Hz to 10 kHz, -60 to -1 dBFS, noise 40 to 100 dB below,
 * any phase, 44.1/48/96 kHz; 0.5 to 5 s, mostly short. Bounds: references, item 11 (Rife and Boorstyn
 * 1974; Kay 1993, example 3.14).
 */
interface RandomTone {
  sampleRateHz: number;
  frequencyHz: number;
  levelDbfs: number;
  signalToNoiseDb: number;
  frames: number;
  phase: number;
}

function randomTone(uniform: () => number): RandomTone {
  const sampleRateHz = [44_100, 48_000, 96_000][Math.floor(3 * uniform())]!;
  return {
    sampleRateHz,
    frequencyHz: 20 * 500 ** uniform(),
    levelDbfs: -60 + 59 * uniform(),
    signalToNoiseDb: 40 + 60 * uniform(),
    frames: Math.floor(sampleRateHz * (0.5 + 4.5 * uniform() ** 4)),
    phase: 2 * Math.PI * uniform(),
  };
}

/** `step` 0 leaves Float32 as it is; otherwise rounded to codes with triangular dither of two steps. */
function samplesOf(tone: RandomTone, step: number, uniform: () => number): Float32Array {
  const gauss = seededGauss(uniform);
  const amplitude = 10 ** (tone.levelDbfs / 20);
  const noiseRms = amplitude * Math.SQRT1_2 * 10 ** (-tone.signalToNoiseDb / 20);
  return Float32Array.from({ length: tone.frames }, (_, frame) => {
    const cycles = (tone.frequencyHz * frame) / tone.sampleRateHz;
    const x =
      amplitude * Math.cos(2 * Math.PI * (cycles - Math.floor(cycles)) + tone.phase) + noiseRms * gauss();
    return step === 0 ? x : step * Math.round(x / step + uniform() - uniform());
  });
}

/** Errors of frequency and level against their Cramer-Rao standard deviations, and the level's in dB. */
function errorsOf(tone: RandomTone, step: number, uniform: () => number) {
  const measurer = new StreamMeasurer({ sampleRateHz: tone.sampleRateHz, channelCount: 1 });
  const samples = samplesOf(tone, step, uniform);
  measurer.push([samples], samples.length);
  const reading = measurer.finish()[0]!;
  if (reading.tone === null) throw new Error(`No tone was found in ${JSON.stringify(tone)}.`);
  const power = 10 ** (tone.levelDbfs / 10) / 2;
  // Float32's own rounding is 2^-25 of a sample, -150 dB: nothing beside noise at -100. Dithered codes add step^2/4.
  const ratio = power / (power * 10 ** (-tone.signalToNoiseDb / 10) + (step * step) / 4);
  const boundHz = (Math.sqrt(12 / (ratio * tone.frames ** 3)) * tone.sampleRateHz) / (2 * Math.PI);
  const boundDb = (20 / Math.LN10) * Math.sqrt(1 / (ratio * tone.frames));
  const levelDb = reading.tone.levelDbfs - tone.levelDbfs;
  return {
    frequency: (reading.tone.frequencyHz - tone.frequencyHz) / boundHz,
    level: levelDb / boundDb,
    levelDb,
    quiet: 10 * Math.log10(ratio) >= 60,
    claimed: reading.tone.uncertainty.frequencyHz / boundHz,
    wholeDb: (reading.levelDbfs! - tone.levelDbfs - 10 * Math.log10(1 + 1 / ratio)) / boundDb,
  };
}

const rms = (values: number[]) => Math.sqrt(values.reduce((sum, x) => sum + x * x, 0) / values.length);
const beyond = (values: number[], limit: number) =>
  values.filter((x) => Math.abs(x) > limit).length / values.length;

describe.each([
  { form: 'Float32', step: 0, count: 1000 },
  { form: '24 bits, dithered', step: 2 ** -23, count: 300 },
  { form: '16 bits, dithered', step: 2 ** -15, count: 300 },
])('$count random tones in $form', ({ step, count }) => {
  const uniform = seededUniform(20_260 + Math.round(1 / (step || 1)));
  const errors = Array.from({ length: count }, () => errorsOf(randomTone(uniform), step, uniform));
  const frequency = errors.map((error) => error.frequency);

  test('frequency error is the Cramer-Rao bound, where twice that was asked for', () => {
    // An efficient fit's r.m.s. is 1; of `count` draws it is known to 1/sqrt(2 count): four of these above it.
    expect(rms(frequency)).toBeLessThan(1 + 4 / Math.sqrt(2 * count));
    expect(rms(frequency)).toBeLessThan(2);
  });

  test('and is distributed like it: 4.6 % beyond two, next to none beyond four', () => {
    // Binomial: 4.55 % of `count`, four standard deviations above.
    expect(beyond(frequency, 2)).toBeLessThan(0.0455 + 4 * Math.sqrt((0.0455 * 0.9545) / count));
    expect(beyond(frequency, 3)).toBeLessThan(0.0027 + 4 * Math.sqrt(0.0027 / count));
    expect(Math.max(...frequency.map(Math.abs))).toBeLessThan(5);
  });

  test('level of every tone at 60 dB and better is within 0.005 dB', () => {
    const quiet = errors.filter((error) => error.quiet);
    expect(quiet.length).toBeGreaterThan(count / 5);
    expect(Math.max(...quiet.map((error) => Math.abs(error.levelDb)))).toBeLessThan(0.005);
    expect(rms(errors.map((error) => error.level))).toBeLessThan(1 + 4 / Math.sqrt(2 * count));
  });

  test('the whole level is tone and noise together, part cycles at the ends or not', () => {
    // Noise power counts too, but known so well that it adds little to the tone's own uncertainty.
    expect(rms(errors.map((error) => error.wholeDb))).toBeLessThan(1.3);
  });

  test('the uncertainty it claims is the bound', () => {
    // Noise density beside the tone from few segments: 30 independent bins and more, 20 % in each reading.
    const claimed = errors.map((error) => error.claimed).sort((a, b) => a - b);
    expect(claimed[count >> 1]).toBeGreaterThan(0.9);
    expect(claimed[count >> 1]).toBeLessThan(1.1);
  });
});
