/** The check of files made elsewhere, by whoever chooses the wrong one, types wrongly, leaves and comes back. */
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { Page, Worker } from 'playwright-core';
import { expect, it } from 'vitest';
import { floatWav } from '../../src/audio/wav/float-wav.ts';
import { readJob } from '../../src/job/read-job.ts';
import { reportFiles } from '../../src/job/report/report-files.ts';
import { usualRunOptions } from '../../src/job/run-track/options.ts';
import { runManifest } from '../../src/job/run-track/run-manifest.ts';
import { door, HATCHBACK, noisy, played, RATE_HZ, scaled } from '../unit/run-recordings.ts';
import { launchApp } from './launch.ts';

const HATCHBACK_FILE = fileURLToPath(new URL('../../shared/examples/hatchback.job.json', import.meta.url));
const FORM = { sampleRateHz: RATE_HZ, bits: 16 } as const;
const WORK = { timeout: 60_000 };

function wav(name: string, samples: Float32Array) {
  const quiet = noisy(scaled(samples, -6), -80);
  return { name, mimeType: 'audio/wav', buffer: Buffer.from(floatWav([quiet], RATE_HZ)) };
}

/** A short track, so that a check takes a second or two. */
const OPTIONS = { ...usualRunOptions(HATCHBACK), contents: ['identification', 'reduced', 'full'] as const };
const TRACK = runManifest(HATCHBACK, OPTIONS, FORM);
const DOOR = wav('door.wav', door(played(TRACK.tracks[0])[0]));
const OTHER = wav('other.wav', new Float32Array(3 * RATE_HZ));
const LETTER = { name: 'letter.wav', mimeType: 'audio/wav', buffer: Buffer.from('words, and no sound') };

const focused = (page: Page) => page.evaluate(() => document.activeElement?.textContent?.trim());
const mains = (page: Page) => page.locator('main .act.main').allInnerTexts();

async function downloaded(page: Page, press: string): Promise<string> {
  const [got] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: press }).click(),
  ]);
  return readFileSync(await got.path(), 'utf8');
}

it('never mixes two files up, loses nothing that was typed, and leads from each step to the next', async () => {
  const app = await launchApp({ viewport: { width: 360, height: 740 } });
  const { page } = app;
  const part = (name: string) => page.getByRole('button', { name, exact: true }).click();
  const choose = (file: typeof DOOR) => page.getByLabel('Or choose a WAV file').setInputFiles(file);
  const instruction = () => page.locator('main .do').textContent();
  try {
    await page.getByLabel('Or take in a job file').setInputFiles(HATCHBACK_FILE);
    await page.getByRole('heading', { name: /^Plan/ }).waitFor();
    await page.goto(`${app.url}#/sign-off`);
    await part('Check by one track');
    expect(await instruction()).toMatch(/^Read this before you record, or choose a recording/);
    await page.locator('summary', { hasText: 'Track: this job' }).click();
    await page.getByLabel('Another tone set, by its manifest.json').setInputFiles({
      name: 'short.json',
      mimeType: 'application/json',
      buffer: Buffer.from(JSON.stringify(TRACK)),
    });
    await page.getByText('the run track of short.json').waitFor();

    // A file that is none is named, and the one before it is not left standing as if it were meant.
    await choose(OTHER);
    await page.getByRole('heading', { name: 'Check other.wav' }).waitFor();
    await choose(LETTER);
    await page.getByRole('alert').filter({ hasText: 'letter.wav: Not a WAV file' }).waitFor();
    expect(await page.getByRole('button', { name: 'Check it' }).count()).toBe(0);

    // One main action; volts half typed are not left out without a word.
    await choose(DOOR);
    await page.getByRole('heading', { name: 'Check door.wav' }).waitFor();
    expect([await focused(page), await mains(page)]).toEqual(['Check door.wav', ['Check it']]);
    expect(await instruction()).toBe('Say where this recording was taken, then check it.');
    await page.getByLabel('The input is at').selectOption('front-left');
    const volts = page.getByLabel(/^A full-scale sine is/);
    await volts.pressSequentially('30x');
    await page.getByRole('button', { name: 'Check it' }).press('Enter');
    expect(await volts.evaluate((field) => field === document.activeElement)).toBe(true);
    await page.getByText('A number is needed here.').waitFor();
    await volts.press('Backspace');

    // Chosen while the first is still read, the second never shows what came of the first.
    const working = page.waitForEvent('worker', (worker: Worker) => worker.url().includes('check'));
    await page.getByRole('button', { name: 'Check it' }).press('Enter');
    const over = (await working).waitForEvent('close', WORK);
    await choose(OTHER);
    await over;
    await page.getByRole('heading', { name: 'Check other.wav' }).waitFor();
    expect(await page.locator('[data-reading="checkPass"]').count()).toBe(0);

    // What holds no run track is nothing to accept.
    await page.getByRole('button', { name: 'Check it' }).press('Enter');
    await page.locator('[data-reading="checkPass"][data-state="no-track"]').waitFor(WORK);
    expect(await mains(page)).toEqual(['Put it away']);
    await page.getByRole('button', { name: 'Put it away' }).press('Enter');

    // A look at the tolerances in between, and the result still stands.
    await choose(DOOR);
    await page.getByLabel('The input is at').selectOption('front-left');
    await page.getByLabel(/^A full-scale sine is/).pressSequentially('30');
    await page.getByRole('button', { name: 'Check it' }).press('Enter');
    await page.locator('[data-reading="checkPass"][data-state="valid"]').waitFor(WORK);
    expect([await focused(page), await mains(page)]).toEqual(['Check of door.wav', ['Accept this check']]);
    // What is to be done stands before the long table of parts, not under it.
    const main = await page.getByRole('button', { name: 'Accept this check' }).boundingBox();
    const table = await page.locator('.check-table').boundingBox();
    expect(main!.y).toBeLessThan(table!.y);
    await part('Tolerances');
    await part('Check by one track');
    expect(await mains(page)).toEqual(['Accept this check']);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(360);

    // Without its volume step no later visit could be held against it.
    await page.getByLabel('Radio’s volume step').pressSequentially('31');
    await page.getByRole('button', { name: 'Accept this check' }).press('Enter');
    await page.getByText('Recorded.', { exact: true }).waitFor();
    expect(await focused(page)).toMatch(/^Recorded\. It is in the job’s report/);

    // The report says when the job was last changed: the same page as from the file.
    await part('Report');
    const page1 = await downloaded(page, 'Download the page');
    await page.goto(`${app.url}#/plan`);
    const kept = readJob(await downloaded(page, 'Export this job'));
    expect(kept.records.map(({ conditions }) => conditions.volumeStep)).toEqual([31]);
    expect(page1).toBe(reportFiles(kept, null).html);
    expect(app.errors).toEqual([]);
  } finally {
    await app.close();
  }
});
