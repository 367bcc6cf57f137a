import { readFileSync, writeFileSync } from 'node:fs';
import { beforeAll, expect, test } from 'vitest';
import { sha256 } from '../../src/cli/sha256.ts';
import type { Job } from '../../src/job/document.ts';
import { reportFiles } from '../../src/job/report/report-files.ts';
import { writeSealed } from '../../src/job/sign-off/sealed-file.ts';
import { signJob } from '../../src/job/sign-off/sign-job.ts';
import { writeJob } from '../../src/job/write-job.ts';
import { builtCli } from './built-cli.ts';
import { reportJob } from './report-job.ts';
import { gainOf } from './station-records.ts';

const cli = builtCli();
const read = (name: string) => readFileSync(cli.work(name), 'utf8');

beforeAll(() => {
  writeFileSync(cli.work('full.json'), writeJob(reportJob()));
  const inside = gainOf('g', { targetVolts: Math.sqrt(300) });
  writeFileSync(cli.work('one.json'), writeJob(reportJob({ records: [inside] })));
});

test('writes page and table, the bytes that the app makes, and tells where each check stands', () => {
  const ended = cli.run('report', 'full.json', '--out', 'full.html', '--csv', 'full.csv');
  // The job holds a reversed channel.
  expect(ended.status).toBe(1);
  expect(ended.stdout).toMatch(/^Polarity +out of tolerance +14 Mar 2026, 10:00 UTC +Rear right door/m);
  const { html, csv } = reportFiles(reportJob(), null);
  expect(read('full.html')).toBe(html);
  expect(read('full.csv')).toBe(csv);
});

test('is no failure while nothing is out of tolerance; --json prints the model and nothing else', () => {
  const ended = cli.run('report', 'one.json', '--out', 'one.html', '--json');
  expect(ended.status).toBe(0);
  expect(JSON.parse(ended.stdout)).toMatchObject({ jobId: 'hatchback', verdict: { mark: 'not-done' } });
});

test('of a signed job shows it as signed; altered by a digit it is refused, and nothing is written', async () => {
  const signature = { id: 's1', at: '2026-03-15T08:05:00.000Z', signedBy: 'A. Fitter', note: '' };
  const bare = reportJob();
  const signed: Job = { ...bare, title: 'Renamed', signOffs: [await signJob(bare, signature, sha256)] };
  const text = await writeSealed(signed, sha256);
  writeFileSync(cli.work('signed.json'), text);
  expect(cli.run('report', 'signed.json', '--out', 's.html', '--sign-off', 's1').status).toBe(1);
  expect(read('s.html')).toContain('<h1>Hatchback, four doors and a subwoofer</h1>');
  writeFileSync(cli.work('edited.json'), text.replace('"volts": 17.31', '"volts": 17.32'));
  const before = cli.listing();
  const ended = cli.run('report', 'edited.json', '--out', 'edited.html');
  expect(ended).toMatchObject({ status: 2, stdout: '' });
  expect(ended.stderr).toMatch(
    /^kneepoint: edited\.json: This job was altered after it was signed: [^\n]+\n$/,
  );
  expect(cli.listing()).toEqual(before);
});

test('replaces nothing, and leaves neither file where one of the two cannot be written', () => {
  cli.run('report', 'one.json', '--out', 'there.html');
  const kept = read('there.html');
  const again = cli.run('report', 'full.json', '--out', 'there.html', '--csv', 'new/there.csv');
  expect(again.status).toBe(2);
  expect(again.stderr).toMatch(/there\.html: this file is already there/);
  expect(read('there.html')).toBe(kept);
  const half = cli.run('report', 'one.json', '--out', 'half.html', '--csv', 'one.json/half.csv');
  expect(half.status).toBe(2);
  expect(cli.listing()).not.toContain('half.html');
  expect(cli.listing()).not.toContain('new');
});

test('says in one sentence what is wrong with the arguments', () => {
  const refused = (...args: string[]) => {
    const { status, stderr, stdout } = cli.run('report', ...args);
    expect({ status, stdout }).toEqual({ status: 2, stdout: '' });
    return stderr;
  };
  expect(refused()).toMatch(/takes one job file\.\n$/);
  expect(refused('one.json')).toMatch(/--out FILE\.html says where the report goes\.\n$/);
  expect(refused('one.json', '--out', 'a.html', '--csv', './a.html')).toMatch(/name another file\.\n$/);
  expect(refused('one.json', '--out', 'a.html', '--sign-off', 's9')).toMatch(
    /has no sign-off "s9"; it has none/,
  );
  expect(refused('none.json', '--out', 'a.html')).toMatch(/none\.json: there is no such file/);
});
