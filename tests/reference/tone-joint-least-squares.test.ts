import { writeFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { fitSeveralTones } from '../../src/dsp/fit/several-tones.ts';
import { fitCombinations } from '../../src/dsp/fit/sine-fit.ts';
import { signal } from '../unit/dsp-signals.ts';
import { lacks, runPython, runSox } from './oracle.ts';
import { scratchFolder } from './scratch-folder.ts';

interface ScipyLine {
  frequencyHz: number;
  amplitude: number;
  phaseRadians: number;
  frequencyDeviation: number;
  amplitudeDeviation: number;
}

const sampleRateHz = 48_000;

describe.skipIf(lacks('python'))(
  'several lines at once, by scipy (least_squares) from the same samples',
  () => {
    const scratch = scratchFolder();

    test.each([
      { name: 'four parameters, 1.6 cycles', frames: 4800, hz: [16.3], amplitudes: [0.4] },
      { name: 'two tones 2 bins apart', frames: 9600, hz: [1000, 1010], amplitudes: [0.3, 0.2] },
      {
        name: 'five tones',
        frames: 6000,
        hz: [63, 400, 997, 5011.3, 19_000],
        amplitudes: [0.1, 0.2, 0.05, 0.01, 0.1],
      },
    ])('$name', ({ frames, hz, amplitudes }) => {
      const lines = hz.map((frequencyHz, k) => ({ frequencyHz, amplitude: amplitudes[k]!, phase: 1 + k }));
      const samples = signal({ sampleRateHz, frames, lines, dc: 0.02, noiseRms: 1e-3 });
      writeFileSync(scratch('lines.f64'), new Uint8Array(samples.buffer));
      const starts = hz.map((each) => each + (0.1 * sampleRateHz) / frames);
      const scipy = runPython('joint_fit.py', [
        scratch('lines.f64'),
        String(sampleRateHz),
        ...starts.map(String),
      ]);
      const orders = hz.map((_, k) => hz.map((__, j) => (j === k ? 1 : 0)));
      const ours = fitCombinations(samples, sampleRateHz, starts, orders)!;
      (scipy as ScipyLine[]).forEach((theirs, k) => {
        const line = ours.lines[k]!;
        // One least-squares problem has one answer: scipy's numerical Jacobian stops within 1e-4 of a standard deviation.
        expect(Math.abs(line.frequencyHz - theirs.frequencyHz)).toBeLessThan(
          1e-3 * theirs.frequencyDeviation,
        );
        expect(Math.abs(line.amplitude - theirs.amplitude)).toBeLessThan(1e-3 * theirs.amplitudeDeviation);
        const turn = (line.phaseRadians - theirs.phaseRadians) / (2 * Math.PI);
        expect(Math.abs(turn - Math.round(turn))).toBeLessThan(1e-6);
        // And one covariance, up to that Jacobian's differences of 1e-6.
        expect(line.uncertainty.frequencyHz / theirs.frequencyDeviation).toBeCloseTo(1, 4);
        expect(line.uncertainty.amplitude / theirs.amplitudeDeviation).toBeCloseTo(1, 4);
      });
    });
  },
);

/** One second of a sine by SoX, in its 32-bit arithmetic. */
function soxSine(frequencyHz: number, volume: number): Float64Array {
  const out = ['-r', String(sampleRateHz), '-c', '1', '-t', 'f64', '-'];
  const { stdout } = runSox('-n', ...out, 'synth', '1', 'sine', String(frequencyHz), 'vol', String(volume));
  return new Float64Array(stdout.buffer.slice(stdout.byteOffset, stdout.byteOffset + stdout.byteLength));
}

describe.skipIf(lacks('sox'))('tones made by SoX', () => {
  test('four at once come out as they were asked for', () => {
    const asked = [
      { hz: 440, volume: 0.2 },
      { hz: 444, volume: 0.1 },
      { hz: 3000, volume: 0.001 },
      { hz: 12_345, volume: 0.4 },
    ];
    const voices = asked.map(({ hz, volume }) => soxSine(hz, volume));
    const samples = voices[0]!.map((_, n) => voices.reduce((sum, voice) => sum + voice[n]!, 0));
    expect(samples).toHaveLength(sampleRateHz);
    const { lines } = fitSeveralTones(samples, sampleRateHz, 4)!;
    asked.forEach(({ hz, volume }, k) => {
      // 32-bit codes err by 1.3e-10 r.m.s. each: 1e-12 in the amplitude; SoX's own phase steps cost more, 1e-8.
      expect(Math.abs(lines[k]!.amplitude - volume)).toBeLessThan(1e-8);
      expect(Math.abs(lines[k]!.frequencyHz - hz)).toBeLessThan(1e-6);
      expect(Math.abs(lines[k]!.phaseRadians + Math.PI / 2)).toBeLessThan(1e-5);
    });
  });
});
