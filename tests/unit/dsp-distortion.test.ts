import { describe, expect, test } from 'vitest';
import { distortionFigures } from '../../src/dsp/distortion/distortion-figures.ts';
import { KaiserShelf, ROOMY_SPACING_BINS } from '../../src/dsp/distortion/kaiser-shelf.ts';
import { overlapVariance } from '../../src/dsp/distortion/overlap.ts';
import { SegmentSpectrum } from '../../src/dsp/distortion/segment-spectrum.ts';
import { AUDIO_BAND } from '../../src/dsp/reading.ts';
import { kaiserWindow } from '../../src/dsp/spectrum/kaiser.ts';
import { type Line, signal } from './dsp-signals.ts';

const sampleRateHz = 48_000;

interface Case {
  frequencyHz: number;
  lines?: readonly Line[];
  frames?: number;
  segments?: number;
  dc?: number;
  noiseRms?: number;
}

/** Tone of peak 0.5 and phase 0.8 with further lines, in segments that overlap by three quarters. */
function spectrumOf({ frequencyHz, lines = [], frames = 16_384, segments = 1, dc = 0, noiseRms = 0 }: Case) {
  const hop = frames / 4;
  const spectrum = new SegmentSpectrum({ frames, sampleRateHz, lowestHz: 3 * (sampleRateHz / frames) });
  spectrum.begin(frequencyHz);
  const all = [{ frequencyHz, amplitude: 0.5, phase: 0.8 }, ...lines];
  const samples = signal({ sampleRateHz, frames: frames + (segments - 1) * hop, lines: all, dc, noiseRms });
  for (let segment = 0; segment < segments; segment += 1) spectrum.add(samples, segment * hop);
  spectrum.finish(hop);
  return spectrum;
}

describe('harmonics of a segment', () => {
  test.each([41.3, 997, 5003.7])(
    'of %f Hz come out in amplitude and phase to the fundamental',
    (frequencyHz) => {
      const lines = [2, 3, 4].map((order) => ({
        frequencyHz: order * frequencyHz,
        amplitude: 0.1 / order,
        phase: order * 0.8 - 0.3 * order,
      }));
      const { view } = spectrumOf({ frequencyHz, lines, segments: 5, dc: 0.02 });
      for (const order of [2, 3, 4]) {
        // x = a cos(n theta - 0.3 n): cosine a cos(0.3 n), sine a sin(0.3 n).
        expect(view.cosine[order - 2]).toBeCloseTo((0.1 / order) * Math.cos(0.3 * order), 6);
        expect(view.sine[order - 2]).toBeCloseTo((0.1 / order) * Math.sin(0.3 * order), 6);
      }
      expect(view.dc).toBeCloseTo(0.02, 7);
      expect(view.amplitude).toBeCloseTo(0.5, 6);
    },
  );

  test('are held up to half the sample rate', () => {
    const { view } = spectrumOf({ frequencyHz: 997 });
    expect(view.count).toBe(Math.floor(24_000 / 997) - 1);
  });

  test('their sigma is what repeated noise shows', () => {
    const spectrum = new SegmentSpectrum({ frames: 4096, sampleRateHz, lowestHz: 500 });
    let squares = 0;
    let claimed = 0;
    let count = 0;
    for (let seed = 1; seed <= 40; seed += 1) {
      spectrum.begin(997);
      const lines = [{ frequencyHz: 997, amplitude: 0.5 }];
      const samples = signal({ sampleRateHz, frames: 4096 + 3 * 1024, lines, noiseRms: 1e-3, seed });
      for (let hop = 0; hop < 4; hop += 1) spectrum.add(samples, hop * 1024);
      spectrum.finish(1024);
      for (let held = 0; held < spectrum.view.count; held += 1) {
        squares += spectrum.view.cosine[held]! ** 2 + spectrum.view.sine[held]! ** 2;
        claimed += 2 * spectrum.view.sigma[held]! ** 2;
        count += 2;
      }
    }
    // 40 x 23 x 2 = 1840 terms: their mean square is known to sqrt(2/1840) = 3.3 %; four of these.
    expect(count).toBeGreaterThan(1700);
    expect(Math.abs(squares / claimed - 1)).toBeLessThan(0.13);
  });
});

describe('noise', () => {
  test.each([41.3, 60, 997, 9000])(
    'white, under and between the harmonics of %f Hz, is read over the band',
    (frequencyHz) => {
      const lines = [2, 3, 4, 5].map((order) => ({ frequencyHz: order * frequencyHz, amplitude: 0.05 }));
      const inside = lines.filter((line) => line.frequencyHz < 24_000);
      const noiseRms = 1e-3;
      const spectrum = spectrumOf({ frequencyHz, lines: inside, frames: 32_768, segments: 12, noiseRms });
      const share = (high: number, low: number) => (noiseRms * noiseRms * (high - low)) / 24_000;
      // Some 5000 independent bins: 1.4 %; four of these.
      expect(spectrum.noise.total() / (noiseRms * noiseRms)).toBeCloseTo(1, 1);
      expect(Math.abs(spectrum.noise.total() / (noiseRms * noiseRms) - 1)).toBeLessThan(0.06);
      const band = { lowHz: 1000, highHz: 8000 };
      expect(Math.abs(spectrum.noise.inBand(band, sampleRateHz) / share(8000, 1000) - 1)).toBeLessThan(0.1);
      expect(spectrum.view.noiseRms).toBeCloseTo(Math.sqrt(spectrum.noise.total()), 12);
    },
  );

  test('a line between the harmonics is noise, and nowhere near a harmonic', () => {
    const spectrum = spectrumOf({
      frequencyHz: 997,
      lines: [{ frequencyHz: 2511, amplitude: 0.01 }],
      segments: 4,
    });
    expect(spectrum.noise.total()).toBeCloseTo(0.01 ** 2 / 2, 8);
    const figures = distortionFigures(spectrum.view, spectrum.noise, 0.5, AUDIO_BAND);
    expect(figures.thdPercent).toBeLessThan(1e-4);
    expect(figures.thdPlusNoisePercent).toBeCloseTo(2, 2);
  });

  test('overlapping segments tell less than independent ones', () => {
    const window = kaiserWindow(20, 1024);
    expect(overlapVariance(window, 256, 1)).toBe(1);
    expect(overlapVariance(window, 1024, 8)).toBeCloseTo(1 / 8, 12);
    expect(overlapVariance(window, 1, 8)).toBeGreaterThan(0.99);
    const quarter = overlapVariance(window, 256, 8);
    expect(quarter).toBeGreaterThan(1 / 8);
    expect(quarter).toBeLessThan(1 / 2);
  });
});

