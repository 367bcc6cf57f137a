/**
 * The walk up the volume where a hand turns the radio: a recording of such a
 * hand is the microphone. One press; each further step is measured by itself.
 */
import type { Page } from 'playwright-core';
import { afterEach, expect, it } from 'vitest';
import { launchApp, type RunningApp } from './launch.ts';
import { figureOf } from './page-figures.ts';
import { seamlessWav, second } from './seamless-wav.ts';

/** Time to get from Listen to the first step, then a step of 6 dB every four seconds. */
const FIRST_SECONDS = 14;
const REST_SECONDS = 4;
const LEVELS_DBFS = [-40, -34, -28, -22];

let app: RunningApp;
let page: Page;

function handTurning(): string {
  const seconds = LEVELS_DBFS.flatMap((dbfs, index) => {
    const one = second((phase) => 10 ** (dbfs / 20) * Math.sin(phase));
    return Array<Float32Array>(index === 0 ? FIRST_SECONDS : REST_SECONDS).fill(one);
  });
  const whole = new Float32Array(seconds.length * 44_100);
  for (const [index, one] of seconds.entries()) whole.set(one, index * 44_100);
  return seamlessWav(whole);
}

afterEach(async () => {
  const { errors } = app;
  await app.close();
  expect(errors).toEqual([]);
});

it('asks for what the job lacks, shows its cautions, then measures step after step as the hand turns', async () => {
  app = await launchApp({ wav: handTurning(), viewport: { width: 360, height: 740 } });
  page = app.page;
  await page.locator('.preset').first().click();
  await page.getByRole('heading', { name: 'Plan' }).waitFor();
  await page.goto(`${app.url}#/source`);
  await page.getByRole('heading', { name: 'Before the volume goes up' }).waitFor();
  await page.getByRole('button', { name: 'I have read this' }).click();
  const steps = page.getByLabel('Volume steps of the radio');
  await steps.fill('forty');
  await page.getByRole('button', { name: 'Note the steps' }).click();
  await page.getByText('A number is needed here.').waitFor();
  // Key by key, as a hand types: nothing is taken before it is pressed.
  await steps.fill('');
  await steps.pressSequentially('40');
  await steps.press('Enter');
  const begin = page.getByRole('button', { name: 'It is at step 4: begin' });
  await begin.waitFor();
  expect(await begin.getAttribute('aria-disabled')).toBe('true');
  await page.getByRole('button', { name: 'Listen', exact: true }).click();
  await page.locator('.take-action .main[aria-disabled="false"]').waitFor();
  await begin.click();
  await page.getByText('Turn the volume to step 8; it is measured by itself once it rests.').waitFor();
  // Nothing is pressed any more: the hand turns to 8, 12 and 16.
  await page.waitForFunction(
    () => document.querySelector<HTMLElement>('[data-reading="highestCleanStep"]')?.dataset.value === '16',
    undefined,
    { timeout: 40_000 },
  );
  await page.getByRole('button', { name: 'Stop', exact: true }).click();
  expect((await figureOf(page, 'highestCleanStep')).state).toBe('under-way');
  await page.getByText('All steps in figures').click();
  const rows = page.locator('.steps-table tbody tr');
  expect(await rows.count()).toBe(LEVELS_DBFS.length);
  const levels = await page.locator('.steps-table tbody tr td:nth-child(2)').allTextContents();
  // The fake device delivers the file bit for bit; the page shows hundredths.
  expect(levels.map((words) => Number(words.replace('−', '-').replace(' dBFS', '')))).toEqual(LEVELS_DBFS);
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(360);
  // While it waits for the hand, the input is paused: nothing would ever see the turn.
  await page.getByRole('button', { name: 'Go on at step 20' }).click();
  await page.getByRole('button', { name: /^It is at step \d+: measure$/ }).waitFor();
  await page.getByRole('button', { name: 'More' }).click();
  await page.getByRole('button', { name: 'Pause' }).click();
  await page.getByText('Nothing is heard: press Resume in the strip below first.').waitFor();
  expect(await page.getByRole('button', { name: /^Go on at step/ }).getAttribute('aria-disabled')).toBe(
    'true',
  );
}, 120_000);

/** The newest record of this kind as it lies on disk. */
function keptRecord(kind: string): Promise<{ conditions: { volumeStep: number | null; loaded: boolean } }> {
  return page.evaluate(async (wanted) => {
    const asked = <T>(request: IDBRequest<T>) =>
      new Promise<T>((resolve, reject) => {
        request.onsuccess = () => resolve(request.result);
        request.onerror = () => reject(request.error);
      });
    const [{ name = '' } = {}] = await indexedDB.databases();
    const store = (await asked(indexedDB.open(name))).transaction('records').objectStore('records');
    return (await asked(store.getAll()))
      .map((row) => row.record ?? row)
      .findLast((one) => one.kind === wanted);
  }, kind);
}

it('sides: the record holds the conditions that stand on the page, and no volume step that nobody turned to', async () => {
  app = await launchApp({ wav: seamlessWav(second((phase) => 0.03 * Math.sin(phase))) });
  page = app.page;
  await page.locator('.preset').first().click();
  await page.getByRole('heading', { name: 'Plan' }).waitFor();
  await page.goto(`${app.url}#/source`);
  await page.getByRole('button', { name: 'I have read this' }).click();
  await page.getByRole('button', { name: /^Left and right/ }).click();
  await page.getByLabel('Radio’s volume step').fill('30');
  await page.getByLabel('Speaker plug').selectOption('pulled');
  await page.getByRole('button', { name: 'Listen', exact: true }).click();
  for (const asked of ['left: left', 'left: right', 'right: left', 'right: right']) {
    await page.getByRole('button', { name: `Listen on the ${asked} side plays` }).click();
  }
  await page.getByRole('button', { name: 'Accept the sides' }).click();
  await page.getByRole('button', { name: 'Accept it anyway' }).click();
  await page.getByText('Recorded.', { exact: true }).waitFor();
  expect((await keptRecord('sides')).conditions).toMatchObject({ volumeStep: null, loaded: false });
}, 60_000);
