/**
 * What ten minutes of live audio leave on the heap: blocks pushed into the analyser as they come from a
 * sound card, faster than real time. Between two readings nothing may be allocated; a reading is a record
 * that is posted away, and costs what it is made of.
 */
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { BLOCK_FRAMES } from '../../src/audio/blocks.ts';
import { LiveAnalyser } from '../../src/dsp/live/live-analyser.ts';
import type { LiveBlock } from '../../src/dsp/live/live-block.ts';
import { WindowAnalyser } from '../../src/dsp/measure/window-analyser.ts';
import { AUDIO_BAND } from '../../src/dsp/reading.ts';

const SAMPLE_RATE_HZ = 48_000;
const SECONDS = 600;
/** By then the engine has compiled what it will compile. */
const WARM_SECONDS = 60;
/** Blocks whose samples differ; they are handed in again and again, as recycled buffers are. */
const DIFFERENT_BLOCKS = 47;

function exposedGc(): () => void {
  setFlagsFromString('--expose-gc');
  return runInNewContext('gc') as () => void;
}

/** 1000 Hz of whole periods in all blocks together, with noise 60 dB below: two channels. */
function blocksOfTone(): Float32Array[][] {
  const frames = DIFFERENT_BLOCKS * BLOCK_FRAMES;
  const periods = Math.round((1000 * frames) / SAMPLE_RATE_HZ);
  return Array.from({ length: DIFFERENT_BLOCKS }, (_, block) =>
    [0.5, 0.2].map((amplitude) =>
      Float32Array.from({ length: BLOCK_FRAMES }, (_, n) => {
        const cycles = (periods * (block * BLOCK_FRAMES + n)) / frames;
        return amplitude * (Math.cos(2 * Math.PI * (cycles % 1)) + 1e-3 * (2 * Math.random() - 1));
      }),
    ),
  );
}

const median = (values: Float64Array, count: number) => values.subarray(0, count).sort()[count >> 1] ?? 0;

export async function run(): Promise<{ name: string; figures: Record<string, number> }> {
  const gc = exposedGc();
  const options = {
    sampleRateHz: SAMPLE_RATE_HZ,
    channelCount: 2,
    band: AUDIO_BAND,
    expectedHz: null,
    warmUpSeconds: 1,
  };
  const analyser = new LiveAnalyser(
    options,
    (frames, sampleRateHz) => new WindowAnalyser({ frames, sampleRateHz }),
  );
  const channels = blocksOfTone();
  const total = Math.floor((SECONDS * SAMPLE_RATE_HZ) / BLOCK_FRAMES);
  const warm = Math.floor((WARM_SECONDS * SAMPLE_RATE_HZ) / BLOCK_FRAMES);
  const facts = { emptyQuanta: 0, notANumber: 0, missedFrames: 0 };
  const block = { sequence: 0, startFrame: 0, channels: channels[0]!, facts } as unknown as LiveBlock;
  const quiet = new Float64Array(total);
  const read = new Float64Array(total);
  let quietCount = 0;
  let readCount = 0;
  let heapAtStart = 0;
  for (let n = 0; n < total; n += 1) {
    if (n === warm) {
      gc();
      heapAtStart = process.memoryUsage().heapUsed;
    }
    Object.assign(block, {
      sequence: n,
      startFrame: n * BLOCK_FRAMES,
      channels: channels[n % DIFFERENT_BLOCKS],
    });
    // Asking for the figure allocates too; two askings in a row say how much.
    const nothing = process.memoryUsage().heapUsed;
    const before = process.memoryUsage().heapUsed;
    const reading = analyser.push(block);
    const grown = process.memoryUsage().heapUsed - before - (before - nothing);
    if (n < warm) continue;
    if (reading === null) quiet[quietCount++] = grown;
    else read[readCount++] = grown;
  }
  gc();
  const kept = process.memoryUsage().heapUsed - heapAtStart;
  return {
    name: 'live analyser, ten minutes of stereo at 48 kHz in blocks of 1024',
    figures: {
      'heap after ten minutes against after one, kB': kept / 1000,
      'left on the heap by a block between readings, median bytes': median(quiet, quietCount),
      'left on the heap by a block with a reading of two channels, median bytes': median(read, readCount),
      readings: readCount,
    },
  };
}
