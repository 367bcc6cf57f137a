/** Output that is there whole or not at all. */
import { mkdir, mkdtemp, open, rename, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { fileFault } from './file-fault.ts';
import { UsageError } from './usage-error.ts';

/** One file to be written: its name in the folder, and its bytes as they are made. */
export interface OutputFile {
  name: string;
  pieces: () => Iterable<Uint8Array>;
}

async function exists(path: string): Promise<boolean> {
  const handle = await open(path, 'r').catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return null;
    throw fileFault(path, error);
  });
  await handle?.close();
  return handle !== null;
}

async function writeWhole(path: string, pieces: Iterable<Uint8Array>): Promise<void> {
  const handle = await open(path, 'wx');
  try {
    for (const piece of pieces) await handle.writeFile(piece);
    await handle.sync();
  } finally {
    await handle.close();
  }
}

/** Thrown inside when the person stops the program; the signal takes its course once all is removed. */
class Interrupted extends Error {}

/** Removes what a failed or interrupted run has made, newest first. */
class Undo {
  readonly #paths: string[] = [];
  #signal: NodeJS.Signals | null = null;
  readonly #onSignal = (signal: NodeJS.Signals) => {
    this.#signal = signal;
  };

  constructor() {
    process.on('SIGINT', this.#onSignal);
    process.on('SIGTERM', this.#onSignal);
  }

  add(path: string): void {
    this.#paths.push(path);
  }

  /** Between two files, where nothing is half done. */
  stopIfInterrupted(): void {
    if (this.#signal !== null) throw new Interrupted();
  }

  async run(): Promise<void> {
    for (const path of this.#paths.toReversed()) await rm(path, { recursive: true, force: true });
  }

  /** Lets go of the signals; one that came in the meantime ends the program as it would have. */
  release(): void {
    process.off('SIGINT', this.#onSignal);
    process.off('SIGTERM', this.#onSignal);
    if (this.#signal !== null) process.kill(process.pid, this.#signal);
  }
}

async function writeAndMove(folder: string, files: readonly OutputFile[], undo: Undo): Promise<void> {
  const temporary = await mkdtemp(join(folder, '.kneepoint-'));
  undo.add(temporary);
  for (const file of files) {
    await writeWhole(join(temporary, file.name), file.pieces());
    undo.stopIfInterrupted();
  }
  for (const file of files) {
    await rename(join(temporary, file.name), join(folder, file.name));
    undo.add(join(folder, file.name));
  }
  await rm(temporary, { recursive: true, force: true });
}

/**
 * Writes all files into `folder`, made if it is missing. Nothing that is there
 * is replaced, and when anything fails, or the person interrupts, nothing is
 * left behind: files are written aside and moved in when all are whole.
 *
 * @throws UsageError when a file of one of the names is there already, or the folder cannot be written
 */
export async function writeFilesWhole(folder: string, files: readonly OutputFile[]): Promise<void> {
  for (const file of files) {
    if (await exists(join(folder, file.name))) {
      throw new UsageError(
        `${join(folder, file.name)}: this file is already there and is not replaced; remove it or name another folder.`,
      );
    }
  }
  const undo = new Undo();
  try {
    const firstMade = await mkdir(folder, { recursive: true });
    if (firstMade !== undefined) undo.add(firstMade);
    await writeAndMove(folder, files, undo);
  } catch (error) {
    await undo.run();
    throw fileFault(folder, error);
  } finally {
    undo.release();
  }
}
