import { expect, it } from 'vitest';
import { StreamMeasurer } from '../../src/dsp/measure/streaming-measure.ts';
import { seededGauss, seededUniform } from './seeded-random.ts';

const RATE_HZ = 44_100;

/** A tone with a 2nd harmonic 40 dB below and noise whose power steps up by four after `stepSeconds`. */
function measured(seconds: number, stepSeconds: number) {
  const gauss = seededGauss(seededUniform(7));
  const measurer = new StreamMeasurer({ sampleRateHz: RATE_HZ, channelCount: 1 });
  const block = new Float32Array(RATE_HZ);
  for (let second = 0; second < seconds; second += 1) {
    const noiseRms = second < stepSeconds ? 1e-3 : 2e-3;
    for (let n = 0; n < RATE_HZ; n += 1) {
      const turns = (997 * (second * RATE_HZ + n)) / RATE_HZ;
      const phase = 2 * Math.PI * (turns - Math.floor(turns));
      block[n] = 0.5 * Math.cos(phase) + 0.005 * Math.sin(2 * phase) + noiseRms * gauss();
    }
    measurer.push([block], RATE_HZ);
  }
  return measurer.finish()[0]!.tone!;
}

it('a long record weighs its seconds alike, though its later segments lie further apart', () => {
  const tone = measured(70, 30);
  // 30 s of power 1 and 40 s of power 4, white up to half the rate, of which 20 Hz to 20 kHz are read.
  const share = (20_000 - 20) / (RATE_HZ / 2);
  const power = ((30 * 1 + 40 * 4) / 70) * 1e-6 * share;
  // 70 s of 20 kHz scatter by 0.003 dB; the ends of the record weigh a little less: 0.2 s of 70.
  expect(Math.abs(tone.noiseDbfs - 10 * Math.log10(2 * power))).toBeLessThan(0.03);
  expect(tone.thdPercent).toBeCloseTo(1, 3);
  // The noise beside the tone is known to 1 % and better, and says what the bound is.
  const ratio = 0.125 / (power / share);
  const boundHz = (Math.sqrt(12 / (ratio * (70 * RATE_HZ) ** 3)) * RATE_HZ) / (2 * Math.PI);
  expect(tone.uncertainty.frequencyHz / boundHz).toBeGreaterThan(0.9);
  expect(tone.uncertainty.frequencyHz / boundHz).toBeLessThan(1.1);
}, 60_000);
