import type { CheckedPart } from '../../procedure/check/check.ts';
import type { NamedReport } from './check-table.ts';

const FIGURES = [
  'levelDbfs',
  'levelVolts',
  'levelUncertaintyDb',
  'thdPercent',
  'clipping',
  'overdriveDb',
  'polarity',
  'belowTargetDb',
] as const;

const HEADER = [
  'file',
  'startSeconds',
  'clockSkewPpm',
  'part',
  'kind',
  'channel',
  'recordedChannel',
  'verdict',
  'pass',
  ...FIGURES,
  'why',
];

/** One row for each part of each recording (RFC 4180). A recording without the track has one row without a part. */
export function checkCsv(reports: readonly NamedReport[]): string {
  const rows = reports.flatMap(({ file, report }) => {
    const { startSeconds, clockSkewPpm } = report.markers;
    const place = [file, startSeconds, clockSkewPpm];
    if (report.parts.length === 0) return [[...place, '', '', '', '', 'no-track', false]];
    return report.parts.map((part) => [...place, ...cellsOf(part)]);
  });
  return [HEADER, ...rows].map((cells) => `${padded(cells).map(quoted).join(',')}\r\n`).join('');
}

function cellsOf({
  id,
  kind,
  channel,
  recordedChannel,
  verdict,
  pass,
  reading,
  why,
}: CheckedPart): unknown[] {
  return [id, kind, channel, recordedChannel, verdict, pass, ...FIGURES.map((name) => reading[name]), why];
}

function padded(cells: readonly unknown[]): unknown[] {
  return HEADER.map((_, at) => cells[at]);
}

function quoted(cell: unknown): string {
  const text = cell === null || cell === undefined ? '' : String(cell);
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
