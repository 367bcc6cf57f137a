/** The run track, put together on the Plan and taken out as a file. */
import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { flacCopy } from '../../src/audio/flac/flac-copy.ts';
import { runWav } from '../../src/audio/wav/run-wav.ts';
import { manifest, type RunTrack } from '../../src/job/manifest.ts';
import { launchApp, type RunningApp } from './launch.ts';

let app: RunningApp;
let page: Page;

beforeEach(async () => {
  app = await launchApp({ rig: true, viewport: { width: 360, height: 740 } });
  page = app.page;
  await page.getByRole('navigation', { name: 'Signal path' }).getByRole('button', { name: /^Plan/ }).click();
});

afterEach(async () => {
  const { errors } = app;
  await app.close();
  expect(errors).toEqual([]);
});

const section = () => page.getByRole('region', { name: 'Run track' });
const seconds = async () =>
  Number(await section().locator('[data-reading="durationSeconds"]').getAttribute('data-value'));

/** What lies in a zip without compression, by name; sizes stand in its directory at the end. */
function unzip(bytes: Buffer): Map<string, Buffer> {
  const files = new Map<string, Buffer>();
  const end = bytes.lastIndexOf(Buffer.from('PK\x05\x06', 'latin1'));
  let at = bytes.readUInt32LE(end + 16);
  while (bytes.readUInt32LE(at) === 0x02014b50) {
    const [size, nameBytes, extra, comment] = [
      bytes.readUInt32LE(at + 24),
      bytes.readUInt16LE(at + 28),
      bytes.readUInt16LE(at + 30),
      bytes.readUInt16LE(at + 32),
    ];
    const name = bytes.toString('utf8', at + 46, at + 46 + nameBytes);
    const local = bytes.readUInt32LE(at + 42);
    const from = local + 30 + bytes.readUInt16LE(local + 26) + bytes.readUInt16LE(local + 28);
    files.set(name, bytes.subarray(from, from + size));
    at += 46 + nameBytes + extra + comment;
  }
  return files;
}

async function download(): Promise<Map<string, Buffer>> {
  const [got] = await Promise.all([
    page.waitForEvent('download', { timeout: 90_000 }),
    section().getByRole('button', { name: 'Download the run track (zip)' }).click(),
  ]);
  expect(got.suggestedFilename()).toBe('run-track.zip');
  return unzip(readFileSync(await got.path()));
}

function runOf(files: Map<string, Buffer>): RunTrack {
  const set = manifest.parse(JSON.parse(String(files.get('manifest.json'))));
  const [run] = set.tracks;
  if (set.tracks.length !== 1 || run?.kind !== 'run') throw new Error('no run track in the manifest');
  return run;
}

const FORM = { sampleRateHz: 44_100, bits: 16, ditherSeed: 1 } as const;

it('shows its length while it is put together, and says why nothing is no track', async () => {
  const whole = await seconds();
  expect(whole).toBeGreaterThan(30);
  await section().getByText('Choose what it holds').click();
  await section().getByLabel('Left and right').selectOption('together');
  const together = await seconds();
  expect(together).toBeLessThan(whole - 5);
  await section().getByLabel('Silence for the noise floor, s').fill('14');
  expect(await seconds()).toBeCloseTo(together + 10, 0);
  for (const box of await section().getByRole('checkbox').all()) await box.uncheck();
  await section().getByText('Nothing is chosen for the run track').waitFor();
  expect(
    await section()
      .getByRole('button', { name: /Download/ })
      .isDisabled(),
  ).toBe(true);
  await section()
    .getByRole('checkbox', { name: /^Noise floor/ })
    .check();
  expect(await seconds()).toBeGreaterThan(14);
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(360);
});

it('hands out the track with its manifest, the same bytes that the command line renders', async () => {
  const files = await download();
  expect([...files.keys()]).toEqual(['manifest.json', '01-run.wav']);
  const run = runOf(files);
  expect(run.durationSeconds).toBe(await seconds());
  expect(files.get('01-run.wav')!.equals(Buffer.concat([...runWav(run, FORM)]))).toBe(true);
});

it('hands it out as FLAC, and with what was chosen alone', async () => {
  await section().getByText('Choose what it holds').click();
  for (const box of await section().getByRole('checkbox').all()) await box.uncheck();
  await section()
    .getByRole('checkbox', { name: /^Polarity and arrival/ })
    .check();
  await section().getByLabel('File').selectOption('flac');
  const files = await download();
  expect([...files.keys()]).toEqual(['manifest.json', '01-run.flac']);
  const run = runOf(files);
  expect(run.parts.map(({ kind }) => kind)).toEqual(['sine', 'polarity', 'polarity', 'polarity']);
  expect(files.get('01-run.flac')!.equals(Buffer.concat(flacCopy(runWav(run, FORM))))).toBe(true);
});
