import { openWav } from '../../audio/wav/open-wav.ts';
import { wavBlocks } from '../../audio/wav/read-frames.ts';
import { WavError } from '../../audio/wav/wav-error.ts';
import { StreamMeasurer } from '../../dsp/measure/streaming-measure.ts';
import type { Band, ChannelReading } from '../../dsp/reading.ts';
import { FileBytes } from '../file-bytes.ts';
import { UsageError } from '../usage-error.ts';

/** Long enough that a read from disk costs little beside it, short enough for the processor's cache. */
const BLOCK_FRAMES = 16_384;

/** Channels of a stretch of a file: plain, so that it can be sent to a worker. */
export interface MeasureTask {
  path: string;
  startFrame: number;
  endFrame: number;
  firstChannel: number;
  channelCount: number;
  band: Band;
}

/** Runs `work`, turning what it says of a WAV file into one line that names the file. */
export async function naming<T>(path: string, work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    if (error instanceof WavError) throw new UsageError(`${path}: ${error.message}`);
    throw error;
  }
}

/**
 * @param onSamples told after each block how many more samples (frames times channels) are done
 * @returns one reading for each of the task's channels
 * @throws UsageError when the file cannot be read, or holds what is no finite number
 */
export async function measureTask(
  task: MeasureTask,
  onSamples: (samples: number) => void,
): Promise<ChannelReading[]> {
  const { path, startFrame, endFrame, firstChannel, channelCount, band } = task;
  const bytes = await FileBytes.open(path);
  try {
    return await naming(path, async () => {
      const info = await openWav(bytes);
      const measurer = new StreamMeasurer({ sampleRateHz: info.sampleRateHz, channelCount, band });
      const stretch = { startFrame, endFrame, firstChannel, channelCount, blockFrames: BLOCK_FRAMES };
      for await (const block of wavBlocks(info, stretch)) {
        measurer.push(block.channels, block.frames);
        onSamples(block.frames * channelCount);
      }
      return measurer.finish();
    });
  } finally {
    await bytes.close();
  }
}
