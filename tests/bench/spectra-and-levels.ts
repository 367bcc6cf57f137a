/** How many times faster than real time each meter takes in a mono stream, and the heap it leaves for each block. */
import { OctaveFilterBank } from '../../src/dsp/bands/filter-bank.ts';
import { fractionalOctaveBands } from '../../src/dsp/bands/fractional-octave.ts';
import { EquivalentLevel } from '../../src/dsp/level/equivalent-level.ts';
import { FineTruePeakMeter } from '../../src/dsp/level/fine-true-peak.ts';
import { FAST_SECONDS, TimeWeightedLevel } from '../../src/dsp/level/time-weighted-level.ts';
import { TruePeakMeter } from '../../src/dsp/level/true-peak.ts';
import { AveragedSpectrum } from '../../src/dsp/spectrum/averaged-spectrum.ts';
import { renderPink } from '../../src/dsp/tones/pink.ts';
import { WeightingFilter } from '../../src/dsp/weighting/weighting-filter.ts';

const RATE_HZ = 48_000;
const SECONDS = 20;
const BLOCK_FRAMES = 1024;

interface Meter {
  push(samples: Float32Array, from: number, to: number): void;
}

function pushAll(meter: Meter, samples: Float32Array): void {
  for (let from = 0; from < samples.length; from += BLOCK_FRAMES) {
    meter.push(samples, from, Math.min(samples.length, from + BLOCK_FRAMES));
  }
}

/** On a fresh meter, after another has warmed the code up. Heap growth is a median over stretches of 100 blocks, so that a collection does not hide it. */
function figuresOf(
  create: () => Meter,
  samples: Float32Array,
): { timesRealTime: number; bytesPerBlock: number } {
  for (let warm = 0; warm < 3; warm += 1) pushAll(create(), samples);
  const meter = create();
  const started = performance.now();
  pushAll(meter, samples);
  const timesRealTime = SECONDS / ((performance.now() - started) / 1000);
  const growths: number[] = [];
  for (let stretch = 0; stretch < 9; stretch += 1) {
    const before = process.memoryUsage().heapUsed;
    for (let block = 0; block < 100; block += 1) {
      meter.push(samples, block * BLOCK_FRAMES, (block + 1) * BLOCK_FRAMES);
    }
    growths.push((process.memoryUsage().heapUsed - before) / 100);
  }
  return { timesRealTime, bytesPerBlock: growths.sort((a, b) => a - b)[4]! };
}

function weighting(): Meter {
  const filter = new WeightingFilter('A', RATE_HZ);
  const into = new Float64Array(BLOCK_FRAMES);
  return { push: (samples, from, to) => filter.process(samples, from, to, into) };
}

/** Nothing but the call and the reading of the heap: what the figures of the others hold as well. */
const idle = (): Meter => ({ push: () => undefined });

export async function run(): Promise<{ name: string; figures: Record<string, number> }> {
  const pink = Float32Array.from(
    renderPink(
      { kind: 'pink', lowHz: 20, highHz: 20_000, levelDbfs: -18, durationSeconds: SECONDS, seed: 7 },
      RATE_HZ,
    ),
  );
  const tone = Float32Array.from(pink, (_, n) => 0.7 * Math.cos(2 * Math.PI * ((997 * n) / RATE_HZ)));
  const spectrum = () =>
    new AveragedSpectrum({
      sampleRateHz: RATE_HZ,
      segmentFrames: 8192,
      overlap: 0.5,
      window: { kind: 'hann' },
      averaging: { kind: 'exponential', timeConstantSeconds: 1 },
    });
  const thirds = fractionalOctaveBands(3, 20, 20_000);
  const runs: [string, () => Meter, Float32Array][] = [
    ['nothing', idle, pink],
    ['averaged spectrum, 8192, half overlap', spectrum, pink],
    ['31 third-octave filters', () => new OctaveFilterBank(thirds, RATE_HZ), pink],
    ['A weighting', weighting, pink],
    ['fast level', () => new TimeWeightedLevel(FAST_SECONDS, RATE_HZ), pink],
    ['equivalent level', () => new EquivalentLevel(RATE_HZ, 10), pink],
    ['true peak of BS.1770, pink noise', () => new TruePeakMeter(), pink],
    ['true peak of BS.1770, tone', () => new TruePeakMeter(), tone],
    ['fine true peak, pink noise', () => new FineTruePeakMeter(), pink],
    ['fine true peak, tone', () => new FineTruePeakMeter(), tone],
  ];
  const figures: Record<string, number> = {};
  for (const [name, create, samples] of runs) {
    const { timesRealTime, bytesPerBlock } = figuresOf(create, samples);
    figures[`${name}: times real time`] = timesRealTime;
    figures[`${name}: heap bytes a block`] = bytesPerBlock;
  }
  return { name: 'spectra, bands, weighting, levels: mono at 48 kHz, blocks of 1024', figures };
}
