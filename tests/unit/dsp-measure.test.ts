import { describe, expect, test } from 'vitest';
import { ToneBlocks } from '../../src/dsp/fit/tone-blocks.ts';
import { StreamMeasurer } from '../../src/dsp/measure/streaming-measure.ts';
import { ToneFollower } from '../../src/dsp/measure/tone-follower.ts';
import { WindowAnalyser } from '../../src/dsp/measure/window-analyser.ts';
import { AUDIO_BAND } from '../../src/dsp/reading.ts';
import { signal } from './dsp-signals.ts';

const sampleRateHz = 48_000;

function measured(samples: Float32Array | Float64Array, blockFrames = 4096, rate = sampleRateHz) {
  const measurer = new StreamMeasurer({ sampleRateHz: rate, channelCount: 1 });
  for (let from = 0; from < samples.length; from += blockFrames) {
    const to = Math.min(samples.length, from + blockFrames);
    measurer.push([samples.subarray(from, to)], to - from);
  }
  return measurer.finish()[0]!;
}

function made(seconds: number, of: (seconds: number, frame: number) => number): Float32Array {
  return Float32Array.from({ length: Math.round(seconds * sampleRateHz) }, (_, n) => of(n / sampleRateHz, n));
}

const tone = (frequencyHz: number, seconds: number, phase = 0) =>
  Math.cos(2 * Math.PI * ((frequencyHz * seconds) % 1) + phase);

describe('a record of one steady tone', () => {
  test.each([
    [997, 44_100],
    [41.3, 48_000],
    [9001.7, 96_000],
    [400, 8000],
    [1000, 192_000],
  ])('%f Hz at %i Hz: level, peaks, crest, frequency, phase', (frequencyHz, rate) => {
    const lines = [{ frequencyHz, amplitude: 0.5, phase: 1.1 }];
    const reading = measured(
      signal({ sampleRateHz: rate, frames: 2 * rate + 123, lines, dc: 0.01 }),
      1000,
      rate,
    );
    const level = 20 * Math.log10(0.5);
    // Rounding apart, the segments' window (-155 dB) is all that stands between these and the truth.
    expect(reading.tone!.levelDbfs).toBeCloseTo(level, 6);
    expect(reading.levelDbfs).toBeCloseTo(level, 5);
    expect(reading.tone!.frequencyHz).toBeCloseTo(frequencyHz, 6);
    expect(reading.tone!.phaseRadians).toBeCloseTo(1.1, 6);
    expect(reading.dcFullScale).toBeCloseTo(0.01, 6);
    expect(reading.tone!.sinadDb).toBeGreaterThan(100);
    expect(reading.samplePeakDbfs!).toBeLessThanOrEqual(20 * Math.log10(0.51) + 1e-9);
    // BS.1770's interpolator reads up to 0.22 dB high and 0.3 dB low (references, item 7); never below the samples.
    expect(reading.truePeakDbtp!).toBeGreaterThanOrEqual(reading.samplePeakDbfs!);
    expect(reading.truePeakDbtp!).toBeLessThan(20 * Math.log10(0.51) + 0.23);
  });

  test('its true peak is never below its samples, as the interpolator alone would read at a quarter of the rate', () => {
    const reading = measured(made(1, (s) => 0.5 * tone(12_000, s)));
    expect(reading.truePeakDbtp).toBe(reading.samplePeakDbfs);
  });

  test('reads the same however the blocks are cut', () => {
    const samples = signal({
      sampleRateHz,
      frames: 100_000,
      lines: [{ frequencyHz: 997, amplitude: 0.3 }],
      noiseRms: 1e-3,
    });
    const whole = measured(samples, samples.length);
    for (const blockFrames of [1, 333, 16_384]) {
      const cut = measured(samples, blockFrames);
      expect(cut.tone!.frequencyHz).toBeCloseTo(whole.tone!.frequencyHz, 9);
      expect(cut.tone!.thdPlusNoisePercent).toBeCloseTo(whole.tone!.thdPlusNoisePercent, 9);
      expect(cut.levelDbfs).toBeCloseTo(whole.levelDbfs!, 9);
      expect(cut.truePeakDbtp).toBe(whole.truePeakDbtp);
    }
  });

  test('part cycles at the ends do not bias the level', () => {
    // 5.25 cycles of 21 Hz: the plain mean square is 0.19 dB off.
    const samples = signal({
      sampleRateHz,
      frames: 12_000,
      lines: [{ frequencyHz: 21, amplitude: 0.5, phase: Math.PI / 4 }],
    });
    const plain = 10 * Math.log10((2 * samples.reduce((sum, x) => sum + x * x, 0)) / samples.length);
    expect(Math.abs(plain - 20 * Math.log10(0.5))).toBeGreaterThan(0.1);
    expect(measured(samples).levelDbfs).toBeCloseTo(20 * Math.log10(0.5), 3);
  });

  test('the whole level holds tone, harmonics and noise', () => {
    const lines = [
      { frequencyHz: 997, amplitude: 0.3 },
      { frequencyHz: 1994, amplitude: 0.03 },
    ];
    const reading = measured(signal({ sampleRateHz, frames: 240_000, lines, noiseRms: 0.01 }));
    const meanSquare = 0.045 + 0.00045 + 0.0001;
    // The tone's amplitude is known to 0.01 sqrt(2/240000) = 2.9e-5 of 0.3, which is 0.00084 dB; four of these.
    expect(Math.abs(reading.levelDbfs! - 10 * Math.log10(2 * meanSquare))).toBeLessThan(0.0034);
    // The Kaiser window widens the noise 2.6-fold: 0.01 sqrt(2 * 2.6/240000)/0.3 is 0.016 % of the tone; four of these.
    expect(Math.abs(reading.tone!.thdPercent - 10)).toBeLessThan(0.065);
  });

  test('its uncertainties are the Cramer-Rao bounds of its own noise', () => {
    const noiseRms = 0.5 * Math.SQRT1_2 * 0.01;
    const frames = 96_000;
    const { uncertainty } = measured(
      signal({ sampleRateHz, frames, lines: [{ frequencyHz: 997, amplitude: 0.5 }], noiseRms }),
    ).tone!;
    // Item 11 with a ratio of 1e4. The density beside the tone is read from some 30 independent bins: 20 %.
    const boundHz = (Math.sqrt(12 / (1e4 * frames ** 3)) * sampleRateHz) / (2 * Math.PI);
    expect(uncertainty.frequencyHz / boundHz).toBeGreaterThan(0.7);
    expect(uncertainty.frequencyHz / boundHz).toBeLessThan(1.3);
    const boundDb = (20 / Math.LN10) * Math.sqrt(1 / (1e4 * frames));
    expect(uncertainty.levelDb / boundDb).toBeCloseTo(uncertainty.frequencyHz / boundHz, 3);
  });
});

