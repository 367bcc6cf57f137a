/** Issue 2: bad input gets one sentence, exit 2, nothing on standard output, nothing written. */
import { spawnSync } from 'node:child_process';
import { copyFileSync, mkdirSync, readdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, test } from 'vitest';
import { builtCli, type Ended } from './built-cli.ts';
import { bytesOf, chunk, formatBody, little, riff } from './wav-bytes.ts';

const cli = builtCli();
const demoJob = fileURLToPath(new URL('../../shared/examples/hatchback.job.json', import.meta.url));

function sineWav(frames: number): Uint8Array {
  const samples = Array.from({ length: frames }, (_, frame) => Math.round(16_000 * Math.sin(0.13 * frame)));
  return riff([
    chunk('fmt ', formatBody()),
    chunk('data', bytesOf(...samples.map((code) => little(code, 2)))),
  ]);
}

function floatWav(values: number[]): Uint8Array {
  const body = new Uint8Array(new Float32Array(values).buffer);
  return riff([chunk('fmt ', formatBody({ tag: 3, bits: 32 })), chunk('data', body)]);
}

beforeAll(() => {
  const good = sineWav(48_000);
  const job = JSON.parse(readFileSync(demoJob, 'utf8'));
  writeFileSync(cli.work('good.wav'), good);
  writeFileSync(cli.work('text.wav'), 'this is a letter and no recording');
  writeFileSync(cli.work('empty.wav'), '');
  writeFileSync(cli.work('truncated.wav'), good.subarray(0, 50_000));
  writeFileSync(cli.work('header-only.wav'), good.subarray(0, 44));
  writeFileSync(cli.work('no-frames.wav'), sineWav(0));
  writeFileSync(cli.work('nan.wav'), floatWav([0, 0.1, Number.NaN, 0.2]));
  writeFileSync(cli.work('infinite.wav'), floatWav([0, Number.NEGATIVE_INFINITY]));
  writeFileSync(cli.work('newer.job.json'), JSON.stringify({ ...job, version: 99 }));
  writeFileSync(cli.work('broken.job.json'), '{ "format": ');
  writeFileSync(cli.work('other.json'), '{ "format": "something-else" }');
  mkdirSync(cli.work('folder.wav'));
});

function expectRefusal(ended: Ended, sentence: RegExp): void {
  expect(ended.stderr).toMatch(sentence);
  // One line, and nothing else: no stack, no second line.
  expect(ended.stderr).toMatch(/^kneepoint: [^\n]+\n$/);
  expect(ended.stderr).not.toMatch(/fault of the program|\bat .*:\d+:\d+/);
  expect(ended.stdout).toBe('');
  expect(ended.status).toBe(2);
}

