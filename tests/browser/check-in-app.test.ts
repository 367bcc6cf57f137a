/** The check of a recording in the app: the faults by name, and to the byte what the command line says. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { floatWav } from '../../src/audio/wav/float-wav.ts';
import { usualRunOptions } from '../../src/job/run-track/options.ts';
import { runManifest } from '../../src/job/run-track/run-manifest.ts';
import { toneSet } from '../../src/job/tone-set.ts';
import { builtCli } from '../unit/built-cli.ts';
import {
  clippedAt,
  door,
  HATCHBACK,
  hatchbackRun,
  noisy,
  played,
  RATE_HZ,
  scaled,
} from '../unit/run-recordings.ts';
import { launchApp, type RunningApp } from './launch.ts';
import { seamlessWav } from './seamless-wav.ts';

const HATCHBACK_FILE = fileURLToPath(new URL('../../shared/examples/hatchback.job.json', import.meta.url));
const cli = builtCli();
const WORK_MS = 90_000;

/** Both front channels at their terminals; the right one is clipped a little below its full-power tones. */
function recorded(): ArrayBuffer {
  const [left, right] = played(hatchbackRun());
  const loudest = right.reduce((most, sample) => Math.max(most, Math.abs(sample)), 0);
  const channels = [door(left), clippedAt(door(right), 0.5 * loudest)];
  return floatWav(
    channels.map((samples, channel) => noisy(scaled(samples, -6), -80, channel + 1)),
    RATE_HZ,
  );
}

async function openCheck(app: RunningApp, wav: string): Promise<void> {
  const { page } = app;
  await page.goto(`${app.url}#/sign-off`);
  await page.getByRole('button', { name: 'Check by one track' }).click();
  await page.getByLabel('Or choose a WAV file').setInputFiles(wav);
}

test('names the fault, and saves the very JSON that `kneepoint check --json` prints', async () => {
  const wav = cli.work('fronts.wav');
  writeFileSync(wav, Buffer.from(recorded()));
  writeFileSync(cli.work('job.json'), JSON.stringify(HATCHBACK));
  const manifest = toneSet(HATCHBACK, { sampleRateHz: RATE_HZ, bits: 16 });
  writeFileSync(cli.work('manifest.json'), JSON.stringify(manifest));
  const said = cli.run(
    ...['check', 'fronts.wav', '--manifest', 'manifest.json', '--job', 'job.json'],
    ...['--at', 'front-left,front-right', '--volts-per-fs', '30', '--json'],
  );
  expect(said.status).toBe(1);

  const app = await launchApp({ rig: true });
  try {
    const { page } = app;
    await openCheck(app, wav);
    await page.getByLabel('Input channel 1 is at').last().selectOption('front-left');
    await page.getByLabel('Input channel 2 is at').last().selectOption('front-right');
    await page.getByLabel(/^A full-scale sine is/).fill('30');
    await page.getByRole('button', { name: 'Check it' }).click();
    const pass = page.locator('output[data-reading="checkPass"]');
    await pass.waitFor({ timeout: WORK_MS });
    expect(await pass.getAttribute('data-value')).toBe('false');
    const faults = page.getByRole('list', { name: 'Faults' }).getByRole('listitem');
    const named = await faults.evaluateAll((all) =>
      all.map((one) => (one as HTMLElement).dataset).map(({ channel, fault }) => `${channel}: ${fault}`),
    );
    const report = JSON.parse(said.stdout);
    expect(named).toEqual(
      report.faults.map(({ channel, fault }: Record<string, string>) => `${channel}: ${fault}`),
    );
    expect(named.some((one) => one.startsWith('front-right: '))).toBe(true);
    const download = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Save as JSON' }).click();
    expect(readFileSync(await (await download).path(), 'utf8')).toBe(said.stdout);

    await page.getByRole('button', { name: 'Accept this check' }).click();
    await page.getByText('Recorded.', { exact: true }).waitFor();
    const kept = page.getByRole('list', { name: 'Accepted results' }).getByRole('listitem').first();
    const words = await kept.textContent();
    expect(words).toContain('Not passed, at Front left door, Front right door.');
    expect(words).toContain(report.faults[0].sentence);
    await page.reload();
    await page.getByRole('button', { name: 'Check by one track' }).click();
    await kept.waitFor();
    expect(await kept.textContent()).toBe(words);
    expect(app.errors).toEqual([]);
  } finally {
    await app.close();
  }
}, 180_000);

