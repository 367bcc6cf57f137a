/** Power wiring and speaker runs on the Plan station: figures worked by hand, faults named, kept over a reload. */
import type { Page } from 'playwright-core';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { launchApp, type RunningApp } from './launch.ts';

let app: RunningApp;
let page: Page;

beforeEach(async () => {
  app = await launchApp({ rig: true, viewport: { width: 360, height: 740 } });
  page = app.page;
  await page.getByRole('navigation').getByRole('button', { name: /^Plan/ }).click();
});

afterEach(async () => {
  const { errors } = app;
  await app.close();
  expect(errors).toEqual([]);
});

const ofDoors = () => page.getByRole('listitem', { name: 'Power wiring of Four-channel amplifier' });
const warnings = () =>
  page.getByRole('list', { name: 'Warnings for the wiring of Four-channel amplifier' }).getByRole('listitem');

it('says what an amplifier draws and its wires drop, and names a fuse that does not protect them', async () => {
  // 300 W / 0.6 / 14.4 V; 1/58 * 5.6 m / 21.2 mm² * 34.7 A.
  const facts = (await ofDoors().locator('dl').textContent()) ?? '';
  expect(facts.replace(/\s+/g, ' ')).toMatch(
    /Draws35 A at a full sine .*Wires drop0\.16 V .*8 AWG or 10 mm²/,
  );
  expect(await warnings().count()).toBe(0);
  await ofDoors().locator('summary').click();
  await ofDoors().getByRole('textbox', { name: 'Fuse, A' }).fill('150');
  expect(await warnings().first().textContent()).toMatch(/150 A does not protect 4 AWG/);
  await ofDoors().getByRole('checkbox', { name: 'Ground wire is known' }).uncheck();
  await ofDoors().getByRole('checkbox', { name: 'Ground wire is known' }).check();
  await ofDoors().getByRole('group', { name: 'Ground wire' }).getByLabel('Gauge').selectOption('8 AWG');
  expect(await warnings().allTextContents()).toEqual([
    expect.stringMatching(/does not protect/),
    expect.stringMatching(/ground wire, 8 AWG/),
  ]);
  await page.reload();
  await warnings().first().waitFor();
  expect(await warnings().count()).toBe(2);
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(360);
});

it('says what a speaker run costs, for one channel or for all', async () => {
  const runs = page.getByRole('region', { name: 'Speaker wires' });
  // 8 m of 1.5 mm²: 91.95 mΩ before 4 ohm, and before the subwoofer's 2.
  expect(await runs.getByText('costs 0.20 dB').count()).toBe(4);
  expect(await runs.getByText('costs 0.39 dB').count()).toBe(1);
  await runs.getByRole('listitem', { name: 'Front left door' }).locator('summary').click();
  await runs.getByLabel('Length one way, m').first().fill('12');
  // 24 m: 0.2759 ohm, 20 lg(4.2759 / 4) = 0.58 dB, past the half decibel that is worth a word.
  await runs.getByText(/The run loses 0\.6 dB/).waitFor();
  await runs.getByRole('button', { name: 'Take this run for every channel' }).click();
  expect(await runs.getByText('costs 0.58 dB').count()).toBe(4);
});