describe.each<[string, string[], RegExp]>([
  ['no command', [], /No command was given; it must be one of plan, tones, measure/],
  ['an unknown command', ['mesure', 'good.wav'], /no command "mesure"/],
  ['an unknown option', ['measure', 'good.wav', '--volume', '3'], /--volume.*measure --help/],
  ['measure without a file', ['measure'], /No file was named/],
  ['a file that is not there', ['measure', 'none.wav'], /none\.wav: there is no such file/],
  ['a folder', ['measure', 'folder.wav'], /folder\.wav: this is a folder; a file is needed/],
  ['no WAV file', ['measure', 'text.wav'], /text\.wav: Not a WAV file/],
  ['an empty file', ['measure', 'empty.wav'], /empty\.wav: The file is empty/],
  [
    'a truncated WAV',
    ['measure', 'truncated.wav'],
    /truncated\.wav: The file is cut short: .*1\.000 s.*0\.520 s/,
  ],
  ['a header alone', ['measure', 'header-only.wav', '--json'], /header-only\.wav: The file is cut short/],
  ['0 frames', ['measure', 'no-frames.wav'], /no-frames\.wav: The file holds 0 frames/],
  ['a NaN sample', ['measure', 'nan.wav', '--json'], /nan\.wav: Frame 2 .* of channel 0 is not a number/],
  ['an infinite sample', ['measure', 'infinite.wav'], /infinite\.wav: Frame 1 .* is infinite/],
  ['one bad file behind a good one', ['measure', 'good.wav', 'nan.wav', '--json'], /nan\.wav: Frame 2/],
  ['volts of 0', ['measure', 'good.wav', '--volts-per-fs', '0'], /--volts-per-fs 0: .* above 0/],
  ['volts of -2', ['measure', 'good.wav', '--volts-per-fs', '-2'], /--volts-per-fs -2: .* above 0/],
  ['volts in words', ['measure', 'good.wav', '--volts-per-fs', 'two'], /--volts-per-fs two/],
  ['a negative beginning', ['measure', 'good.wav', '--from', '-1'], /--from -1: .* 0 or more/],
  [
    'an option given twice',
    ['check', 'good.wav', '--manifest', 'm.json', '--at', 'front-left', '--at', 'front-right'],
    /--at is given more than once/,
  ],
  ['an end before the beginning', ['measure', 'good.wav', '--from', '0.5', '--to', '0.2'], /--to 0\.2/],
  ['an end past the file', ['measure', 'good.wav', '--to', '2'], /good\.wav: --to 2 lies past its end/],
  ['a beginning at the end', ['measure', 'good.wav', '--from', '1'], /good\.wav: nothing lies from 1 s on/],
  ['a band the wrong way round', ['measure', 'good.wav', '--band', '2000:20'], /--band 2000:20/],
  ['half a band', ['measure', 'good.wav', '--band', '20'], /--band 20: .*20:20000/],
  [
    'a band past half the rate',
    ['measure', 'good.wav', '--band', '20:30000'],
    /good\.wav: the band.* 24000 Hz/,
  ],
  ['watts of -5', ['plan', '--watts', '-5', '--ohms', '4'], /--watts -5/],
  ['watts of -5, joined', ['plan', '--watts=-5', '--ohms', '4'], /--watts -5/],
  ['ohms of 0', ['plan', '--watts', '50', '--ohms', '0', '--json'], /--ohms 0/],
  ['a job of a newer version', ['plan', 'newer.job.json'], /newer\.job\.json: .*version 99/],
  ['a job that is not there', ['plan', 'none.job.json'], /none\.job\.json: there is no such file/],
  ['tones without a folder', ['tones'], /--out DIR/],
  [
    'tones of a newer job',
    ['tones', '--out', 'set', '--job', 'newer.job.json'],
    /newer\.job\.json: .*version 99/,
  ],
  [
    'tones of a broken job',
    ['tones', '--out', 'set', '--job', 'broken.job.json'],
    /broken\.job\.json: .*not JSON/,
  ],
  [
    'tones of another document',
    ['tones', '--out', 'set', '--job', 'other.json'],
    /other\.json: .*something-else/,
  ],
  ['a rate of 0', ['tones', '--out', 'set', '--rate', '0'], /--rate 0: .* 8000 to 192000/],
  ['a rate of 44.1', ['tones', '--out', 'set', '--rate', '44.1'], /--rate 44\.1/],
  ['20 bits', ['tones', '--out', 'set', '--bits', '20'], /--bits 20: .* 16 or 24/],
  ['a word too many', ['tones', 'set'], /"set" belongs to no option/],
  ['a file for a folder', ['tones', '--out', 'good.wav'], /good\.wav.*part of this path is a file/],
])('%s', (_, args, sentence) => {
  test(`kneepoint ${args.join(' ')}`, () => {
    const before = cli.listing();
    expectRefusal(cli.run(...args), sentence);
    expect(cli.listing()).toEqual(before);
  });
});

test('a tone set never replaces a file, and leaves nothing of itself beside it', () => {
  mkdirSync(cli.work('taken'));
  writeFileSync(cli.work('taken/manifest.json'), 'mine');
  const before = cli.listing();
  expectRefusal(cli.run('tones', '--out', 'taken'), /taken.manifest\.json: this file is already there/);
  expect(cli.listing()).toEqual(before);
  expect(readFileSync(cli.work('taken/manifest.json'), 'utf8')).toBe('mine');
});

test('a fault of the program is one line too, and shows its stack when asked', () => {
  const home = cli.home();
  const built = readdirSync(join(home, 'dist/cli')).map((name) => join(home, 'dist/cli', name));
  const entry = built.find((path) => readFileSync(path, 'utf8').includes('async function openWav('))!;
  copyFileSync(entry, `${entry}.kept`);
  // The measurer of the built program is made to fail as a fault of ours would.
  const text = readFileSync(entry, 'utf8');
  const spoilt = text.replace(
    /async function openWav\(/,
    'async function openWav() { null.spoilt; }\nasync function unused(',
  );
  expect(spoilt).not.toBe(text);
  writeFileSync(entry, spoilt);
  try {
    const ended = cli.run('measure', 'good.wav');
    expect(ended.status).toBe(2);
    expect(ended.stdout).toBe('');
    expect(ended.stderr).toMatch(
      /^kneepoint: This is a fault of the program, not of your input \(TypeError: [^\n]+\n$/,
    );
    const shown = spawnSync(
      process.execPath,
      [join(home, 'bin/kneepoint.js'), 'measure', cli.work('good.wav')],
      {
        encoding: 'utf8',
        env: { ...process.env, KNEEPOINT_DEBUG: '1' },
      },
    );
    expect(shown.stderr).toMatch(/at openWav/);
  } finally {
    renameSync(`${entry}.kept`, entry);
  }
});

test('a program that is not built yet says how to build it', () => {
  const dist = join(cli.home(), 'dist');
  renameSync(dist, `${dist}-aside`);
  try {
    expectRefusal(cli.run('measure', 'good.wav'), /not built yet; run "npm ci"/);
  } finally {
    renameSync(`${dist}-aside`, dist);
  }
});
