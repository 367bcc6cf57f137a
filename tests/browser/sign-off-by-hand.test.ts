/** Signing and tolerances as they are typed: key by key, left and come back to, with Tab and Enter alone. */
import type { Page } from 'playwright-core';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { launchApp, type RunningApp } from './launch.ts';

let app: RunningApp;
let page: Page;

beforeEach(async () => {
  app = await launchApp({ viewport: { width: 360, height: 740 } });
  page = app.page;
  await page.getByRole('button', { name: /^Front pair/ }).click();
  await page.getByRole('heading', { name: /^Plan/ }).waitFor();
});

afterEach(async () => {
  const { errors } = app;
  await app.close();
  expect(errors).toEqual([]);
});

const focused = () => page.evaluate(() => document.activeElement?.textContent?.trim());
const part = (name: string) => page.getByRole('button', { name, exact: true }).click();

it('keeps name and note while the report is looked at, and the focus through the second thought', async () => {
  await page.goto(`${app.url}#/sign-off`);
  const by = page.getByRole('textbox', { name: 'Signed by' });
  await by.pressSequentially('Ada Invented');
  await page.keyboard.press('Tab');
  await page.keyboard.type('first visit');
  await part('Report');
  await part('Sign');
  expect(await by.inputValue()).toBe('Ada Invented');
  expect(await page.getByRole('textbox', { name: 'Note, if any' }).inputValue()).toBe('first visit');
  await by.press('Enter');
  expect(await focused()).toBe('Not yet');
  await page.keyboard.press('Enter');
  expect(await focused()).toBe('Sign off this job');
  await page.keyboard.press('Enter');
  await page.keyboard.press('Shift+Tab');
  await page.keyboard.press('Enter');
  await page.getByText('Signed.', { exact: true }).waitFor();
  expect(await focused()).toBe('Sign it once more');

  // Signed twice in one minute: the notes tell them apart wherever one is chosen.
  await page.getByRole('textbox', { name: 'Note, if any' }).fill('second visit');
  await page.getByRole('button', { name: 'Sign it once more' }).click();
  await page.getByRole('button', { name: 'Sign it anyway' }).click();
  await page.getByText('second visit').waitFor();
  await part('Then and now');
  const signed = page.getByLabel('Held against the sign-off of').locator('option');
  expect((await signed.allInnerTexts()).map((words) => words.replace(/^.*\d\d:\d\d, /, ''))).toEqual([
    'Ada Invented (second visit)',
    'Ada Invented (first visit)',
  ]);
});

it('takes a figure whole or not at all, and leaves nobody without the focus', async () => {
  await page.goto(`${app.url}#/sign-off`);
  await part('Tolerances');
  const balance = page.getByRole('textbox', { name: 'Left against right, dB' });
  const retype = async (words: string) => {
    await balance.press('Control+a');
    await page.keyboard.type(words);
  };
  await retype('25');
  await page.getByText('It must be 6 or less.').waitFor();
  await part('Sign');
  await part('Tolerances');
  expect(await balance.inputValue()).toBe('0.5');
  await retype('1,5');
  // Taken back to nothing and left: what stood before counts, not its first digit.
  const arrival = page.getByRole('textbox', { name: 'Arrival, ms' });
  await arrival.press('End');
  for (const _ of '0.1') await arrival.press('Backspace');
  await part('Sign');
  await part('Tolerances');
  expect([await balance.inputValue(), await arrival.inputValue()]).toEqual(['1.5', '0.1']);
  const usual = page.getByRole('button', { name: 'Back to the usual figures' });
  await usual.press('Enter');
  expect([await balance.inputValue(), await focused()]).toEqual(['0.5', 'Back to the usual figures']);

  // The same bound wherever it is typed.
  await page.goto(`${app.url}#/plan`);
  await page.getByRole('textbox', { name: 'Drop allowed on the ground leg, V' }).fill('3');
  await page.getByText('It must be 2 or less.').waitFor();
  const undo = page.getByRole('button', { name: /^Undo/ });
  for (let steps = 0; steps < 2; steps += 1) await undo.press('Enter');
  expect(await focused()).toBe('Undo: nothing yet');
  await page.locator('summary', { hasText: 'Front left door' }).click();
  await page.getByRole('button', { name: 'Remove this channel' }).press('Enter');
  expect(await focused()).toBe('The chain');
});
