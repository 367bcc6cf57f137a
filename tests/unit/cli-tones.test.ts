import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { openWav } from '../../src/audio/wav/open-wav.ts';
import { readFrames } from '../../src/audio/wav/read-frames.ts';
import { builtCli } from './built-cli.ts';
import { byteSource } from './wav-bytes.ts';

const cli = builtCli();
const demoJob = fileURLToPath(new URL('../../shared/examples/hatchback.job.json', import.meta.url));

interface SetTrack {
  id: string;
  file: string;
  kind: string;
  channels: string;
  startSeconds: number;
  durationSeconds: number;
}

async function sidesOf(
  path: string,
): Promise<{ sampleRateHz: number; format: string; sides: Float32Array[] }> {
  const info = await openWav(byteSource(new Uint8Array(readFileSync(path))));
  const sides = Array.from({ length: info.channelCount }, () => new Float32Array(info.frames));
  await readFrames(info, 0, info.frames, sides);
  return { sampleRateHz: info.sampleRateHz, format: info.sampleFormat, sides };
}

// Some twelve minutes of sound: a loaded machine needs longer than the usual limit.
const LONG = { timeout: 180_000 };

test(
  'renders the set of a job: every file of the manifest, on the sides it states, as long as it states',
  LONG,
  async () => {
    const ended = cli.run(
      'tones',
      '--out',
      'set',
      '--job',
      demoJob,
      '--rate',
      '48000',
      '--bits',
      '24',
      '--json',
    );
    expect(ended.status).toBe(0);
    const manifest = JSON.parse(ended.stdout);
    expect(JSON.parse(readFileSync(cli.work('set/manifest.json'), 'utf8'))).toEqual(manifest);
    expect(manifest).toMatchObject({
      format: 'kneepoint-tone-set',
      version: 1,
      sampleRateHz: 48_000,
      bits: 24,
    });
    const tracks = manifest.tracks as SetTrack[];
    expect(cli.listing()).toEqual(
      ['set', ...tracks.map((track) => `set/${track.file}`), 'set/manifest.json'].sort(),
    );
    for (const track of tracks) {
      const { sampleRateHz, format, sides } = await sidesOf(cli.work(`set/${track.file}`));
      expect({ sampleRateHz, format, count: sides.length }).toEqual({
        sampleRateHz: 48_000,
        format: 'pcm24',
        count: 2,
      });
      expect(sides[0]!.length).toBe(Math.round(track.durationSeconds * 48_000));
      const carries = sides.map((side) => side.some((sample) => sample !== 0));
      const silent = track.kind === 'silence';
      expect(carries, track.id).toEqual([
        !silent && track.channels !== 'right',
        !silent && track.channels !== 'left',
      ]);
    }
  },
);

const published = (file: string) =>
  readFileSync(fileURLToPath(new URL(`../../test-signals/${file}`, import.meta.url)), 'utf8');
const sha256 = (bytes: Buffer) => createHash('sha256').update(bytes).digest('hex');

test(
  'renders the general set without a job, byte for byte as its checksums say, and cautions on standard error',
  LONG,
  () => {
    const ended = cli.run('tones', '--out', 'general');
    expect(ended.status).toBe(0);
    expect(ended.stdout).toMatch(/level\.wav +sine +left +997 +-\d+ +\d+/);
    expect(ended.stderr).toMatch(/^Caution: [^\n]*voice coils/m);
    const names = cli.listing().filter((name) => name.startsWith('general/'));
    const lines = names.map((name) => {
      return `${sha256(readFileSync(cli.work(name)))}  ${name.replace('general/', '')}`;
    });
    const how =
      'after a wanted change, test-signals/README.md says how to renew checksums.txt and manifest.json';
    expect(lines, how).toEqual(published('checksums.txt').trim().split('\n'));
    expect(readFileSync(cli.work('general/manifest.json'), 'utf8'), how).toBe(published('manifest.json'));
  },
);

test('--flac writes each track again as FLAC, the run track among them', LONG, () => {
  const ended = cli.run('tones', '--out', 'flac', '--rate', '16000', '--flac');
  expect(ended.status).toBe(0);
  expect(ended.stdout).toContain('each also as FLAC');
  const names = cli.listing().filter((name) => name.startsWith('flac/'));
  const waves = names.filter((name) => name.endsWith('.wav'));
  expect(names.filter((name) => name.endsWith('.flac'))).toEqual(
    waves.map((name) => name.replace('.wav', '.flac')),
  );
  for (const name of waves) {
    // The digest of the samples stands in both.
    const samples = readFileSync(cli.work(name)).subarray(44);
    const copy = readFileSync(cli.work(name.replace('.wav', '.flac')));
    expect(copy.subarray(0, 4).toString('latin1'), name).toBe('fLaC');
    expect(copy.subarray(26, 42).toString('hex'), name).toBe(createHash('md5').update(samples).digest('hex'));
    expect(copy.length, name).toBeLessThan(samples.length);
  }
});

test('interrupted half-way, it leaves nothing behind', async () => {
  const before = cli.listing();
  const program = join(cli.home(), 'bin/kneepoint.js');
  const child = spawn(process.execPath, [
    program,
    'tones',
    '--out',
    cli.work('cut/short'),
    '--rate',
    '96000',
  ]);
  const ended = new Promise<NodeJS.Signals | null>((resolve) =>
    child.on('close', (_, signal) => resolve(signal)),
  );
  while (!existsSync(cli.work('cut/short'))) await pause(5);
  child.kill('SIGINT');
  expect(await ended).toBe('SIGINT');
  expect(cli.listing()).toEqual(before);
});

test('help says what it takes and what each column means', () => {
  for (const ended of [cli.run('tones', '--help'), cli.run('tones', '--out', 'helped', '-h')]) {
    expect(ended.status).toBe(0);
    expect(ended.stderr).toBe('');
    for (const word of ['--out', '--job', '--rate', '--bits', '--flac', '--json', 'channels', 'seconds']) {
      expect(ended.stdout).toContain(word);
    }
  }
  expect(cli.run('--help').stdout).toMatch(/plan .*\n.*tones .*\n.*measure /);
});
