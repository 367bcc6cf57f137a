import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { type OutputFile, writeFilesWhole } from '../../src/cli/atomic-output.ts';
import { UsageError } from '../../src/cli/usage-error.ts';

let root = '';
beforeEach(() => {
  root = mkdtempSync(join(tmpdir(), 'kneepoint-output-'));
});
afterEach(() => rmSync(root, { recursive: true, force: true }));

const listing = () => readdirSync(root, { recursive: true }).map(String).sort();
const holding = (name: string, text: string): OutputFile => ({ name, pieces: () => [Buffer.from(text)] });
const failing: OutputFile = {
  name: 'b.wav',
  *pieces() {
    yield Buffer.from('half');
    throw new RangeError('the tone cannot be rendered');
  },
};

test('writes every file whole, into folders made on the way, and nothing beside them', async () => {
  await writeFilesWhole(join(root, 'new/set'), [holding('a.wav', 'one'), holding('b.wav', 'two')]);
  expect(listing()).toEqual(['new', 'new/set', 'new/set/a.wav', 'new/set/b.wav']);
  expect(readFileSync(join(root, 'new/set/b.wav'), 'utf8')).toBe('two');
});

test('a failure half-way leaves no file, and no folder that was not there', async () => {
  const written = writeFilesWhole(join(root, 'new/set'), [holding('a.wav', 'one'), failing]);
  await expect(written).rejects.toThrow('the tone cannot be rendered');
  expect(listing()).toEqual([]);
});

test('a failure half-way leaves what was in the folder', async () => {
  mkdirSync(join(root, 'set'));
  writeFileSync(join(root, 'set/mine.txt'), 'mine');
  await expect(writeFilesWhole(join(root, 'set'), [holding('a.wav', 'one'), failing])).rejects.toThrow(
    RangeError,
  );
  expect(listing()).toEqual(['set', 'set/mine.txt']);
});

test('refuses to replace a file before anything is written', async () => {
  writeFileSync(join(root, 'b.wav'), 'mine');
  const written = writeFilesWhole(root, [holding('a.wav', 'one'), holding('b.wav', 'two')]);
  await expect(written).rejects.toThrow(UsageError);
  await expect(written).rejects.toThrow(/b\.wav: this file is already there/);
  expect(listing()).toEqual(['b.wav']);
  expect(readFileSync(join(root, 'b.wav'), 'utf8')).toBe('mine');
});
