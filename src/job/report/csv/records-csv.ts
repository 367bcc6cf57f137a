/** All records of a job as one table for a spreadsheet (RFC 4180, UTF-8, a point as decimal sign). */
import type { Job } from '../../document.ts';
import { type FigureRow, figureRows } from './figure-rows.ts';

const HEADER = [
  'number',
  'record',
  'kind',
  'at',
  'channel',
  'figure',
  'value',
  'uncertainty',
  'uncertainty_name',
];

/** What spreadsheets take for a formula when it begins a cell. */
const FORMULA = /^[=+\-@\t\r]/;

function field(value: FigureRow['value']): string {
  if (value === null) return '';
  if (typeof value !== 'string') return String(value);
  // A note that begins like a formula must stay a note: the apostrophe marks it as text.
  const text = FORMULA.test(value) ? `'${value}` : value;
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/** One row for each figure, oldest record first; numbers exactly as the job holds them. */
export function recordsCsv({ records }: Pick<Job, 'records'>): string {
  const rows = records.flatMap((record, index) =>
    figureRows(record).map((row) => [
      index + 1,
      row.recordId,
      row.kind,
      row.at,
      row.channel,
      row.figure,
      row.value,
      row.uncertainty,
      row.uncertaintyName,
    ]),
  );
  return [HEADER, ...rows].map((row) => `${row.map(field).join(',')}\r\n`).join('');
}
