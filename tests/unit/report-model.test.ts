/** The report's model, page and table: the job's own figures, whole, the same everywhere, safe whatever a job says. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { sha256 } from '../../src/cli/sha256.ts';
import type { Job } from '../../src/job/document.ts';
import { record } from '../../src/job/records.ts';
import { figureRows } from '../../src/job/report/csv/figure-rows.ts';
import { recordsCsv } from '../../src/job/report/csv/records-csv.ts';
import { measured, moment } from '../../src/job/report/figures.ts';
import { reportHtml } from '../../src/job/report/html/page.ts';
import type { Cell, Report, ReportTable } from '../../src/job/report/model.ts';
import { jobReport, signedReport } from '../../src/job/report/report.ts';
import { reportFiles } from '../../src/job/report/report-files.ts';
import { signJob } from '../../src/job/sign-off/sign-job.ts';
import { reportJob } from './report-job.ts';
import { gainOf } from './station-records.ts';

const textOf = (cell: Cell) => (typeof cell === 'string' ? cell : cell.text);

function tablesOf(report: Report, sectionId: string): ReportTable[] {
  const section = report.sections.find(({ id }) => id === sectionId);
  return (section?.blocks ?? []).filter((block) => block.type === 'table');
}

function rowOf(report: Report, sectionId: string, caption: RegExp, name: string): string[] {
  const table = tablesOf(report, sectionId).find((one) => caption.test(one.caption));
  const row = table?.rows.find(([first]) => first !== undefined && textOf(first) === name);
  if (row === undefined) throw new Error(`no row "${name}" in ${sectionId}`);
  return row.map(textOf);
}

/** A value with one of its parts replaced by null, for each part; of a list only its first is tried. */
function* withOneNull(value: unknown): Generator<unknown> {
  if (typeof value !== 'object' || value === null) return;
  const keys = Array.isArray(value) ? Object.keys(value).slice(0, 1) : Object.keys(value);
  for (const key of keys) {
    const inner = (value as Record<string, unknown>)[key];
    const put = (part: unknown) =>
      Array.isArray(value) ? value.with(Number(key), part) : { ...value, [key]: part };
    yield put(null);
    for (const bent of withOneNull(inner)) yield put(bent);
  }
}

describe('the model', () => {
  it('puts plan, reading, tolerance and judgement of a channel side by side', () => {
    const row = rowOf(jobReport(reportJob()), 'gain', /Plan against reading/, 'Front left door');
    // 17.31 V × 0.57 % at k = 1; 20 lg 17.31/17.32 rounds to −0.01 dB.
    expect(row.slice(1, 7)).toEqual([
      '17.32 V',
      '997.0 Hz at −5.00 dBFS',
      '17.32 V',
      '17.31 ± 0.20 V',
      '−0.01 dB',
      '±0.5 dB',
    ]);
  });

  it('shows the newest reading of each channel, and every older one among the records', () => {
    const job = reportJob();
    const again = gainOf('gain-again', { volts: 17.05, voltsUncertainty: 0.1 });
    const report = jobReport({ ...job, records: [...job.records, again] });
    expect(rowOf(report, 'gain', /Plan against/, 'Front left door')[4]).toBe('17.05 ± 0.20 V');
    const all = tablesOf(report, 'conditions').find(({ caption }) => /Every record/.test(caption));
    expect(all?.rows.map(([number]) => number)).toEqual(
      job.records.concat(again).map((_, at) => `${at + 1}`),
    );
  });

  it('says what it all comes to: out of tolerance before not complete before inside', () => {
    expect(jobReport(reportJob()).verdict).toMatchObject({ mark: 'out-of-tolerance' });
    const bare = jobReport(reportJob({ records: [] }));
    expect(bare.verdict.mark).toBe('not-done');
    expect(bare.verdict.sentence).toMatch(/^Of 21 checks .* 0 are inside its tolerances; 21 not done\.$/);
    const noise = bare.sections.find(({ id }) => id === 'noise');
    expect(noise?.blocks).toEqual([{ type: 'note', weight: 'plain', text: 'Nothing was recorded.' }]);
  });

  it('tells each fault that was named, with evidence and remedy', () => {
    const row = rowOf(jobReport(reportJob()), 'findings', /Faults/, 'Rear right door is the other way up.');
    expect(row.slice(1)).toEqual([
      'Its pulse fits upside down, 99.8 % sure.',
      'Swap plus and minus at the driver or at the amplifier.',
      '17',
    ]);
  });

  it('of a sign-off shows the job as it was signed, with name and hash', async () => {
    const job = reportJob();
    const signature = { id: 's1', at: '2026-03-15T08:05:00.000Z', signedBy: 'A. Fitter', note: '' };
    const signOff = await signJob(job, signature, sha256);
    const signed = { ...job, title: 'Renamed since', signOffs: [signOff] };
    const report = signedReport(signOff);
    expect(report.title).toBe(job.title);
    const words = JSON.stringify(report.sections.find(({ id }) => id === 'sign-off'));
    for (const word of ['A. Fitter', '15 Mar 2026, 08:05 UTC', signOff.sha256]) expect(words).toContain(word);
    expect(JSON.stringify(jobReport(signed).sections)).toContain('does not speak for all of this report');
    expect(() => reportFiles(signed, 's2')).toThrow('this job has no sign-off "s2"; it has s1.');
  });
});

