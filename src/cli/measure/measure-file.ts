import { openWav, type WavInfo } from '../../audio/wav/open-wav.ts';
import { AUDIO_BAND, type Band } from '../../dsp/reading.ts';
import { FileBytes } from '../file-bytes.ts';
import { naming } from '../naming.ts';
import { UsageError } from '../usage-error.ts';
import type { MeasureRequest } from './measure-arguments.ts';

/** A file that was looked into and found fit for what was asked. It is closed again: a folder holds more files than may be open. */
export interface CheckedFile {
  path: string;
  sampleRateHz: number;
  channelCount: number;
  /** Of the whole file. */
  frames: number;
  startFrame: number;
  endFrame: number;
  band: Band;
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
export async function checkForMeasuring(path: string, request: MeasureRequest): Promise<CheckedFile> {
  const bytes = await FileBytes.open(path);
  try {
    const info = await naming(path, () => openWav(bytes));
    const { sampleRateHz, channelCount, frames } = info;
    const band = bandFor(path, sampleRateHz, request.band);
    return { path, sampleRateHz, channelCount, frames, band, ...stretchOf(path, info, request) };
  } finally {
    await bytes.close();
  }
}
