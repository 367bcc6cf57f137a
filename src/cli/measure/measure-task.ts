import { openWav } from '../../audio/wav/open-wav.ts';
import { wavBlocks } from '../../audio/wav/read-frames.ts';
import { StreamMeasurer } from '../../dsp/measure/streaming-measure.ts';
import type { Band, ChannelReading } from '../../dsp/reading.ts';
import { FileBytes } from '../file-bytes.ts';
import { naming } from '../naming.ts';

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
