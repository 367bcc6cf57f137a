import { openWav, type WavInfo } from '../../audio/wav/open-wav.ts';
import { wavBlocks } from '../../audio/wav/read-frames.ts';
import { WavError } from '../../audio/wav/wav-error.ts';
import { StreamMeasurer } from '../../dsp/measure/streaming-measure.ts';
import { AUDIO_BAND, type Band } from '../../dsp/reading.ts';
import { FileBytes } from '../file-bytes.ts';
import { UsageError } from '../usage-error.ts';
import type { MeasureRequest } from './measure-arguments.ts';
import { type MeasuredFile, measuredChannel } from './measure-document.ts';

/** Long enough that a read from disk costs little beside it, short enough for the processor's cache. */
const BLOCK_FRAMES = 16_384;

/** A file that has been opened and found fit for what was asked. */
export interface OpenedFile {
  path: string;
  bytes: FileBytes;
  info: WavInfo;
  startFrame: number;
  endFrame: number;
  band: Band;
}

/** Runs `work`, turning what it says of a WAV file into one line that names the file. */
async function naming<T>(path: string, work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    if (error instanceof WavError) throw new UsageError(`${path}: ${error.message}`);
    throw error;
  }
}

function bandFor(path: string, sampleRateHz: number, asked: Band | null): Band {
  const highestHz = sampleRateHz / 2;
  if (asked === null) return { ...AUDIO_BAND, highHz: Math.min(AUDIO_BAND.highHz, highestHz) };
  if (asked.highHz <= highestHz) return asked;
  throw new UsageError(
    `${path}: the band may reach up to half its sample rate, ${highestHz} Hz, not ${asked.highHz} Hz.`,
  );
}

function stretchOf(
  path: string,
  info: WavInfo,
  request: MeasureRequest,
): { startFrame: number; endFrame: number } {
  const lengthSeconds = info.frames / info.sampleRateHz;
  const frameAt = (option: string, seconds: number): number => {
    const frame = Math.round(seconds * info.sampleRateHz);
    if (frame <= info.frames) return frame;
    throw new UsageError(
      `${path}: ${option} ${seconds} lies past its end; it lasts ${lengthSeconds.toFixed(3)} s.`,
    );
  };
  const startFrame = frameAt('--from', request.fromSeconds);
  const endFrame = request.toSeconds === null ? info.frames : frameAt('--to', request.toSeconds);
  if (endFrame <= startFrame) {
    throw new UsageError(
      `${path}: nothing lies from ${request.fromSeconds} s on; it lasts ${lengthSeconds.toFixed(3)} s.`,
    );
  }
  return { startFrame, endFrame };
}

/** @throws UsageError when the file is no WAV file that can be measured as asked */
export async function openForMeasuring(path: string, request: MeasureRequest): Promise<OpenedFile> {
  const bytes = await FileBytes.open(path);
  try {
    const info = await naming(path, () => openWav(bytes));
    const band = bandFor(path, info.sampleRateHz, request.band);
    return { path, bytes, info, band, ...stretchOf(path, info, request) };
  } catch (error) {
    await bytes.close();
    throw error;
  }
}

/** @param onFrames told after each block how many more frames are done */
export async function measureFile(
  opened: OpenedFile,
  voltsPerFs: number | null,
  onFrames: (frames: number) => void,
): Promise<MeasuredFile> {
  const { path, info, startFrame, endFrame, band } = opened;
  const { sampleRateHz, channelCount, frames } = info;
  const measurer = new StreamMeasurer({ sampleRateHz, channelCount, band });
  await naming(path, async () => {
    for await (const block of wavBlocks(info, { startFrame, endFrame, blockFrames: BLOCK_FRAMES })) {
      measurer.push(block.channels, block.frames);
      onFrames(block.frames);
    }
  });
  return {
    file: path,
    sampleRateHz,
    frames,
    durationSeconds: frames / sampleRateHz,
    measured: { fromSeconds: startFrame / sampleRateHz, toSeconds: endFrame / sampleRateHz },
    channels: measurer.finish().map((reading, index) => measuredChannel(index, reading, voltsPerFs)),
  };
}
