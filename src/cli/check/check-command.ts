import { basename, dirname } from 'node:path';
import { runTrackOf } from '../../job/check-task.ts';
import { writeFilesWhole } from '../atomic-output.ts';
import type { Command } from '../command.ts';
import { fromJobFile } from '../job-file.ts';
import { manifestFile } from '../manifest-file.ts';
import { naming } from '../naming.ts';
import { readCheckRequest } from './check-arguments.ts';
import { checkCsv } from './check-csv.ts';
import { type CheckFileTask, lookInto } from './check-file.ts';
import { checkFiles } from './check-files.ts';
import { checkTable, type NamedReport } from './check-table.ts';
import { CHECK_HELP } from './help.ts';

async function runTrackIn(path: string) {
  const manifest = await manifestFile(path);
  return naming(path, () => runTrackOf(manifest));
}

function asJson(reports: readonly NamedReport[], pass: boolean): string {
  const [only] = reports;
  const document =
    only !== undefined && reports.length === 1
      ? only.report
      : { files: reports.map(({ file, report }) => ({ file, ...report })), pass };
  return `${JSON.stringify(document, null, 2)}\n`;
}

async function writeCsv(path: string, reports: readonly NamedReport[]): Promise<void> {
  const bytes = new TextEncoder().encode(checkCsv(reports));
  await writeFilesWhole(dirname(path), [{ name: basename(path), pieces: () => [bytes] }]);
}

/** Nothing is printed before every file has been opened and checked. */
async function run(args: string[]): Promise<number> {
  const request = readCheckRequest(args);
  const { files, at, voltsPerFs, json, csv } = request;
  const track = await runTrackIn(request.manifest);
  const job = request.job === null ? null : await fromJobFile(request.job, (read) => read);
  const tasks = files.map((path): CheckFileTask => ({ path, run: track, job, at, voltsPerFs }));
  for (const task of tasks) await lookInto(task);
  const found = await checkFiles(tasks);
  const reports = found.map((report, index) => ({ file: files[index]!, report }));
  const pass = reports.every(({ report }) => report.pass);
  if (csv !== null) await writeCsv(csv, reports);
  process.stdout.write(json ? asJson(reports, pass) : checkTable(reports));
  return pass ? 0 : 1;
}

export const checkCommand: Command = {
  name: 'check',
  summary: 'a recorded run track: every part read and judged',
  help: CHECK_HELP,
  run,
};