describe('what surrounds the tone', () => {
  test.each([960, 100])(
    'fades of %i frames at the ends are left out of its level and its distortion',
    (fade) => {
      const frames = 2 * sampleRateHz;
      const faded = made(2, (s, n) => 0.5 * tone(997, s) * Math.min(1, n / fade, (frames - 1 - n) / fade));
      const reading = measured(faded);
      expect(reading.tone!.levelDbfs).toBeCloseTo(20 * Math.log10(0.5), 4);
      expect(reading.tone!.sinadDb).toBeGreaterThan(110);
      const meanSquare = faded.reduce((sum, x) => sum + x * x, 0) / frames;
      expect(reading.levelDbfs).toBeCloseTo(10 * Math.log10(2 * meanSquare), 6);
    },
  );

  test('the edge of 30 ms of silence is no distortion', () => {
    expect(measured(made(4, (s) => (s < 0.03 ? 0 : 0.5 * tone(997, s)))).tone!.sinadDb).toBeGreaterThan(120);
  });

  test('a softer, distorted start leaves nothing in the figures of the rest', () => {
    const stepped = made(12, (s) =>
      s < 1.5 ? 0.2 * tone(997, s) + 0.05 * tone(1994, s) : 0.5 * tone(997, s),
    );
    const reading = measured(stepped);
    expect(reading.tone!.levelDbfs).toBeCloseTo(20 * Math.log10(0.5), 4);
    expect(reading.tone!.thdPercent).toBeLessThan(1e-4);
  });

  test('hum before the tone is not mistaken for it', () => {
    const reading = measured(made(20, (s) => 1e-4 * tone(50, s) + (s < 1.5 ? 0 : 0.5 * tone(997, s))));
    expect(reading.tone!.frequencyHz).toBeCloseTo(997, 4);
  });

  test.each([0, 1, 2048, 4095])('%i frames after the last whole hop are not left out', (extra) => {
    const plan = { segmentFrames: 16_384, hopFrames: 4096, blockFrames: 1024 };
    const blocks = new ToneBlocks(64);
    blocks.begin((2 * Math.PI * 997) / sampleRateHz, plan.blockFrames);
    const follower = new ToneFollower(997, sampleRateHz, plan, blocks);
    const frames = 16_384 + 5 * 4096 + extra;
    const lines = [{ frequencyHz: 997, amplitude: 0.5 }];
    follower.push(signal({ sampleRateHz, frames, lines }), 0, frames);
    expect(follower.finish(frames)!.spectrum.segments).toBe(extra === 0 ? 6 : 7);
  });

  test('a silent start is left out too, noise or none in it', () => {
    const noise = signal({ sampleRateHz, frames: 12 * sampleRateHz, noiseRms: 1e-4 });
    const late = made(12, (s, n) => noise[n]! + (s < 1.9 ? 0 : 0.5 * tone(997, s)));
    const reading = measured(late);
    expect(reading.tone!.levelDbfs).toBeCloseTo(20 * Math.log10(0.5), 4);
    // 71.0 dB of noise over the whole bandwidth, 20 kHz of 24 kHz counted.
    expect(reading.tone!.sinadDb).toBeCloseTo(70.97 + 0.79, 0);
    expect(measured(made(8, (s) => (s < 1 ? 0 : 0.5 * tone(997, s)))).tone!.levelDbfs).toBeCloseTo(
      -6.0206,
      4,
    );
  });

  test('clocks that wander by 10 parts in a million cost no level', () => {
    const reading = measured(
      made(20, (s) => 0.5 * Math.cos(2 * Math.PI * (1000 * s) + 0.1 * Math.sin((2 * Math.PI * s) / 10))),
    );
    expect(reading.tone!.levelDbfs).toBeCloseTo(20 * Math.log10(0.5), 3);
  });
});

