import type { Command } from '../command.ts';
import { Progress } from '../progress.ts';
import { MEASURE_HELP } from './help.ts';
import { readMeasureRequest } from './measure-arguments.ts';
import type { MeasureDocument, MeasuredFile } from './measure-document.ts';
import { measureFile, type OpenedFile, openForMeasuring } from './measure-file.ts';
import { measureTable } from './measure-table.ts';

/** Nothing is printed before every file has been opened, checked and measured. */
async function run(args: string[]): Promise<number> {
  const request = readMeasureRequest(args);
  const opened: OpenedFile[] = [];
  const files: MeasuredFile[] = [];
  try {
    for (const path of request.files) opened.push(await openForMeasuring(path, request));
    const frames = opened.reduce((sum, file) => sum + file.endFrame - file.startFrame, 0);
    const progress = new Progress('measuring', frames);
    try {
      for (const file of opened) {
        files.push(await measureFile(file, request.voltsPerFs, (done) => progress.add(done)));
      }
    } finally {
      progress.end();
    }
  } finally {
    for (const file of opened) await file.bytes.close();
  }
  const document: MeasureDocument = { files };
  process.stdout.write(request.json ? `${JSON.stringify(document, null, 2)}\n` : measureTable(files));
  return 0;
}

export const measureCommand: Command = {
  name: 'measure',
  summary: 'level, tone, distortion and clipping of each channel of recordings',
  help: MEASURE_HELP,
  run,
};
