import type { Command } from '../command.ts';
import { MEASURE_HELP } from './help.ts';
import { readMeasureRequest } from './measure-arguments.ts';
import type { MeasureDocument } from './measure-document.ts';
import { type CheckedFile, checkForMeasuring } from './measure-file.ts';
import { measureFiles } from './measure-files.ts';
import { measureTable } from './measure-table.ts';

/** Nothing is printed before every file has been opened, checked and measured. */
async function run(args: string[]): Promise<number> {
  const request = readMeasureRequest(args);
  const checked: CheckedFile[] = [];
  for (const path of request.files) checked.push(await checkForMeasuring(path, request));
  const files = await measureFiles(checked, request.voltsPerFs);
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
