import { readFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { openWav, type WavInfo } from '../../audio/wav/open-wav.ts';
import { readFrames } from '../../audio/wav/read-frames.ts';
import { WavError } from '../../audio/wav/wav-error.ts';
import { JobRefused } from '../../job/refused.ts';
import { type ReadSession, replay } from '../../job/replay.ts';
import { readSessionLog, SESSION_FORMAT, type SessionLog } from '../../job/session-log.ts';
import { readArguments } from '../arguments.ts';
import type { Command } from '../command.ts';
import { FileBytes } from '../file-bytes.ts';
import { fileFault } from '../file-fault.ts';
import { UsageError } from '../usage-error.ts';

const HELP = `
Usage: kneepoint replay FILE.session.json

Runs a station again from a recording that the app saved ("Save this recording"): its log, and
the WAV beside it that the log names. Prints the records that the station accepted as one JSON
document; the same samples give the same records, byte for byte.

Exit status: 0 done; 2 a file is unusable, or the WAV is not the one that the log was made with.
`;

/** Everything that a file can be wrong in is told with its name. */
async function naming<T>(path: string, work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    const known = error instanceof JobRefused || error instanceof WavError || error instanceof RangeError;
    if (known) throw new UsageError(`${path}: ${error.message}`);
    throw error;
  }
}

async function readLog(path: string): Promise<SessionLog> {
  const text = await readFile(path, 'utf8').catch((error: unknown) => {
    throw fileFault(path, error);
  });
  return naming(path, async () => {
    try {
      return readSessionLog(JSON.parse(text));
    } catch (error) {
      if (error instanceof SyntaxError) {
        throw new JobRefused(`this is not JSON; a log of format "${SESSION_FORMAT}" is needed.`);
      }
      throw error;
    }
  });
}

function sessionReader(info: WavInfo): ReadSession {
  return async (atFrame, frames) => {
    const channels = Array.from({ length: info.channelCount }, () => new Float32Array(frames));
    await readFrames(info, atFrame, frames, channels);
    return channels;
  };
}

async function run(args: string[]): Promise<number> {
  const { positionals } = readArguments('replay', args, {});
  const [path, ...more] = positionals;
  if (path === undefined || more.length > 0) {
    throw new UsageError('"kneepoint replay FILE.session.json" takes one log of a station.');
  }
  const log = await readLog(path);
  const wavPath = join(dirname(path), log.file);
  const bytes = await FileBytes.open(wavPath);
  try {
    const info = await naming(wavPath, () => openWav(bytes));
    if (info.sampleRateHz !== log.sampleRateHz) {
      throw new UsageError(
        `${wavPath}: its rate is ${info.sampleRateHz} Hz; the log says ${log.sampleRateHz}.`,
      );
    }
    const records = await naming(path, () => replay(log, sessionReader(info)));
    process.stdout.write(`${JSON.stringify({ records }, null, 2)}\n`);
  } finally {
    await bytes.close();
  }
  return 0;
}

export const replayCommand: Command = {
  name: 'replay',
  summary: 'a station run again from a saved recording',
  help: HELP,
  run,
};
