import { rm } from 'node:fs/promises';
import { basename, dirname, resolve } from 'node:path';
import type { Cell, Report } from '../../job/report/model.ts';
import { type ReportFiles, reportFiles } from '../../job/report/report-files.ts';
import { readUnaltered } from '../../job/sign-off/sealed-file.ts';
import { readArguments } from '../arguments.ts';
import { type OutputFile, writeFilesWhole } from '../atomic-output.ts';
import type { Command } from '../command.ts';
import { fromTextFile } from '../naming.ts';
import { sha256 } from '../sha256.ts';
import { formatTable } from '../table.ts';
import { UsageError } from '../usage-error.ts';
import { REPORT_HELP } from './help.ts';

const OPTIONS = {
  out: { type: 'string' },
  csv: { type: 'string' },
  'sign-off': { type: 'string' },
  json: { type: 'boolean' },
} as const;

const DONE = 0;
const OUT_OF_TOLERANCE = 1;

interface Request {
  jobPath: string;
  htmlPath: string;
  csvPath: string | null;
  signOffId: string | null;
  asJson: boolean;
}

function readRequest(args: string[]): Request {
  const { values, positionals } = readArguments('report', args, OPTIONS);
  const [jobPath, ...more] = positionals;
  if (jobPath === undefined || more.length > 0) {
    throw new UsageError('"kneepoint report JOB.json --out FILE.html" takes one job file.');
  }
  if (values.out === undefined || values.out === '') {
    throw new UsageError('No file was named; --out FILE.html says where the report goes.');
  }
  const { csv = null } = values;
  if (csv !== null && resolve(csv) === resolve(values.out)) {
    throw new UsageError(`--csv ${csv}: the page goes there already; name another file.`);
  }
  return {
    jobPath,
    htmlPath: values.out,
    csvPath: csv,
    signOffId: values['sign-off'] ?? null,
    asJson: values.json ?? false,
  };
}

function filesOf({ jobPath, signOffId }: Request): Promise<ReportFiles> {
  return fromTextFile(jobPath, async (text) => reportFiles(await readUnaltered(text, sha256), signOffId));
}

function outputOf(path: string, text: string): OutputFile {
  return { name: basename(path), pieces: () => [new TextEncoder().encode(text)] };
}

/** Both or none, also where they go to different folders. */
async function write({ htmlPath, csvPath }: Request, { html, csv }: ReportFiles): Promise<void> {
  const folder = dirname(htmlPath);
  const page = outputOf(htmlPath, html);
  if (csvPath === null) return writeFilesWhole(folder, [page]);
  const table = outputOf(csvPath, csv);
  if (resolve(dirname(csvPath)) === resolve(folder)) return writeFilesWhole(folder, [page, table]);
  await writeFilesWhole(folder, [page]);
  try {
    await writeFilesWhole(dirname(csvPath), [table]);
  } catch (error) {
    await rm(htmlPath);
    throw error;
  }
}

function plainText(cell: Cell): string {
  return typeof cell === 'string' ? cell : cell.text;
}

function summary({ verdict, sections }: Report, { htmlPath, csvPath }: Request): string {
  const standing = sections.find(({ id }) => id === 'standing');
  const rows = (standing?.blocks ?? []).flatMap((block) =>
    block.type === 'table' ? block.rows.map((row) => row.map(plainText)) : [],
  );
  const files = csvPath === null ? htmlPath : `${htmlPath} and ${csvPath}`;
  const table = formatTable(['check', 'state', 'measured', 'why'], rows);
  return `${table}\n${verdict.sentence}\nWritten: ${files}\n`;
}

async function run(args: string[]): Promise<number> {
  const request = readRequest(args);
  const files = await filesOf(request);
  await write(request, files);
  const { report } = files;
  process.stdout.write(request.asJson ? `${JSON.stringify(report, null, 2)}\n` : summary(report, request));
  return report.verdict.mark === 'out-of-tolerance' ? OUT_OF_TOLERANCE : DONE;
}

export const reportCommand: Command = {
  name: 'report',
  summary: 'the report of a job as one page, and all its records as CSV',
  help: REPORT_HELP,
  run,
};
