/** Time for one live analysis, and how much faster than real time a stereo stream is measured. */
import { StreamMeasurer } from '../../src/dsp/measure/streaming-measure.ts';
import { WindowAnalyser } from '../../src/dsp/measure/window-analyser.ts';
import { AUDIO_BAND } from '../../src/dsp/reading.ts';

const WINDOW_RATE_HZ = 44_100;
const ANALYSES = 400;
const STREAM_RATE_HZ = 48_000;
const STREAM_SECONDS = 30;
const BLOCK_FRAMES = 4096;

/** Uniform noise 60 dB below a 997 Hz tone at -6 dBFS. */
function noisyTone(frames: number, sampleRateHz: number): Float32Array {
  const noisePeak = 0.5 * Math.SQRT1_2 * 1e-3 * Math.sqrt(3);
  return Float32Array.from({ length: frames }, (_, frame) => {
    const cycles = (997 * frame) / sampleRateHz;
    return 0.5 * Math.cos(2 * Math.PI * (cycles % 1)) + noisePeak * (2 * Math.random() - 1);
  });
}

/** Median of many, after as many to warm up. */
function analysisMilliseconds(frames: number): number {
  const analyser = new WindowAnalyser({ frames, sampleRateHz: WINDOW_RATE_HZ });
  const samples = noisyTone(frames, WINDOW_RATE_HZ);
  const times: number[] = [];
  for (let run = 0; run < 2 * ANALYSES; run += 1) {
    const started = performance.now();
    analyser.analyse(samples, { band: AUDIO_BAND, expectedHz: null });
    if (run >= ANALYSES) times.push(performance.now() - started);
  }
  return times.sort((a, b) => a - b)[ANALYSES >> 1]!;
}

function streamFactor(): number {
  const left = noisyTone(STREAM_SECONDS * STREAM_RATE_HZ, STREAM_RATE_HZ);
  const right = noisyTone(STREAM_SECONDS * STREAM_RATE_HZ, STREAM_RATE_HZ);
  const started = performance.now();
  const measurer = new StreamMeasurer({ sampleRateHz: STREAM_RATE_HZ, channelCount: 2 });
  for (let frame = 0; frame < left.length; frame += BLOCK_FRAMES) {
    const end = Math.min(left.length, frame + BLOCK_FRAMES);
    measurer.push([left.subarray(frame, end), right.subarray(frame, end)], end - frame);
  }
  measurer.finish();
  return STREAM_SECONDS / ((performance.now() - started) / 1000);
}

export async function run(): Promise<{ name: string; figures: Record<string, number> }> {
  return {
    name: 'analyser, tone with noise 60 dB below',
    figures: {
      'one live analysis of 16384 frames at 44.1 kHz, median ms': analysisMilliseconds(16_384),
      'one live analysis of 4096 frames at 44.1 kHz, median ms': analysisMilliseconds(4096),
      'one live analysis of 65536 frames at 44.1 kHz, median ms': analysisMilliseconds(65_536),
      'stereo stream at 48 kHz, times real time': streamFactor(),
    },
  };
}
