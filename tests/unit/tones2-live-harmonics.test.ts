import { describe, expect, test } from 'vitest';
import { WindowAnalyser } from '../../src/dsp/measure/window-analyser.ts';
import { signal } from './dsp-signals.ts';

const sampleRateHz = 48_000;
const frames = 16_384;
const analyser = new WindowAnalyser({ frames, sampleRateHz });

describe('few cycles in a live window of 16384 frames, strong harmonics, no noise', () => {
  // Before harmonics were peeled: 1.1 %, 0.22 %, 0.023 %, 0.0036 % of THD's figure and noise at -30, -45, -61, -86 dBFS.
  test.each([
    { frequencyHz: 12, relative: 5e-4, noiseDbfs: -65 },
    { frequencyHz: 15, relative: 5e-5, noiseDbfs: -100 },
    { frequencyHz: 20, relative: 2e-4, noiseDbfs: -95 },
    { frequencyHz: 31.5, relative: 1e-4, noiseDbfs: -120 },
    { frequencyHz: 50, relative: 5e-6, noiseDbfs: -190 },
  ])('$frequencyHz Hz', ({ frequencyHz, relative, noiseDbfs }) => {
    for (const [second, third] of [
      [0.05, 0.4],
      [0.3, 0.1],
    ] as const) {
      for (const phase of [0, 0.7, 1.9, 3]) {
        const lines = [
          { frequencyHz, amplitude: 0.5, phase },
          { frequencyHz: 2 * frequencyHz, amplitude: 0.5 * second, phase: 1 + phase },
          { frequencyHz: 3 * frequencyHz, amplitude: 0.5 * third, phase: 2 * phase },
          { frequencyHz: 5 * frequencyHz, amplitude: 0.01 },
        ];
        const samples = signal({ sampleRateHz, frames, lines, dc: 0.01 });
        const band = { lowHz: 10, highHz: 20_000 };
        const tone = analyser.analyse(samples, { band, expectedHz: null }).tone!;
        const truth = 100 * Math.hypot(second, third, 0.02);
        expect(Math.abs(tone.thdPercent / truth - 1)).toBeLessThan(relative);
        expect(tone.noiseDbfs).toBeLessThan(noiseDbfs);
        expect(tone.levelDbfs).toBeCloseTo(20 * Math.log10(0.5), 3);
      }
    }
  });

  test('a tone without harmonics is peeled of nothing', () => {
    const lines = [{ frequencyHz: 20, amplitude: 0.5 }];
    const tone = analyser.analyse(signal({ sampleRateHz, frames, lines, noiseRms: 1e-4 }), {
      band: { lowHz: 10, highHz: 20_000 },
      expectedHz: null,
    }).tone!;
    // Noise of 1e-4 over 20 kHz of 24: -77.8 dBFS.
    expect(tone.noiseDbfs).toBeCloseTo(-77.8, 0);
    expect(tone.thdPercent).toBeLessThan(0.02);
  });
});
