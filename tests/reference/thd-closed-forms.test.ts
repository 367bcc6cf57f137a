import { describe, expect, test } from 'vitest';
import { StreamMeasurer } from '../../src/dsp/measure/streaming-measure.ts';
import { WindowAnalyser } from '../../src/dsp/measure/window-analyser.ts';
import { AUDIO_BAND, type Band } from '../../src/dsp/reading.ts';
import { seededGauss, seededUniform } from '../unit/seeded-random.ts';

const RATE_HZ = 48_000;

/** Peak of each sine `sin(n phi)`, n from 1; summed one by one, so that nothing folds back. */
type Amplitudes = (order: number) => number;

/** `seconds` of the series with all orders below half the sample rate, and noise at `snrDb` under the fundamental. */
function synthesised(
  of: Amplitudes,
  frequencyHz: number,
  seconds: number,
  snrDb: number | null,
): Float64Array {
  const highest = Math.ceil(RATE_HZ / 2 / frequencyHz) - 1;
  const amplitudes = Array.from({ length: highest + 1 }, (_, order) => (order === 0 ? 0 : of(order)));
  const orders = amplitudes.map((_, order) => order).filter((order) => Math.abs(amplitudes[order]!) > 0);
  const gauss = seededGauss(seededUniform(7));
  const noiseRms = snrDb === null ? 0 : 0.5 * Math.abs(amplitudes[1]!) * Math.SQRT1_2 * 10 ** (-snrDb / 20);
  return Float64Array.from({ length: Math.round(seconds * RATE_HZ) }, (_, n) => {
    const cycles = (frequencyHz * n) / RATE_HZ;
    const phi = 2 * Math.PI * (cycles - Math.floor(cycles)) + 0.3;
    let x = 0;
    for (const order of orders) x += amplitudes[order]! * Math.sin(order * phi);
    return 0.5 * x + (noiseRms > 0 ? noiseRms * gauss() : 0);
  });
}

/** Percent, F form, over the orders inside the band. */
function thdPercent(of: Amplitudes, frequencyHz: number, highHz = 20_000): number {
  let squares = 0;
  for (let order = 2; order * frequencyHz <= highHz; order += 1) squares += of(order) ** 2;
  return (100 * Math.sqrt(squares)) / Math.abs(of(1));
}

function read(samples: Float64Array, band: Band = AUDIO_BAND) {
  const measurer = new StreamMeasurer({ sampleRateHz: RATE_HZ, channelCount: 1, band });
  for (let from = 0; from < samples.length; from += 8192) {
    const to = Math.min(samples.length, from + 8192);
    measurer.push([samples.subarray(from, to)], to - from);
  }
  const { tone } = measurer.finish()[0]!;
  if (tone === null) throw new Error('No tone was found.');
  return tone;
}

const odd =
  (of: Amplitudes): Amplitudes =>
  (order) =>
    order % 2 === 1 ? of(order) : 0;

describe('ideal waves (references, item 3.1)', () => {
  const square = odd((n) => 1 / n);
  const waves: { name: string; of: Amplitudes; whole: number }[] = [
    { name: 'square', of: square, whole: 100 * Math.sqrt(Math.PI ** 2 / 8 - 1) },
    {
      name: 'triangle',
      of: odd((n) => (-1) ** ((n - 1) / 2) / n ** 2),
      whole: 100 * Math.sqrt(Math.PI ** 4 / 96 - 1),
    },
    { name: 'sawtooth', of: (n) => 1 / n, whole: 100 * Math.sqrt(Math.PI ** 2 / 6 - 1) },
  ];

  test.each(waves)('$name at 20 Hz has a thousand harmonics, and all count', ({ of, whole }) => {
    const tone = read(synthesised(of, 20, 3, null));
    // 1e-4 of the whole: single harmonics are read to about 1e-5 of the fundamental.
    expect(Math.abs(tone.thdPercent / thdPercent(of, 20) - 1)).toBeLessThan(2e-4);
    // The 1001st and on are missing: 1/n^2 beyond 1000 sums to 0.001, or half of that.
    expect(Math.abs(tone.thdPercent / whole - 1)).toBeLessThan(0.0025);
  });

  test.each(waves)('$name at 1 kHz is read as its band holds it', ({ of }) => {
    expect(Math.abs(read(synthesised(of, 1000, 2, null)).thdPercent / thdPercent(of, 1000) - 1)).toBeLessThan(
      1e-5,
    );
  });

  test('a square of 1 kHz in 20 kHz has 45.69 %, not 48.34 %; to the 9th harmonic 42.88 %', () => {
    const samples = synthesised(square, 1000, 1, null);
    expect(read(samples).thdPercent).toBeCloseTo(45.686, 3);
    expect(read(samples, { lowHz: 20, highHz: 10_000 }).thdPercent).toBeCloseTo(42.8795, 3);
    expect(read(samples, { lowHz: 20, highHz: 5000 }).thdPercent).toBeCloseTo(38.873, 3);
  });
});

