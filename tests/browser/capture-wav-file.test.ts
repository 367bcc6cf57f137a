/** A WAV file chosen in the page is a source like the microphone: same blocks, same figures, same honesty. */
import { writeFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { launchApp, type RunningApp } from './launch.ts';
import { clippedSine, clippedThdPercent, levelDbfsOf, seamlessWav } from './seamless-wav.ts';

let app: RunningApp;
let page: Page;

beforeAll(async () => {
  app = await launchApp();
  page = app.page;
});
afterAll(async () => {
  await app.close();
});

async function listenTo(path: string): Promise<void> {
  await page.getByRole('button', { name: /^Input: / }).click();
  await page.getByText('WAV file').first().click();
  await page.getByLabel('A recording (WAV)').setInputFiles(path);
  await page.getByRole('button', { name: 'Listen', exact: true }).click();
}

const figure = (name: string) =>
  page
    .locator(`output[data-reading="${name}"]`)
    .first()
    .evaluate((output) => (output as HTMLOutputElement).dataset.value ?? '');

it('says in one sentence what is wrong with a file that is no WAV, and goes on from there', async () => {
  const path = seamlessWav(new Float32Array(100));
  writeFileSync(path, 'This is a shopping list, not a recording.');
  await listenTo(path);
  await page
    .getByText(/not a WAV file|no WAV file/i)
    .first()
    .waitFor({ timeout: 15_000 });
});

it('reads level, distortion and clipping of a file, looped without a seam', async () => {
  const clipped = clippedSine(2, 0.4);
  await listenTo(seamlessWav(clipped));
  await page
    .locator('output[data-reading="levelDbfs"][data-state="valid"]')
    .first()
    .waitFor({ timeout: 30_000 });
  expect(Math.abs(Number(await figure('levelDbfs')) - levelDbfsOf(clipped))).toBeLessThan(0.02);
  const closedForm = clippedThdPercent(2, 20_000);
  expect(Math.abs(Number(await figure('thdPercent')) / closedForm - 1)).toBeLessThan(0.01);
  expect(await figure('clipping')).toBe('clipped');
  // Three times round the loop, and no reading that is anything but valid.
  const states = await page.evaluate(async () => {
    const seen = new Set<string>();
    const until = performance.now() + 3000;
    while (performance.now() < until) {
      seen.add(document.querySelector<HTMLElement>('output[data-reading="levelDbfs"]')?.dataset.state ?? '');
      await new Promise((resolve) => setTimeout(resolve, 10));
    }
    return [...seen];
  });
  expect(states).toEqual(['valid']);
  expect(app.errors).toEqual([]);
});
