/** Tasks shared out among several hands: who does what, in which order results and failures come. */
import { describe, expect, test } from 'vitest';
import type { CheckedFile } from '../../src/cli/measure/measure-file.ts';
import { LEAST_FOR_WORKERS, tasksOf, workersFor } from '../../src/cli/measure/share-out.ts';
import { doInOrder, type Hand } from '../../src/cli/workers/in-order.ts';

/** Ends each task when the test says so. */
class SlowHand implements Hand<string, string> {
  readonly begun: string[] = [];
  #end: (() => void) | null = null;

  do(task: string): Promise<string> {
    this.begun.push(task);
    return new Promise((resolve, reject) => {
      this.#end = () => (task.startsWith('bad') ? reject(new Error(task)) : resolve(`${task} done`));
    });
  }

  async end(): Promise<void> {
    this.#end?.();
    await new Promise((resolve) => setImmediate(resolve));
  }
}

describe('one queue, several hands', () => {
  test('results come in the order of the tasks, whoever was quicker', async () => {
    const [quick, slow] = [new SlowHand(), new SlowHand()];
    const all = doInOrder(['a', 'b', 'c', 'd'], [slow, quick]);
    expect([slow.begun, quick.begun]).toEqual([['a'], ['b']]);
    await quick.end();
    await quick.end();
    expect(quick.begun).toEqual(['b', 'c', 'd']);
    await quick.end();
    await slow.end();
    expect(await all).toEqual(['a done', 'b done', 'c done', 'd done']);
  });

  test('no task, no result', async () => {
    expect(await doInOrder([], [new SlowHand()])).toEqual([]);
  });

  test('after a failure nothing is begun, and what is under way is waited for', async () => {
    const [one, other] = [new SlowHand(), new SlowHand()];
    let ended = false;
    const all = doInOrder(['a', 'bad b', 'c'], [one, other]);
    const failed = all.finally(() => {
      ended = true;
    });
    const refusal = expect(failed).rejects.toThrow('bad b');
    await other.end();
    expect(ended).toBe(false);
    await one.end();
    await refusal;
    expect([one.begun, other.begun]).toEqual([['a'], ['bad b']]);
  });

  test('of two failures the earlier task counts, though it failed later', async () => {
    const [one, other] = [new SlowHand(), new SlowHand()];
    const refusal = expect(doInOrder(['bad a', 'bad b'], [one, other])).rejects.toThrow('bad a');
    await other.end();
    await one.end();
    await refusal;
  });
});

describe('who does what', () => {
  const file = (channelCount: number, frames: number, path = 'a.wav'): CheckedFile => ({
    path,
    sampleRateHz: 48_000,
    channelCount,
    frames,
    startFrame: 0,
    endFrame: frames,
    band: { lowHz: 20, highHz: 20_000 },
  });
  const channels = (files: CheckedFile[], hands: number) =>
    tasksOf(files, hands).map((task) => [task.path, task.firstChannel, task.channelCount]);

  test('short work is done here, however many cores there are', () => {
    expect(workersFor([file(2, LEAST_FOR_WORKERS / 2 - 1)], 8)).toBe(0);
    expect(workersFor([file(2, LEAST_FOR_WORKERS / 2)], 8)).toBe(2);
    expect(workersFor([file(2, LEAST_FOR_WORKERS)], 1)).toBe(0);
  });

  test('as many workers as cores, and no more than tasks', () => {
    const shorts = Array.from({ length: 10 }, () => file(1, LEAST_FOR_WORKERS / 4));
    expect(workersFor(shorts, 4)).toBe(4);
    expect(workersFor(shorts.slice(0, 5), 16)).toBe(5);
  });

  test('the channels of a long file are shared out, each once and in order', () => {
    expect(channels([file(5, LEAST_FOR_WORKERS)], 2)).toEqual([
      ['a.wav', 0, 2],
      ['a.wav', 2, 3],
    ]);
    expect(channels([file(2, LEAST_FOR_WORKERS)], 8)).toEqual([
      ['a.wav', 0, 1],
      ['a.wav', 1, 1],
    ]);
  });

  test('a short file is one task, beside long ones too', () => {
    expect(channels([file(2, 1000, 'short.wav'), file(2, LEAST_FOR_WORKERS, 'long.wav')], 2)).toEqual([
      ['short.wav', 0, 2],
      ['long.wav', 0, 1],
      ['long.wav', 1, 1],
    ]);
  });

  test('without workers each file is one task', () => {
    expect(channels([file(4, LEAST_FOR_WORKERS)], 0)).toEqual([['a.wav', 0, 4]]);
  });
});
