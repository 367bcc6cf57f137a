import { writeFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { notchFigures } from '../../src/dsp/distortion/notch-figures.ts';
import { measureRecord, signal } from '../unit/dsp-signals.ts';
import { seededUniform } from '../unit/seeded-random.ts';
import { lacks, runPython, runSox } from './oracle.ts';
import { scratchFolder } from './scratch-folder.ts';

/** Rounded to codes with triangular dither of two steps (references, item 17): noise of step^2/4, white up to half the rate. */
function dithered(samples: Float64Array, bits: number, seed: number): Float64Array {
  const step = 2 ** (1 - bits);
  const uniform = seededUniform(seed);
  return samples.map((x) => step * Math.round(x / step + uniform() - uniform()));
}

describe('floor of the engine itself on Float32: THD+N below -140 dB', () => {
  // Float32 rounds by 2^-25 of the sample: about -150 dB. The issue asks for -140.
  const cases = [20, 63.5, 997, 3011.7, 10_007, 19_990].flatMap((frequencyHz) =>
    [44_100, 48_000, 96_000].map((sampleRateHz) => ({ frequencyHz, sampleRateHz })),
  );
  test.each(cases)(
    '$frequencyHz Hz at $sampleRateHz Hz, by fit and by notch',
    ({ frequencyHz, sampleRateHz }) => {
      const lines = [{ frequencyHz, amplitude: 0.7, phase: 0.4 }];
      const samples = Float32Array.from(signal({ sampleRateHz, frames: 2 * sampleRateHz, lines, dc: 0.001 }));
      const { tone } = measureRecord(samples, sampleRateHz);
      expect(tone!.sinadDb).toBeGreaterThan(140);
      expect(20 * Math.log10(tone!.thdPercent / 100)).toBeLessThan(-140);
      expect(notchFigures(samples, { sampleRateHz, frequencyHz })!.compensatedSinadDb).toBeGreaterThan(140);
    },
  );
});

describe('16 bits with triangular dither: within 0.1 dB of theory', () => {
  test.each([
    { frequencyHz: 20, lowHz: 20, highHz: 20_000 },
    { frequencyHz: 997, lowHz: 20, highHz: 20_000 },
    { frequencyHz: 997, lowHz: 300, highHz: 3400 },
    { frequencyHz: 10_007, lowHz: 20, highHz: 20_000 },
    { frequencyHz: 19_990, lowHz: 20, highHz: 20_000 },
  ])('$frequencyHz Hz, $lowHz to $highHz Hz', ({ frequencyHz, lowHz, highHz }) => {
    const sampleRateHz = 48_000;
    const band = { lowHz, highHz };
    const plain = signal({
      sampleRateHz,
      frames: 10 * sampleRateHz,
      lines: [{ frequencyHz, amplitude: 0.9 }],
    });
    const samples = dithered(plain, 16, 5);
    const noise = ((2 ** -15) ** 2 / 4) * ((highHz - lowHz) / (sampleRateHz / 2));
    const theoryDb = 10 * Math.log10(0.9 ** 2 / 2 / noise);
    const { tone } = measureRecord(samples, sampleRateHz, band);
    expect(Math.abs(tone!.sinadDb - theoryDb)).toBeLessThan(0.1);
    expect(Math.abs(tone!.noiseDbfs - 10 * Math.log10(2 * noise))).toBeLessThan(0.1);
    // The notch takes along the noise inside its 3 dB width, all of it at most; the rest it gives back.
    const q = 3;
    const taken = frequencyHz < highHz ? Math.min(frequencyHz / q, highHz - lowHz) / (highHz - lowHz) : 0;
    const byNotch =
      notchFigures(samples, { sampleRateHz, frequencyHz, q, band })!.compensatedSinadDb - theoryDb;
    expect(byNotch).toBeGreaterThan(-0.1);
    expect(byNotch).toBeLessThan(0.1 - 10 * Math.log10(1 - taken));
  });
});

/** Harmonics from the 2nd up in the proportion 4 : 3 : 2 : 1, their powers together at `thdDbc`. */
function mixture(frequencyHz: number, thdDbc: number) {
  const shares = [4, 3, 2, 1].map((part) => part / Math.hypot(4, 3, 2, 1));
  return [1, ...shares.map((share) => share * 10 ** (thdDbc / 20))].map((share, at) => ({
    frequencyHz: (at + 1) * frequencyHz,
    amplitude: 0.8 * share,
    phase: 1.3 * at,
  }));
}

describe('THD of known mixtures: within 0.05 dB down to -110 dBc', () => {
  const sampleRateHz = 48_000;
  const levels = [-20, -40, -60, -80, -90, -100, -110];
  test.each([41.3, 997, 3011.7])('%f Hz, in Float32 and in dithered 24 bits', (frequencyHz) => {
    for (const thdDbc of levels) {
      const plain = signal({ sampleRateHz, frames: 3 * sampleRateHz, lines: mixture(frequencyHz, thdDbc) });
      const forms = { float32: Float32Array.from(plain), bits24: dithered(plain, 24, 3) };
      for (const [form, samples] of Object.entries(forms)) {
        const { thdPercent, uncertainty } = measureRecord(samples, sampleRateHz).tone!;
        const readDbc = 20 * Math.log10(thdPercent / 100);
        expect(Math.abs(readDbc - thdDbc), `${thdDbc} dBc in ${form}`).toBeLessThan(0.05);
        const u = 8.686 * (uncertainty.thdPercent! / thdPercent);
        // Noise alone would allow more than this only if something were wrong: five standard uncertainties and arithmetic.
        expect(Math.abs(readDbc - thdDbc), `${thdDbc} dBc in ${form}`).toBeLessThan(5 * u + 1e-5);
      }
    }
  });
});

describe.skipIf(lacks('python', 'sox'))(
  'a file that SoX made and dithered, by numpy from one least-squares fit',
  () => {
    const scratch = scratchFolder();

    test.each([
      { bits: 16, dbfs: -93.3193 },
      { bits: 24, dbfs: -141.4841 },
    ])('$bits bits', ({ bits, dbfs }) => {
      const sampleRateHz = 48_000;
      const file = scratch(`tone${bits}.wav`);
      const synth = ['synth', '8', 'sine', '997', 'vol', '0.5', 'dither'];
      runSox('-n', '-r', '48000', '-c', '1', '-b', String(bits), file, ...synth);
      const { stdout } = runSox(file, '-t', 'f64', '-');
      const samples = new Float64Array(
        stdout.buffer.slice(stdout.byteOffset, stdout.byteOffset + stdout.byteLength),
      );
      writeFileSync(scratch('tone.f64'), new Uint8Array(samples.buffer));
      const numpy = runPython('residual_spectrum.py', [
        '48000',
        '997',
        '20',
        '20000',
        scratch('tone.f64'),
      ]) as {
        noiseDbfs: number;
        thdPlusNoisePercent: number;
      };
      const tone = measureRecord(samples, sampleRateHz).tone!;
      const theoryDbfs = dbfs + 10 * Math.log10(19_980 / 24_000);
      // SoX's triangular dither is that of the theory; 0.1 dB is the issue's.
      expect(Math.abs(tone.noiseDbfs - theoryDbfs)).toBeLessThan(0.1);
      expect(Math.abs(tone.noiseDbfs - numpy.noiseDbfs)).toBeLessThan(0.1);
      expect(Math.abs(20 * Math.log10(tone.thdPlusNoisePercent / numpy.thdPlusNoisePercent))).toBeLessThan(
        0.1,
      );
    });
  },
);