describe('window for the spacing', () => {
  test('is the deepest that leaves room, and never wider than the room', () => {
    const shelf = new KaiserShelf(1024, 3);
    expect(shelf.pick(ROOMY_SPACING_BINS).beta).toBe(20);
    for (const spacing of [3, 4, 7.4, 10, 15]) {
      const window = shelf.pick(spacing);
      expect(window.mainLobeBins).toBeLessThanOrEqual(Math.max(1, 0.36 * spacing));
      expect(window.beta).toBeLessThan(20);
    }
  });
});

describe('figures', () => {
  const figures = (lines: readonly Line[], band = AUDIO_BAND, noiseRms = 0) => {
    const { view, noise } = spectrumOf({ frequencyHz: 1000, lines, segments: 4, noiseRms });
    return distortionFigures(view, noise, 0.5, band);
  };

  test('only harmonics inside the band count, one on its edge included', () => {
    const lines = [
      { frequencyHz: 2000, amplitude: 0.005 },
      { frequencyHz: 20_000, amplitude: 0.005 },
      { frequencyHz: 21_000, amplitude: 0.05 },
    ];
    expect(figures(lines).thdPercent).toBeCloseTo(Math.SQRT2, 5);
    expect(figures(lines, { lowHz: 2500, highHz: 20_000 }).thdPercent).toBeCloseTo(1, 5);
    expect(figures(lines, { lowHz: 20, highHz: 22_000 }).thdPercent).toBeCloseTo(Math.sqrt(102), 4);
  });

  test('ten harmonics are listed, the second first', () => {
    const { harmonicsDbc } = figures([
      { frequencyHz: 2000, amplitude: 0.005 },
      { frequencyHz: 11_000, amplitude: 0.0005 },
    ]);
    expect(harmonicsDbc).toHaveLength(10);
    expect(harmonicsDbc[0]).toBeCloseTo(-40, 4);
    expect(harmonicsDbc[9]).toBeCloseTo(-60, 4);
  });

  test('a bare tone has finite figures below -140 dB, in 64 bits and after rounding to Float32', () => {
    const bare = figures([]);
    expect(bare.sinadDb).toBeGreaterThan(140);
    for (const value of [...bare.harmonicsDbc, bare.thdPercent, bare.noiseDbfs, bare.sinadDb]) {
      expect(Number.isFinite(value)).toBe(true);
    }
    const samples = Float32Array.from(
      signal({ sampleRateHz, frames: 16_384, lines: [{ frequencyHz: 997, amplitude: 0.5 }] }),
    );
    const spectrum = new SegmentSpectrum({ frames: 16_384, sampleRateHz, lowestHz: 900 });
    spectrum.begin(997);
    spectrum.add(samples, 0);
    spectrum.finish(16_384);
    const rounded = distortionFigures(spectrum.view, spectrum.noise, 0.5, AUDIO_BAND);
    expect(rounded.sinadDb).toBeGreaterThan(140);
    expect(Math.max(...rounded.harmonicsDbc)).toBeLessThan(-140);
  });

  test('noise alone is hardly distortion: it is taken off, and the rest is no more than its own scatter', () => {
    const noisy = figures([], AUDIO_BAND, 0.5 * Math.SQRT1_2 * 1e-3);
    // Noise of 0.1 %. What falls on 19 harmonics of 2 * 2.56/16384 of the bandwidth each would alone be 0.005 %.
    expect(noisy.thdPercent).toBeLessThan(0.005);
    expect(noisy.thdPlusNoisePercent).toBeCloseTo(0.1 * Math.sqrt(19_980 / 24_000), 2);
    expect(Math.min(...noisy.harmonicsDbc)).toBeGreaterThan(-120);
  });

  test('what noise adds at the harmonics is taken off again', () => {
    // 0.1 % of distortion under noise of 1 %: one segment's noise on 19 harmonics would read 0.126 %. In one
    // reading the square scatters by 27 %, in the mean of 20 by 6 %; four of these.
    let squares = 0;
    for (let seed = 1; seed <= 20; seed += 1) {
      const noiseRms = 0.5 * Math.SQRT1_2 * 0.01;
      const lines = [
        { frequencyHz: 1000, amplitude: 0.5 },
        { frequencyHz: 2000, amplitude: 0.0005 },
      ];
      const spectrum = new SegmentSpectrum({ frames: 16_384, sampleRateHz, lowestHz: 900 });
      spectrum.begin(1000);
      spectrum.add(signal({ sampleRateHz, frames: 16_384, lines, noiseRms, seed }), 0);
      spectrum.finish(16_384);
      squares += distortionFigures(spectrum.view, spectrum.noise, 0.5, AUDIO_BAND).thdPercent ** 2 / 20;
    }
    expect(Math.abs(squares / 0.01 - 1)).toBeLessThan(0.25);
  });
});