describe('figures', () => {
  it('carry as many digits as their uncertainty deserves, and ± at k = 2', () => {
    const volts = { unit: 'V', decimals: 2 };
    expect(measured(17.3123, 0.05, volts)).toBe('17.31 ± 0.10 V');
    expect(measured(17.3123, 0.4, volts)).toBe('17.3 ± 0.8 V');
    expect(measured(17.3123, null, volts)).toBe('17.31 V');
    expect(measured(null, 0.4, volts)).toBe('—');
    expect(measured(0.5, null, { unit: 'dB', decimals: 1, isDifference: true })).toBe('+0.5 dB');
  });

  it('moments are told in UTC, whoever reads them', () => {
    expect(moment('2026-11-05T23:07:59.000Z')).toBe('5 Nov 2026, 23:07 UTC');
  });
});

describe('the page', () => {
  it('needs nothing from anywhere and forbids itself to ask', () => {
    const html = reportHtml(jobReport(reportJob()));
    expect(html).toContain("default-src 'none'");
    expect(html).not.toMatch(/<(script|link|img|iframe|object|embed|base)\b|@import|url\((?!#)|https?:/i);
    expect(html).not.toMatch(/NaN|Infinity|undefined/);
  });

  it('keeps whatever is typed into a job as text, in the page and in its style', () => {
    const nasty = fc.string({ unit: 'binary', minLength: 1 }).map((text) => `</style><script>"'${text}\\`);
    fc.assert(
      fc.property(nasty, (title) => {
        const html = reportHtml(jobReport(reportJob({ title, vehicle: title, records: [] })));
        expect(html.match(/<\/style>/g)).toHaveLength(1);
        expect(html).not.toContain('<script');
      }),
      { numRuns: 30 },
    );
  });

  it('stands whatever was not measured: each figure of each record in turn is null', () => {
    const job = reportJob();
    let count = 0;
    for (const whole of job.records) {
      for (const bent of withOneNull(whole)) {
        const valid = record.safeParse(bent);
        if (!valid.success) continue;
        count += 1;
        const html = reportHtml(jobReport({ ...job, records: [valid.data] }));
        expect(html).not.toMatch(/NaN|Infinity|undefined|null/);
      }
    }
    expect(count).toBeGreaterThan(100);
  });

  it('gives every drawing words, every table a caption and every id once', () => {
    const html = reportHtml(jobReport(reportJob()));
    const count = (what: RegExp) => html.match(what)?.length ?? 0;
    expect(count(/<svg /g)).toBeGreaterThan(10);
    expect(
      count(/<svg [^>]*role="img" aria-labelledby="[^"]+"><title[^>]*>[^<]+<\/title><desc[^>]*>[^<]+</g),
    ).toBe(count(/<svg /g));
    const captions = [...html.matchAll(/<figcaption id="([^"]+)">[^<]+</g)].map(([, id]) => id);
    const named = [...html.matchAll(/<table aria-labelledby="([^"]+)">/g)].map(([, id]) => id);
    expect(named).toHaveLength(count(/<table/g));
    expect(named).toEqual(captions);
    const ids = [...html.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id);
    expect(new Set(ids).size).toBe(ids.length);
  });

  it('draws a knee where its volts stand on the axis', () => {
    const html = reportHtml(jobReport(reportJob()));
    const trace = /<svg [^>]*aria-labelledby="gain-2-t[\s\S]*?<\/svg>/.exec(html)?.[0] ?? '';
    expect(trace).toContain('knee 18.44 V');
    const [aim, knee] = [...trace.matchAll(/class="mark" d="M([\d.]+) /g)].map(([, x]) => Number(x));
    // The axis runs from 54 to 330 px; the fixture's trace from 10.1 to 19.4 V gives whole volts to either side.
    const ticks = [...trace.matchAll(/x="([\d.]+)" y="202" text-anchor="middle">([\d.]+)</g)].map(
      ([, x, volts]) => [Number(x), Number(volts)] as const,
    );
    const [first, last] = [ticks[0]!, ticks.at(-1)!];
    const at = (volts: number) =>
      first[0] + ((volts - first[1]) / (last[1] - first[1])) * (last[0] - first[0]);
    expect(aim).toBeCloseTo(at(17.32), 1);
    expect(knee).toBeCloseTo(at(18.44), 1);
  });
});

describe('the table of all records', () => {
  const lines = (job: Pick<Job, 'records'>) => recordsCsv(job).split('\r\n');

  it('holds every number of every record, exactly', () => {
    const { records } = reportJob();
    const numbers = (value: unknown): number[] => {
      if (typeof value === 'number') return [value];
      return typeof value === 'object' && value !== null ? Object.values(value).flatMap(numbers) : [];
    };
    const rows = records.flatMap(figureRows);
    const found = rows.flatMap(({ value }) => (typeof value === 'number' ? [value] : []));
    const wanted = records.flatMap(({ result, conditions }) => [...numbers(result), ...numbers(conditions)]);
    expect(found.toSorted()).toEqual(wanted.toSorted());
    expect(lines({ records })).toHaveLength(rows.length + 2);
  });

  it('puts each uncertainty beside its figure, and a channel’s id beside what is of that channel', () => {
    const text = lines(reportJob());
    const row = (record: string, figure: string) =>
      text.find((line) => line.includes(`,${record},`) && line.includes(`,${figure},`));
    expect(row('gain-front-left', 'result.volts')).toBe(
      `6,gain-front-left,gain,2026-03-14T10:00:00.000Z,front-left,result.volts,17.31,${17.31 * 0.0057},voltsUncertainty`,
    );
    expect(row('filter-rear-left', 'result.highPass.found.cutoffHz')).toMatch(
      /,82\.37,0\.1,cutoffUncertaintyHz$/,
    );
    expect(row('arrival-1', 'result.channels[1].arrivalMs')).toMatch(
      /,front-right,.*,0\.87,0\.012,uncertaintyMs$/,
    );
    expect(row('level-1', 'result.channels[0].trimDb')).toMatch(
      /,front-left,result.channels\[0\].trimDb,0,,$/,
    );
  });

  it('keeps a note that begins like a formula a note, and commas and quotes inside their cell', () => {
    const [record] = reportJob().records;
    const noted = (note: string) =>
      lines({ records: [{ ...record!, conditions: { ...record!.conditions, note } }] }).find((line) =>
        line.includes('conditions.note'),
      );
    expect(noted('=1+1')).toMatch(/,conditions\.note,'=1\+1,,$/);
    expect(noted('5", left')).toMatch(/,conditions\.note,"5"", left",,$/);
  });
});
