import { dirname, join } from 'node:path';
import { openWav, type WavInfo } from '../../audio/wav/open-wav.ts';
import { WavError } from '../../audio/wav/wav-error.ts';
import { wavRecording } from '../../audio/wav/wav-recording.ts';
import { type ReadSession, replay } from '../../job/replay.ts';
import { readSessionLog } from '../../job/session-log.ts';
import { readArguments } from '../arguments.ts';
import type { Command } from '../command.ts';
import { FileBytes } from '../file-bytes.ts';
import { fromTextFile, naming } from '../naming.ts';
import { UsageError } from '../usage-error.ts';

const HELP = `
Usage: kneepoint replay FILE.session.json

Runs a station again from a recording that the app saved ("Save this recording"): its log, and
the WAV beside it that the log names. Prints the records that the station accepted as one JSON
document; the same samples give the same records, byte for byte.

Exit status: 0 done; 2 a file is unusable, or the WAV is not the one that the log was made with.
`;

function sessionReader(wavPath: string, info: WavInfo): ReadSession {
  const recording = wavRecording(info);
  return (atFrame, frames) =>
    naming(wavPath, () => {
      const end = atFrame + frames;
      if (end <= recording.frames) return recording.read(atFrame, frames);
      throw new WavError(
        `The log has a take from frame ${atFrame} to ${end}; this file ends at ${recording.frames}.`,
      );
    });
}

async function run(args: string[]): Promise<number> {
  const { positionals } = readArguments('replay', args, {});
  const [path, ...more] = positionals;
  if (path === undefined || more.length > 0) {
    throw new UsageError('"kneepoint replay FILE.session.json" takes one log of a station.');
  }
  const log = await fromTextFile(path, readSessionLog);
  const wavPath = join(dirname(path), log.file);
  const bytes = await FileBytes.open(wavPath);
  try {
    const info = await naming(wavPath, () => openWav(bytes));
    if (info.sampleRateHz !== log.sampleRateHz) {
      throw new UsageError(
        `${wavPath}: its rate is ${info.sampleRateHz} Hz; the log was made at ${log.sampleRateHz} Hz.`,
      );
    }
    const records = await naming(path, () => replay(log, sessionReader(wavPath, info)));
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