describe('no steady tone', () => {
  const gauss = signal({ sampleRateHz, frames: 480_000, noiseRms: 0.1 });
  const cases: [string, Float32Array | Float64Array][] = [
    ['white noise', gauss],
    [
      'an exponential sweep',
      made(10, (s) => 0.5 * Math.sin(2 * Math.PI * 20 * 1.4476 * (Math.exp(s / 1.4476) - 1))),
    ],
    ['a slow glide of 100 Hz', made(10, (s) => 0.5 * Math.sin(2 * Math.PI * (1000 * s + 5 * s * s)))],
    ['two equal tones', made(3, (s) => 0.3 * tone(1000, s) + 0.3 * tone(1471, s))],
    ['steps of 10 dB', made(9, (s) => 0.5 * 10 ** (-Math.floor(s / 3) / 2) * tone(997, s))],
    ['bursts', made(8, (s) => (s % 1 < 0.5 ? 0.5 * tone(997, s) : 0))],
    ['plucked notes', made(8, (s) => 0.5 * Math.exp(-3 * (s % 2)) * tone(110, s))],
    ['a tone for half of the time', made(8, (s) => (s < 4 ? 0.5 * tone(997, s) : 0))],
    ['a tone whose phase breaks half-way', made(8, (s) => 0.5 * tone(997, s, s < 4 ? 0 : 2))],
    ['a tone 20 dB under noise', made(5, (s, n) => gauss[n]! + 0.014 * tone(997, s))],
    ['a constant', new Float64Array(96_000).fill(0.25)],
    ['less than two cycles', made(0.095, (s) => 0.5 * tone(20, s))],
    ['fewer than 64 frames', made(60 / sampleRateHz, (s) => 0.5 * tone(5000, s))],
    ['one frame', new Float32Array([0.5])],
  ];
  test.each(cases)('in %s', (_, samples) => {
    const reading = measured(samples);
    expect(reading.tone).toBeNull();
    let sum = 0;
    for (const x of samples) sum += x;
    expect(reading.dcFullScale).toBeCloseTo(sum / samples.length, 9);
  });

  test('silence has no levels either', () => {
    expect(measured(new Float32Array(96_000))).toMatchObject({
      levelDbfs: null,
      samplePeakDbfs: null,
      truePeakDbtp: null,
      crestFactorDb: null,
      dcFullScale: 0,
      tone: null,
    });
  });
});

describe('stream', () => {
  test('channels are measured each for itself', () => {
    const measurer = new StreamMeasurer({ sampleRateHz, channelCount: 3 });
    const channels = [997, 400].map((frequencyHz, index) =>
      signal({ sampleRateHz, frames: 48_000, lines: [{ frequencyHz, amplitude: 0.5 / (1 + index) }] }),
    );
    measurer.push([...channels, new Float64Array(48_000)], 48_000);
    const readings = measurer.finish();
    expect(readings.map((reading) => reading.tone && Math.round(reading.tone.frequencyHz))).toEqual([
      997,
      400,
      null,
    ]);
    expect(readings[1]!.tone!.levelDbfs).toBeCloseTo(20 * Math.log10(0.25), 6);
  });

  test('a long record keeps to the bound of its whole length, not of its head', () => {
    const frames = 200 * 8000;
    const noiseRms = 0.5 * Math.SQRT1_2 * 0.01;
    const samples = signal({
      sampleRateHz: 8000,
      frames,
      lines: [{ frequencyHz: 997, amplitude: 0.5 }],
      noiseRms,
    });
    const boundHz = (Math.sqrt(12 / (1e4 * frames ** 3)) * 8000) / (2 * Math.PI);
    expect(Math.abs(measured(samples, 4096, 8000).tone!.frequencyHz - 997)).toBeLessThan(4 * boundHz);
  });

  test('refuses what it cannot read', () => {
    expect(() => new StreamMeasurer({ sampleRateHz, channelCount: 0 })).toThrow('0 channels');
    expect(
      () => new StreamMeasurer({ sampleRateHz, channelCount: 1, band: { lowHz: 100, highHz: 50 } }),
    ).toThrow('100 to 50');
    const measurer = new StreamMeasurer({ sampleRateHz, channelCount: 2 });
    expect(() => measurer.push([new Float32Array(10)], 10)).toThrow('1 channels');
    expect(() => measurer.push([new Float32Array(10), new Float32Array(9)], 10)).toThrow('9 samples');
  });
});

