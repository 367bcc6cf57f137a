/** What `check` prints for a person. */
import type { CheckedPart, CheckReport } from '../../procedure/check/check.ts';
import { figure, formatTable } from '../table.ts';

export interface NamedReport {
  file: string;
  report: CheckReport;
}

const VERDICT_WORDS: Record<CheckedPart['verdict'], string> = {
  passed: 'pass',
  failed: 'FAIL',
  'not-judged': 'not judged',
  missing: 'missing',
};

const PART_HEADER = ['part', 'channel', 'result', 'reading', 'why'];
const SUMMARY_HEADER = ['file', 'result', 'starts s', 'clock ppm', 'failed', 'missing', 'faults'];

function numberAt(part: CheckedPart, name: string): number | null {
  const value = part.reading[name];
  return typeof value === 'number' ? value : null;
}

function withUnit(value: number | null, digits: number, unit: string): string[] {
  return value === null ? [] : [`${figure(value, digits)} ${unit}`];
}

/** The one or two figures that a part is for. */
function mainFigures(part: CheckedPart): string {
  switch (part.kind) {
    case 'sine':
      return [
        ...withUnit(numberAt(part, 'levelVolts'), 3, 'V'),
        ...withUnit(numberAt(part, 'levelDbfs'), 2, 'dBFS'),
        ...withUnit(numberAt(part, 'thdPercent'), 3, '% THD'),
      ].join(', ');
    case 'silence':
      return [
        ...withUnit(numberAt(part, 'levelDbfs'), 1, 'dBFS'),
        ...withUnit(numberAt(part, 'belowTargetDb'), 1, 'dB below target'),
        ...withUnit(numberAt(part, 'mainsHz'), 1, 'Hz of hum'),
        ...withUnit(numberAt(part, 'whineHz'), 1, 'Hz of whine'),
        ...withUnit(numberAt(part, 'steadyHz'), 1, 'Hz of a steady tone'),
      ].join(', ');
    case 'pink':
      return withUnit(numberAt(part, 'levelDbfs'), 2, 'dBFS').join();
    case 'identification':
      return withUnit(numberAt(part, 'loudestDbfs'), 1, 'dBFS').join();
    case 'polarity':
      return typeof part.reading.polarity === 'string' ? part.reading.polarity : '';
    case 'steps':
      return errorsIn(part);
    case 'sweep':
      return filtersIn(part);
  }
}

function errorsIn({ reading }: CheckedPart): string {
  const errors = reading.stepErrorsDb;
  return Array.isArray(errors) && errors.length > 0
    ? `steps off by ${errors.map((error) => figure(error, 2)).join(', ')} dB`
    : '';
}

function filtersIn({ reading }: CheckedPart): string {
  const { filters, verdict } = reading as {
    filters?: { kind: string; cutoffHz: number; order: number | null }[];
    verdict?: string;
  };
  if (filters === undefined || filters.length === 0) return verdict ?? '';
  return filters
    .map(({ kind, cutoffHz, order }) => `${kind} ${figure(cutoffHz, 1)} Hz, order ${order ?? 'open'}`)
    .join('; ');
}

function headLine({ file, report }: NamedReport): string {
  const { found, startSeconds, clockSkewPpm, clockSkewUncertaintyPpm, startFound, endFound, skewFrom } =
    report.markers;
  if (startSeconds === null) return `${file}: no run track of this manifest is in it\n`;
  const by = found ? `its ${startFound ? 'start' : 'end'} marker alone` : 'its tones, without a marker';
  const which = startFound && endFound ? '' : ` (by ${by})`;
  const clock =
    skewFrom === null
      ? 'clocks not compared'
      : `clock ${figure(clockSkewPpm, 1)} ± ${figure(clockSkewUncertaintyPpm, 1)} ppm by the ${skewFrom}`;
  return `${file}: run track from ${figure(startSeconds, 3)} s${which}, ${clock}\n`;
}

function faultLines({ faults }: CheckReport): string {
  return faults
    .map(
      ({ sentence, evidence, remedy, parts }) =>
        `  ${sentence} (${parts.join(', ')})\n    ${evidence}\n    ${remedy}\n`,
    )
    .join('');
}

function outcome({ pass, faults, missing, markers }: CheckReport): string {
  if (pass) return 'Passed.\n';
  if (markers.startSeconds === null) return 'Not passed: nothing could be read.\n';
  const count = faults.length === 1 ? '1 fault' : `${faults.length} faults`;
  const lost = missing.length === 0 ? '' : `, not in the recording: ${missing.join(', ')}`;
  return `Not passed: ${count}${lost}.\n`;
}

function detail(named: NamedReport): string {
  const { report } = named;
  const rows = report.parts.map((part) => [
    part.id,
    part.channel,
    VERDICT_WORDS[part.verdict],
    mainFigures(part) || '-',
    part.why,
  ]);
  const table = rows.length === 0 ? '' : formatTable(PART_HEADER, rows);
  return `${headLine(named)}${table}${faultLines(report)}${outcome(report)}`;
}

function summaryRow({ file, report }: NamedReport): string[] {
  const { markers, parts, missing, faults, pass } = report;
  return [
    file,
    pass ? 'pass' : markers.startSeconds === null ? 'no track' : 'FAIL',
    figure(markers.startSeconds, 3),
    figure(markers.clockSkewPpm, 1),
    `${parts.filter(({ verdict }) => verdict === 'failed').length}`,
    `${missing.length}`,
    faults.map(({ channel, fault }) => `${channel}: ${fault}`).join(', ') || '-',
  ];
}

/** One recording in full; of several a line each, and those that did not pass in full. */
export function checkTable(reports: readonly NamedReport[]): string {
  const [only] = reports;
  if (only !== undefined && reports.length === 1) return detail(only);
  const failed = reports.filter(({ report }) => !report.pass);
  const summary = formatTable(SUMMARY_HEADER, reports.map(summaryRow));
  return [
    ...failed.map(detail),
    `${summary}${reports.length - failed.length} of ${reports.length} passed.\n`,
  ].join('\n');
}
