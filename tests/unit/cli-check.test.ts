import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { wavPieces } from '../../src/audio/wav/wav-encoder.ts';
import type { CheckReport } from '../../src/procedure/check/check.ts';
import { builtCli } from './built-cli.ts';
import { HATCHBACK, hatchbackRun, played, RATE_HZ } from './run-recordings.ts';

const cli = builtCli();
const AT = ['--manifest', 'manifest.json', '--at', 'front-left,front-right'];

function write(name: string, channels: readonly Float32Array[]): void {
  const form = { sampleRateHz: RATE_HZ, bits: 24 as const, frames: channels[0]!.length, ditherSeed: 1 };
  writeFileSync(
    cli.work(name),
    Buffer.concat([
      ...wavPieces(
        form,
        channels.map((one) => Float64Array.from(one)),
      ),
    ]),
  );
}

beforeAll(() => {
  const run = hatchbackRun({
    contents: ['identification', 'reduced', 'noise', 'polarity', 'full'],
    silenceSeconds: 2,
  });
  const set = {
    format: 'kneepoint-tone-set',
    version: 1,
    sampleRateHz: RATE_HZ,
    bits: 16,
    jobId: HATCHBACK.id,
  };
  writeFileSync(cli.work('manifest.json'), JSON.stringify({ ...set, tracks: [run] }));
  const { id, startSeconds, durationSeconds } = run.parts[1]!;
  const tone = { ...run.parts[3]!, id, file: 'tone.wav', startSeconds, durationSeconds };
  writeFileSync(cli.work('no-run.json'), JSON.stringify({ ...set, tracks: [tone] }));
  writeFileSync(cli.work('job.json'), JSON.stringify(HATCHBACK));
  const [left, right] = played(run);
  write('good.wav', [left, right]);
  write('reversed.wav', [left, right.map((sample) => -sample)]);
  write('other.wav', [left.slice(9 * RATE_HZ, 11 * RATE_HZ)]);
});

describe('kneepoint check', () => {
  it('prints the contract’s document for one file, and ends in 0 where everything passed', () => {
    const ended = cli.run('check', 'good.wav', ...AT, '--json');
    expect(ended).toMatchObject({ status: 0, stderr: '' });
    const report = JSON.parse(ended.stdout) as CheckReport;
    expect(report).toMatchObject({ markers: { found: true }, pass: true });
    expect(Math.abs(report.markers.clockSkewPpm!)).toBeLessThan(0.1);
    const level = report.parts.find((part) => part.id === 'front-left-level');
    expect(level).toMatchObject({
      channel: 'front-left',
      pass: true,
      why: '',
      reading: { levelVolts: null },
    });
    expect(level!.reading.levelDbfs as number).toBeCloseTo(-5, 2);
  });

  it('ends in 1 where something is wrong, and says what, by which evidence, and what to do', () => {
    const ended = cli.run('check', 'reversed.wav', ...AT);
    expect(ended).toMatchObject({ status: 1, stderr: '' });
    expect(ended.stdout).toMatch(
      /^right-polarity +front-right +FAIL +inverted +front-right is the wrong way round\.$/m,
    );
    expect(ended.stdout).toContain('Swap the two leads of front-right');
    expect(ended.stdout.trim().split('\n').at(-1)).toBe('Not passed: 1 fault.');
  });

  it('with volts and the job holds levels against targets', () => {
    const options = ['--job', 'job.json', '--volts-per-fs', '30.8', '--json'];
    const report = JSON.parse(cli.run('check', 'good.wav', ...AT, ...options).stdout) as CheckReport;
    const level = report.parts.find((part) => part.id === 'front-right-level')!;
    expect(level.reading.levelVolts as number).toBeCloseTo(30.8 * 10 ** (-5 / 20), 2);
    expect(level.limits).toMatchObject({ toleranceDb: 0.5 });
    expect(report.pass).toBe(true);
  });

  it('takes several files: one document, one summary, one CSV', () => {
    const files = ['good.wav', 'reversed.wav'];
    const ended = cli.run('check', ...files, ...AT, '--csv', 'all.csv', '--json');
    expect(ended).toMatchObject({ status: 1, stderr: '' });
    const document = JSON.parse(ended.stdout) as { files: (CheckReport & { file: string })[]; pass: boolean };
    expect(document.files.map(({ file, pass }) => [file, pass])).toEqual([
      ['good.wav', true],
      ['reversed.wav', false],
    ]);
    expect(document.pass).toBe(false);
    const rows = readFileSync(cli.work('all.csv'), 'utf8').trim().split('\r\n');
    expect(rows).toHaveLength(1 + document.files.reduce((sum, { parts }) => sum + parts.length, 0));
    expect(rows.find((row) => row.startsWith('reversed.wav') && row.includes('right-polarity,'))).toContain(
      'failed,false',
    );
    const table = cli.run('check', ...files, ...AT).stdout;
    expect(table).toMatch(/^good\.wav +pass /m);
    expect(table).toMatch(/^reversed\.wav +FAIL .*front-right: channel-reversed$/m);
    expect(table).toContain('1 of 2 passed.');
  });

  it('says that a recording holds no run track, and ends in 1', () => {
    const ended = cli.run('check', 'other.wav', '--manifest', 'manifest.json');
    expect(ended).toMatchObject({ status: 1, stderr: '' });
    expect(ended.stdout).toContain('no run track of this manifest is in it');
  });
});

describe('what cannot be used: one sentence, status 2, nothing printed or left behind', () => {
  it.each([
    [[], /No file was named/],
    [['good.wav'], /--manifest is missing/],
    [['good.wav', '--manifest', 'no-run.json'], /no-run\.json: .*no track of kind "run"/],
    [['good.wav', '--manifest', 'job.json'], /no tone set's manifest/],
    [
      ['good.wav', '--manifest', 'manifest.json', '--at', 'front-left'],
      /good\.wav: 1 point was named, .* 2 channels/,
    ],
    [
      ['good.wav', '--manifest', 'manifest.json', '--at', 'front-left,,'],
      /--at front-left,,: it must name one point/,
    ],
    [['good.wav', ...AT, '--volts-per-fs', '0'], /--volts-per-fs 0: .* above 0/],
    [['good.wav', '--manifest', 'manifest.json', '--at', 'front-left,nowhere'], /no part for "nowhere"/],
    [['good.wav', 'job.json', ...AT, '--csv', 'never.csv'], /job\.json: /],
    [['good.wav', 'missing.wav', ...AT], /missing\.wav: there is no such file/],
  ])('%j', (args, sentence) => {
    const ended = cli.run('check', ...args);
    expect(ended).toMatchObject({ status: 2, stdout: '' });
    expect(ended.stderr.trim().split('\n')).toHaveLength(1);
    expect(ended.stderr).toMatch(sentence);
    expect(existsSync(cli.work('never.csv'))).toBe(false);
  });
});
