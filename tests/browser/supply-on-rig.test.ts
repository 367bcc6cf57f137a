/** Supply and ground on the practice rig: a ground of 50 mΩ is named, a healthy one is not; start to record. */
import type { Page } from 'playwright-core';
import { afterEach, describe, expect, it } from 'vitest';
import { launchApp, type RunningApp } from './launch.ts';
import { figureOf } from './page-figures.ts';

let app: RunningApp;
let page: Page;

const DOORS = ['front-left', 'front-right', 'rear-left', 'rear-right'];

async function goTo(hash: string): Promise<void> {
  await page.evaluate((to) => {
    location.hash = to;
  }, hash);
}

/** The vehicle with its gains set: a supply is only loaded by an amplifier that works. */
async function open(fault: string | null, viewport = { width: 360, height: 740 }): Promise<void> {
  app = await launchApp({ rig: true, viewport });
  page = app.page;
  if (fault !== null) {
    await page.goto(`${app.url}&fault=${fault}`);
    await page.getByRole('main').waitFor();
  }
  for (const door of DOORS) {
    await goTo(`#/gain/${door}`);
    const knob = page.getByRole('slider', { name: `Gain control, ${door.replace('-', ' ')} door` });
    // 0.59 of the travel is the doors' aim at volume step 30.
    await knob.fill('0.59');
  }
  await goTo('#/quiet');
  await page.getByRole('button', { name: 'Supply and ground' }).click();
  await page.getByRole('heading', { name: 'Supply and ground' }).waitFor();
}

async function readAll(): Promise<void> {
  for (const button of [/practice meter/, /practice clamp/, /practice meter/, /practice meter/]) {
    await page.getByRole('button', { name: button }).click();
  }
  await page.getByRole('button', { name: /practice/ }).waitFor({ state: 'detached' });
}

const faults = () => page.locator('.supply-part [data-fault]');
const records = () => page.getByRole('list', { name: 'Accepted supply readings' }).getByRole('listitem');
const record = () => page.getByRole('button', { name: 'Accept these readings' });

afterEach(async () => {
  const { errors } = app;
  await app.close();
  expect(errors).toEqual([]);
});

describe('with the practice meter', () => {
  it('names a ground of 50 mΩ with its figures, and records it after a second thought', async () => {
    await open('poor-ground');
    await readAll();
    expect(await faults().count()).toBe(1);
    expect(await faults().getAttribute('data-fault')).toBe('poor-ground');
    expect(await faults().textContent()).toMatch(/its wire explains 0\.63 mΩ.*bare metal/);
    const { value, state } = await figureOf(page, 'groundMilliohms');
    expect(state).toBe('valid');
    // The meter's digits (half of 10 mV of 2.15 V) and the clamp's (half of 0.1 A of 43 A).
    expect(Math.abs(Number(value) - 50)).toBeLessThan(0.3);
    expect((await figureOf(page, 'groundVerdict')).value).toBe('poor');
    await record().click();
    await page.getByRole('button', { name: 'Accept it anyway' }).click();
    await records().first().waitFor();
    expect(await records().first().textContent()).toMatch(
      /^Ground poor, 50 mΩ, 2\.\d+ V of the 0\.1 V allowed/,
    );
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(360);
  });

  it('names nothing in a healthy vehicle, and its record outlives the tab', async () => {
    await open(null);
    await readAll();
    expect(await faults().count()).toBe(0);
    expect((await figureOf(page, 'groundVerdict')).value).toBe('good');
    expect((await figureOf(page, 'positiveVerdict')).value).toBe('good');
    await record().click();
    await records().first().waitFor();
    await page.reload();
    await records().first().waitFor();
    expect(await records().first().textContent()).toMatch(/^Ground good, 1(\.\d)? mΩ/);
  });
});

describe('by hand, on the keyboard', () => {
  it('takes typed readings, says what is no reading, and goes by the power without a clamp', async () => {
    await open(null, { width: 1280, height: 800 });
    const type = async (rest: string, tone: string) => {
      await page.getByText('Type readings instead').click();
      await page.getByLabel(/^At rest/).fill(rest);
      await page.getByLabel(/^Under the tone/).fill(tone);
      await page.keyboard.press('Enter');
    };
    await type('0.002', 'much');
    await page.getByText('“much” is not a figure in V').waitFor();
    await page.getByLabel(/^Under the tone/).fill('1.402');
    await page.keyboard.press('Enter');
    await page.getByText('No clamp at hand').click();
    await page.getByLabel(/^Output of all its channels/).fill('300');
    await page.keyboard.press('Enter');
    // 1.400 V over 300 W / 0.6 / 14.4 V.
    await faults()
      .getByText(/^The ground is poor/)
      .waitFor();
    expect(Math.abs(Number((await figureOf(page, 'groundMilliohms')).value) - 40.3)).toBeLessThan(0.1);
    await page.getByRole('button', { name: /^Ground leg 0\.002 → 1\.402 V/ }).click();
    await type('0.002', '0.035');
    expect(await faults().count()).toBe(0);
  });
});
