import type { CheckedFile } from './measure-file.ts';
import type { MeasureTask } from './measure-task.ts';

/** Samples (frames times channels) under which starting a worker takes longer than it saves: some 40 s of stereo. */
export const LEAST_FOR_WORKERS = 4_000_000;

/** How many samples are to be measured in a file. */
export function samplesIn(file: CheckedFile): number {
  return (file.endFrame - file.startFrame) * file.channelCount;
}

/** @returns how many workers to start; 0 where this thread is quicker by itself */
export function workersFor(files: readonly CheckedFile[], cores: number): number {
  const samples = files.reduce((sum, file) => sum + samplesIn(file), 0);
  if (cores < 2 || samples < LEAST_FOR_WORKERS) return 0;
  return Math.min(cores, tasksOf(files, cores).length);
}

/**
 * Tasks in the order of files and channels. The channels of a long file are shared out, since each is
 * measured for itself; a short one is not worth reading twice.
 *
 * @param hands how many will work at the same time
 */
export function tasksOf(files: readonly CheckedFile[], hands: number): MeasureTask[] {
  return files.flatMap((file) => {
    const { path, startFrame, endFrame, band, channelCount } = file;
    const parts = samplesIn(file) < LEAST_FOR_WORKERS ? 1 : Math.max(1, Math.min(hands, channelCount));
    return Array.from({ length: parts }, (_, part) => {
      const firstChannel = Math.floor((part * channelCount) / parts);
      const end = Math.floor(((part + 1) * channelCount) / parts);
      return { path, startFrame, endFrame, band, firstChannel, channelCount: end - firstChannel };
    });
  });
}
