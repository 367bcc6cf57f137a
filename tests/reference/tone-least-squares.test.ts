import { writeFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { StreamMeasurer } from '../../src/dsp/measure/streaming-measure.ts';
import { signal } from '../unit/dsp-signals.ts';
import { lacks, runPython } from './oracle.ts';
import { scratchFolder } from './scratch-folder.ts';

interface ScipyFit {
  frequencyHz: number;
  levelDbfs: number;
  dc: number;
}

const RATE_HZ = 48_000;

describe.skipIf(lacks('python'))('the same samples fitted by scipy (curve_fit, four parameters)', () => {
  const scratch = scratchFolder();

  test('agree far inside the noise that both see', () => {
    const cases = [
      { frequencyHz: 20.37, amplitude: 0.3, snrDb: 40, frames: 24_000 },
      { frequencyHz: 63, amplitude: 0.001, snrDb: 50, frames: 30_011 },
      { frequencyHz: 440.4, amplitude: 0.9, snrDb: 80, frames: 65_536 },
      { frequencyHz: 997, amplitude: 0.5, snrDb: 60, frames: 48_000 },
      { frequencyHz: 9876.5, amplitude: 0.05, snrDb: 100, frames: 96_001 },
    ];
    const readings = cases.map(({ frequencyHz, amplitude, snrDb, frames }, index) => {
      const noiseRms = amplitude * Math.SQRT1_2 * 10 ** (-snrDb / 20);
      const lines = [{ frequencyHz, amplitude, phase: 1 + index }];
      const samples = signal({ sampleRateHz: RATE_HZ, frames, lines, dc: 0.01, noiseRms, seed: index + 1 });
      writeFileSync(scratch(`${index}.f64`), new Uint8Array(samples.buffer));
      const measurer = new StreamMeasurer({ sampleRateHz: RATE_HZ, channelCount: 1 });
      measurer.push([samples], frames);
      return measurer.finish()[0]!;
    });
    const args = cases.flatMap(({ frequencyHz, frames }, index) => [
      scratch(`${index}.f64`),
      String(frequencyHz + (0.1 * RATE_HZ) / frames),
    ]);
    const scipy = runPython('sine_fit.py', [String(RATE_HZ), ...args]) as ScipyFit[];
    cases.forEach(({ snrDb, frames, frequencyHz }, index) => {
      const ratio = 10 ** (snrDb / 10);
      const boundHz = (Math.sqrt(12 / (ratio * frames ** 3)) * RATE_HZ) / (2 * Math.PI);
      const boundDb = (20 / Math.LN10) * Math.sqrt(1 / (ratio * frames));
      const { tone } = readings[index]!;
      // Two least-squares fits of the same samples differ by how they treat DC and harmonics: scipy's fits
      // DC with the tone, ours takes it from a windowed spectrum. Over few cycles that costs a part of the bound.
      const cycles = (frequencyHz * frames) / RATE_HZ;
      const part = 0.02 + 2 / cycles;
      expect(Math.abs(tone!.frequencyHz - scipy[index]!.frequencyHz) / boundHz).toBeLessThan(part);
      expect(Math.abs(tone!.levelDbfs - scipy[index]!.levelDbfs) / boundDb).toBeLessThan(part);
      const boundDc = (10 ** (scipy[index]!.levelDbfs / 20) * Math.SQRT1_2) / Math.sqrt(ratio * frames);
      expect(Math.abs(readings[index]!.dcFullScale - scipy[index]!.dc)).toBeLessThan(6 * boundDc);
    });
  });
});