test('says in a sentence why a file cannot be checked', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'kneepoint-check-'));
  const app = await launchApp({ rig: true });
  try {
    const path = join(folder, 'notes.wav');
    writeFileSync(path, 'no sound at all, only words');
    await openCheck(app, path);
    await app.page.getByText('Not a WAV file').waitFor();
  } finally {
    await app.close();
    rmSync(folder, { recursive: true, force: true });
  }
});

test('checks while it records, and stops by itself once the end of the track was heard', async () => {
  const form = { sampleRateHz: RATE_HZ, bits: 16 } as const;
  const options = {
    ...usualRunOptions(HATCHBACK),
    contents: ['identification', 'reduced', 'noise'] as const,
  };
  const manifest = runManifest(HATCHBACK, options, form);
  const [left, right] = played(manifest.tracks[0]);
  // The microphone begins its file anew when it comes to the end; the recording is over long before.
  const [aheadSeconds, behindSeconds] = [4, 40];
  const frames = Math.round((aheadSeconds + behindSeconds) * RATE_HZ) + left.length;
  const heard = new Float32Array(frames - (frames % RATE_HZ));
  left.forEach((sample, at) => {
    heard[aheadSeconds * RATE_HZ + at] = 0.5 * (sample + right[at]!);
  });
  const app = await launchApp({ wav: seamlessWav(noisy(heard, -80)) });
  try {
    const { page } = app;
    await page.getByLabel('Or take in a job file').setInputFiles(HATCHBACK_FILE);
    await page.getByRole('heading', { name: /^Plan/ }).waitFor();
    await page.goto(`${app.url}#/sign-off`);
    await page.getByRole('button', { name: 'Check by one track' }).click();
    await page.locator('summary', { hasText: 'Track: this job' }).click();
    await page.getByLabel('Another tone set, by its manifest.json').setInputFiles({
      name: 'short.json',
      mimeType: 'application/json',
      buffer: Buffer.from(JSON.stringify(manifest)),
    });
    await page.getByText('the run track of short.json').waitFor();
    // Nothing of it before the cautions: the track plays at full power through whatever is connected.
    expect(await page.getByRole('button', { name: 'Open the input' }).count()).toBe(0);
    await page.getByRole('button', { name: 'I have read this' }).click();
    await page.getByRole('button', { name: 'Open the input' }).click();
    await page.getByRole('button', { name: 'Record', exact: true }).click();
    const partsHeard = page.locator('output[data-reading="partsHeard"][data-state="valid"]');
    await partsHeard.waitFor({ timeout: 40_000 });
    expect(Number(await partsHeard.getAttribute('data-value'))).toBeGreaterThan(0);
    await page.getByRole('button', { name: 'Check it' }).click({ timeout: 40_000 });
    const pass = page.locator('output[data-reading="checkPass"]');
    await pass.waitFor({ timeout: WORK_MS });
    expect(await pass.getAttribute('data-state')).toBe('valid');
    expect(await page.locator('tr[data-verdict="missing"]').count()).toBe(0);
    const row = page.getByRole('list', { name: 'Recordings' }).getByRole('listitem').first();
    const seconds = Number(await row.getAttribute('data-frames')) / RATE_HZ;
    expect(seconds).toBeGreaterThan(manifest.tracks[0].durationSeconds);
    expect(app.errors).toEqual([]);
  } finally {
    await app.close();
  }
}, 180_000);