/** Symmetric hard clip (references, item 3.2), against the clip level. */
function clipped(overdriveDb: number): Amplitudes {
  const drive = 10 ** (overdriveDb / 20);
  const theta = Math.asin(1 / drive);
  return odd((n) =>
    n === 1
      ? (2 / Math.PI) * (drive * theta + Math.cos(theta))
      : (4 / (Math.PI * n * (n * n - 1))) *
        ((n * Math.sin(n * theta)) / Math.tan(theta) - Math.cos(n * theta)),
  );
}

describe('hard-clipped sines at 60 dB', () => {
  test('the closed form itself: 4.6316 % at 1 dB and 4.6275 % to the 19th (references, item 3.2)', () => {
    expect(thdPercent(clipped(1), 1, 5000)).toBeCloseTo(4.6316, 4);
    expect(thdPercent(clipped(1), 1, 20)).toBeCloseTo(4.6275, 4);
    expect(thdPercent(clipped(0.25126), 1, 5000)).toBeCloseTo(1, 3);
  });

  const overdrives = [0.2, 0.25, 0.5, 1, 2, 3, 6, 10, 12];
  test.each([20, 40.3, 80, 160, 997, 4001])('%f Hz, from 0.2 to 12 dB over: within 0.5 %', (frequencyHz) => {
    for (const overdriveDb of overdrives) {
      const truth = thdPercent(clipped(overdriveDb), frequencyHz);
      const tone = read(synthesised(clipped(overdriveDb), frequencyHz, 1.5, 60));
      expect(Math.abs(tone.thdPercent / truth - 1), `${overdriveDb} dB over`).toBeLessThan(0.005);
      expect(tone.harmonicsDbc[1]).toBeCloseTo(
        20 * Math.log10(Math.abs(clipped(overdriveDb)(3) / clipped(overdriveDb)(1))),
        0,
      );
    }
  });

  test.each([41.3, 80, 997])('live, %f Hz in 16384 frames: within 1 %', (frequencyHz) => {
    const analyser = new WindowAnalyser({ frames: 16_384, sampleRateHz: RATE_HZ });
    for (const overdriveDb of overdrives.filter((overdrive) => overdrive >= 0.5)) {
      const samples = synthesised(clipped(overdriveDb), frequencyHz, 16_384 / RATE_HZ, 60);
      const { tone } = analyser.analyse(samples, { band: AUDIO_BAND, expectedHz: null });
      expect(Math.abs(tone!.thdPercent / thdPercent(clipped(overdriveDb), frequencyHz) - 1)).toBeLessThan(
        0.01,
      );
    }
  });
});

describe('soft curves (references, items 3.4 and 3.5)', () => {
  test.each([
    { kA2: 0.01, percent: 0.2519, dbc: -51.9758 },
    { kA2: 1 / 3, percent: 100 / 9, dbc: -20 * Math.log10(9) },
  ])('cubic with kA^2 of $kA2 has a third harmonic and nothing else', ({ kA2, percent, dbc }) => {
    // x - k x^3 of a sine: fundamental 1 - 3 kA^2/4, third kA^2/4; exact, so it can be formed sample by sample.
    const samples = Float64Array.from({ length: 96_000 }, (_, n) => {
      const x = Math.sin(2 * Math.PI * ((997 * n) / RATE_HZ));
      return 0.5 * (x - kA2 * x ** 3);
    });
    const tone = read(samples);
    expect(tone.thdPercent).toBeCloseTo(percent, 4);
    expect(tone.harmonicsDbc[1]).toBeCloseTo(dbc, 4);
    expect(Math.max(tone.harmonicsDbc[0]!, ...tone.harmonicsDbc.slice(2))).toBeLessThan(-140);
  });
});

describe('worked example of the standards (references, item 8)', () => {
  test('fundamental 1, H2 0.01, H3 0.003: THD 1.04403 %, SINAD 39.626 dB', () => {
    const tone = read(synthesised((n) => [0, 1, 0.01, 0.003][n] ?? 0, 997, 2, null));
    expect(tone.thdPercent).toBeCloseTo(1.04403, 5);
    expect(tone.sinadDb).toBeCloseTo(39.626, 3);
    // R form, against the total, of the same example: 1.04397 %.
    expect(tone.thdPlusNoisePercent).toBeCloseTo(1.04397, 4);
  });
});

describe('noise of known power (references, item 17)', () => {
  test.each([
    { bits: 16, dbfs: -93.3193 },
    { bits: 24, dbfs: -141.4841 },
  ])('triangular dither to $bits bits is $dbfs dBFS over the full bandwidth', ({ bits, dbfs }) => {
    const step = 2 ** (1 - bits);
    const uniform = seededUniform(11);
    const samples = synthesised((n) => (n === 1 ? 1 : 0), 997, 10, null).map(
      (x) => step * Math.round(x / step + uniform() - uniform()),
    );
    const tone = read(samples, { lowHz: 0, highHz: RATE_HZ / 2 });
    // Some 50,000 independent bins: 0.02 dB; four of these.
    expect(Math.abs(tone.noiseDbfs - dbfs)).toBeLessThan(0.08);
    const inBand = read(samples);
    expect(inBand.noiseDbfs - tone.noiseDbfs).toBeCloseTo(10 * Math.log10(19_980 / 24_000), 1);
  });
});
