/** The Report part of the Sign-off station: the page is shown, printed and kept as the command line writes it. */
import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { readJob } from '../../src/job/read-job.ts';
import { reportFiles } from '../../src/job/report/report-files.ts';
import { writeJob } from '../../src/job/write-job.ts';
import { reportJob } from '../unit/report-job.ts';
import { launchApp, type RunningApp } from './launch.ts';

let app: RunningApp;
let page: Page;

beforeAll(async () => {
  app = await launchApp({ viewport: { width: 360, height: 740 } });
  page = app.page;
  await page.locator('input[type="file"]').setInputFiles({
    name: 'full.job.json',
    mimeType: 'application/json',
    buffer: Buffer.from(writeJob(reportJob())),
  });
  await page.getByRole('heading', { name: /^Plan Hatchback/ }).waitFor();
});

afterAll(async () => {
  const { errors } = app;
  await app.close();
  expect(errors).toEqual([]);
});

async function downloaded(button: string): Promise<{ name: string; text: string }> {
  const [got] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: button }).click(),
  ]);
  return { name: got.suggestedFilename(), text: readFileSync(await got.path(), 'utf8') };
}

it('hands out the bytes that the command line writes of the same job', async () => {
  const file = await downloaded('Export this job');
  const wanted = reportFiles(readJob(file.text), null);
  await page.evaluate(() => {
    location.hash = '#/sign-off';
  });
  await page.getByRole('button', { name: 'Report', exact: true }).click();
  expect(await downloaded('Download the page')).toEqual({ name: 'hatchback.report.html', text: wanted.html });
  expect(await downloaded('Download all records as CSV')).toEqual({
    name: 'hatchback.records.csv',
    text: wanted.csv,
  });
});

it('shows the page, prints it alone, and fits a phone', async () => {
  const frame = page.frameLocator('iframe[title="The report"]');
  await frame.getByRole('heading', { name: 'Gain: plan against reading' }).waitFor();
  expect(await frame.getByRole('row', { name: /^Front left door .*17\.31 ± 0\.20 V/ }).count()).toBe(1);
  await page.evaluate(() => {
    const shown = document.querySelector<HTMLIFrameElement>('iframe[title="The report"]')?.contentWindow;
    if (shown == null) throw new Error('no report is shown');
    shown.print = () => {
      document.title = 'printed the report';
    };
  });
  await page.getByRole('button', { name: 'Print, or save as PDF' }).click();
  expect(await page.title()).toBe('printed the report');
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(360);
});
