/** Which part of the time `measure` spends in fast Fourier transforms, by the engine's own sampling profiler. */
import { Session } from 'node:inspector/promises';
import { checkForMeasuring } from '../../src/cli/measure/measure-file.ts';
import { measureTask } from '../../src/cli/measure/measure-task.ts';
import { tasksOf } from '../../src/cli/measure/share-out.ts';

/** Functions of fft.js. */
const TRANSFORM = /^_?(real)?[tT]ransform4?$|^_single(Real)?Transform[24]$/;

const REQUEST = { files: [], voltsPerFs: null, fromSeconds: 0, toSeconds: null, band: null, json: true };

/** @returns 0 to 1, of the work of all channels in one thread */
export async function fftShare(path: string): Promise<number> {
  const tasks = tasksOf([await checkForMeasuring(path, REQUEST)], 0);
  const session = new Session();
  session.connect();
  await session.post('Profiler.enable');
  await session.post('Profiler.start');
  for (const task of tasks) await measureTask(task, () => {});
  const { profile } = await session.post('Profiler.stop');
  session.disconnect();
  let transforms = 0;
  let all = 0;
  const nameOf = new Map(profile.nodes.map((node) => [node.id, node.callFrame.functionName]));
  for (const [place, node] of (profile.samples ?? []).entries()) {
    const name = nameOf.get(node) ?? '';
    if (name === '(idle)') continue;
    const microseconds = profile.timeDeltas?.[place] ?? 0;
    all += microseconds;
    if (TRANSFORM.test(name)) transforms += microseconds;
  }
  if (all === 0) throw new Error('The profiler took no samples.');
  return transforms / all;
}
