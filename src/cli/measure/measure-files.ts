import { availableParallelism } from 'node:os';
import type { ChannelReading } from '../../dsp/reading.ts';
import { Progress } from '../progress.ts';
import { doOnWorkers } from '../workers/do-on-workers.ts';
import { doInOrder } from '../workers/in-order.ts';
import { type MeasuredFile, measuredChannel } from './measure-document.ts';
import type { CheckedFile } from './measure-file.ts';
import { type MeasureTask, measureTask } from './measure-task.ts';
import { samplesIn, tasksOf, workersFor } from './share-out.ts';

/** File that `vite.cli.config.ts` writes beside the command line. */
const WORKER_FILE = 'measure-worker.js';

/**
 * Measures every file, on several workers where that is quicker, with one progress bar for all. The
 * results stand in the order of the files.
 *
 * @throws UsageError for the first file that turns out to be unusable
 */
export async function measureFiles(
  files: readonly CheckedFile[],
  voltsPerFs: number | null,
): Promise<MeasuredFile[]> {
  const workers = workersFor(files, availableParallelism());
  const tasks = tasksOf(files, workers);
  const progress = new Progress(
    'measuring',
    files.reduce((sum, file) => sum + samplesIn(file), 0),
  );
  const onSamples = (samples: number) => progress.add(samples);
  try {
    const readings = await (workers === 0
      ? doInOrder(tasks, [{ do: (task) => measureTask(task, onSamples) }])
      : doOnWorkers<MeasureTask, ChannelReading[]>(WORKER_FILE, tasks, workers, onSamples));
    let taken = 0;
    return files.map((file) => {
      const ofFile: ChannelReading[] = [];
      while (ofFile.length < file.channelCount) ofFile.push(...readings[taken++]!);
      return measuredFile(file, ofFile, voltsPerFs);
    });
  } finally {
    progress.end();
  }
}

function measuredFile(
  file: CheckedFile,
  readings: readonly ChannelReading[],
  voltsPerFs: number | null,
): MeasuredFile {
  const { path, sampleRateHz, frames, startFrame, endFrame } = file;
  return {
    file: path,
    sampleRateHz,
    frames,
    durationSeconds: frames / sampleRateHz,
    measured: { fromSeconds: startFrame / sampleRateHz, toSeconds: endFrame / sampleRateHz },
    channels: readings.map((reading, index) => measuredChannel(index, reading, voltsPerFs)),
  };
}