describe('live window', () => {
  const analyse = (samples: Float32Array | Float64Array, expectedHz: number | null = null) =>
    new WindowAnalyser({ frames: samples.length, sampleRateHz }).analyse(samples, {
      band: AUDIO_BAND,
      expectedHz,
    });

  test.each([
    [20, 16_384],
    [41.3, 16_384],
    [997, 4096],
    [10_001, 65_536],
  ])('%f Hz with harmonics in %i frames', (frequencyHz, frames) => {
    const lines = [
      { frequencyHz, amplitude: 0.5, phase: 2 },
      { frequencyHz: 2 * frequencyHz, amplitude: 0.05, phase: 1 },
    ];
    const reading = analyse(signal({ sampleRateHz, frames, lines, noiseRms: 1e-5 }));
    // The window holds 6.8 cycles of 20 Hz: a shallower window, through which the 2nd harmonic shows a little.
    const few = frequencyHz === 20;
    expect(reading.tone!.levelDbfs).toBeCloseTo(20 * Math.log10(0.5), few ? 3 : 5);
    expect(Math.abs(reading.tone!.frequencyHz - frequencyHz)).toBeLessThan(few ? 1e-3 : 1e-4);
    const expected = 2 * frequencyHz > 20_000 ? 0 : 10;
    expect(reading.tone!.thdPercent).toBeCloseTo(expected, few ? 1 : 3);
  });

  test('is used again and again without a trace of what was before', () => {
    const analyser = new WindowAnalyser({ frames: 8192, sampleRateHz });
    const options = { band: AUDIO_BAND, expectedHz: null };
    const quiet = signal({
      sampleRateHz,
      frames: 8192,
      lines: [{ frequencyHz: 440, amplitude: 0.01 }],
      noiseRms: 1e-5,
    });
    const loud = signal({ sampleRateHz, frames: 8192, lines: [{ frequencyHz: 60, amplitude: 1 }], dc: 0.1 });
    const first = analyser.analyse(quiet, options);
    analyser.analyse(loud, options);
    analyser.analyse(new Float64Array(8192), options);
    expect(analyser.analyse(quiet, options)).toEqual(first);
  });

  test('an expected tone is found beneath louder hum and noise', () => {
    const lines = [
      { frequencyHz: 50, amplitude: 0.1 },
      { frequencyHz: 997, amplitude: 0.05 },
    ];
    const samples = signal({ sampleRateHz, frames: 16_384, lines, noiseRms: 0.05 });
    expect(analyse(samples, 1000).tone!.frequencyHz).toBeCloseTo(997, 0);
    expect(analyse(samples).tone?.frequencyHz ?? 50).toBeCloseTo(50, 0);
  });

  test('a level that is being turned is still one tone; a broken phase or a stop is none', () => {
    const frames = 16_384;
    const base = signal({ sampleRateHz, frames, lines: [{ frequencyHz: 997, amplitude: 0.5 }] });
    const turned = base.map((x, n) => x * 10 ** (n / frames / 20));
    expect(analyse(turned).tone!.levelDbfs).toBeCloseTo(20 * Math.log10(0.5) + 0.5, 1);
    const broken = base.map((x, n) => (n < frames / 2 ? x : -x));
    expect(analyse(broken).tone).toBeNull();
    const stopped = base.map((x, n) => (n < (3 * frames) / 4 ? x : 0));
    expect(analyse(stopped).tone).toBeNull();
  });

  test('refuses another length than its own', () => {
    expect(() => new WindowAnalyser({ frames: 10, sampleRateHz })).toThrow('10 frames');
    const analyser = new WindowAnalyser({ frames: 4096, sampleRateHz });
    expect(() => analyser.analyse(new Float32Array(4095), { band: AUDIO_BAND, expectedHz: null })).toThrow(
      '4095',
    );
  });
});
