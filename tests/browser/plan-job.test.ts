/** The plan of one's own vehicle: begun from a layout, changed, kept, taken out and brought back. */
import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { launchApp, type RunningApp } from './launch.ts';

let app: RunningApp;
let page: Page;

beforeEach(async () => {
  app = await launchApp();
  page = app.page;
  await page.getByRole('button', { name: /^Front pair/ }).click();
  await page.getByRole('heading', { name: 'Front left door' }).waitFor();
});

afterEach(async () => {
  const { errors } = app;
  await app.close();
  expect(errors).toEqual([]);
});

/** Big figures of all channels, as they stand. */
const targets = () => page.locator('.target-volts').allTextContents();

async function download(press: string): Promise<{ name: string; bytes: Buffer }> {
  const [got] = await Promise.all([
    page.waitForEvent('download', { timeout: 90_000 }),
    page.getByRole('button', { name: press }).click(),
  ]);
  return { name: got.suggestedFilename(), bytes: readFileSync(await got.path()) };
}

async function makeFirstAmplifier75Watts(): Promise<void> {
  await page.locator('summary', { hasText: 'Two-channel amplifier' }).click();
  await page.getByRole('textbox', { name: 'Power, W' }).fill('75');
}

it('plans anew with every figure typed, and keeps it over a reload', async () => {
  // 50 W into 4 ohm: sqrt(200).
  expect(await targets()).toEqual(['14.14 V', '14.14 V']);
  await makeFirstAmplifier75Watts();
  // The doors' drivers take 50 W, so the target stays until they take more.
  expect(await targets()).toEqual(['14.14 V', '14.14 V']);
  await page.locator('summary', { hasText: 'Front left door' }).click();
  await page.getByRole('textbox', { name: 'Continuous power of one, W' }).fill('80');
  expect(await targets()).toEqual(['17.32 V', '14.14 V']);
  await page.getByRole('textbox', { name: 'Continuous power of one, W' }).fill('eighty');
  await page.getByText('A number is needed here.').waitFor();
  await page.reload();
  await page.getByRole('heading', { name: 'Front left door' }).waitFor();
  expect(await targets()).toEqual(['17.32 V', '14.14 V']);
});

it('takes the job out as a file and brings it back', async () => {
  const title = page.getByRole('textbox', { name: 'Name of this job' });
  await title.fill('Grey van');
  await page.getByRole('button', { name: /^● Grey van/ }).waitFor();
  const { name, bytes } = await download('Export this job');
  expect(name).toBe('grey-van.job.json');
  const job = JSON.parse(bytes.toString());
  expect([job.format, job.title]).toEqual(['kneepoint-job', 'Grey van']);

  await page.locator('summary', { hasText: 'Begin another job' }).click();
  const chooser = page.locator('input[type="file"]');
  await chooser.setInputFiles({
    name: 'other.json',
    mimeType: 'application/json',
    buffer: Buffer.from(JSON.stringify({ ...job, id: 'other', title: 'Red van' })),
  });
  await page.getByRole('heading', { name: 'Plan Red van' }).waitFor();
  expect(await page.getByRole('list', { name: 'Jobs in this browser' }).getByRole('listitem').count()).toBe(
    2,
  );

  await page.locator('summary', { hasText: 'Begin another job' }).click();
  await chooser.setInputFiles({
    name: 'newer.json',
    mimeType: 'application/json',
    buffer: Buffer.from(JSON.stringify({ ...job, version: 99 })),
  });
  expect(await page.getByRole('alert').textContent()).toMatch(/version 99/);
  await page.getByRole('heading', { name: 'Plan Red van' }).waitFor();
});

it('hands out the tone set as one zip', async () => {
  const { name, bytes } = await download('Download the tone set (zip)');
  expect(name).toBe('tone-set.zip');
  // Local file headers of a zip begin with PK 03 04; names stand in them as they are.
  expect(bytes.subarray(0, 4)).toEqual(Buffer.from([0x50, 0x4b, 3, 4]));
  for (const file of ['manifest.json', 'front-left-level.wav', 'front-right-level.wav']) {
    expect(bytes.includes(file)).toBe(true);
  }
});
