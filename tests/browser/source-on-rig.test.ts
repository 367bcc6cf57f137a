/** The Source station on the practice rig: from the station to a record, and each of its faults by name. */
import type { Page } from 'playwright-core';
import { afterEach, describe, expect, it } from 'vitest';
import { launchApp, type RunningApp } from './launch.ts';
import { figureOf, figureWhen } from './page-figures.ts';

let app: RunningApp;
let page: Page;

const PHONE = { width: 360, height: 740 };
const LAPTOP = { width: 1280, height: 800 };
/** The walk is some forty recordings of a second and less. */
const WALK_MS = 150_000;

async function open(fault: string | null, viewport = LAPTOP): Promise<void> {
  app = await launchApp({ rig: true, pace: 4, viewport });
  page = app.page;
  const query = fault === null ? '?rig=demo&pace=4' : `?rig=demo&pace=4&fault=${fault}`;
  await page.goto(`${app.url.split('?')[0]}${query}#/source`);
  await figureWhen(page, 'highestCleanStep', 'not-measured');
}

const part = (name: RegExp) =>
  page.getByRole('navigation', { name: 'Parts of this station' }).getByRole('button', { name }).click();
const press = (name: RegExp) => page.getByRole('button', { name }).click();
const named = () =>
  page.locator('.finding').evaluateAll((found) => found.map((one) => (one as HTMLElement).dataset.fault));
const records = () => page.getByRole('list', { name: 'Accepted results' }).getByRole('listitem');

async function walk(): Promise<string> {
  await press(/^Measure all steps$/);
  await page.waitForFunction(
    () => document.querySelector<HTMLElement>('[data-reading="highestCleanStep"]')?.dataset.state === 'valid',
    undefined,
    { timeout: WALK_MS },
  );
  await page
    .getByRole('button', { name: /^Accept step/ })
    .and(page.locator('.main'))
    .waitFor({ timeout: WALK_MS });
  return (await figureOf(page, 'highestCleanStep')).value;
}

/** With findings the record asks for a second thought. */
async function record(name: RegExp): Promise<string> {
  await press(name);
  const anyway = page.getByRole('button', { name: 'Accept it anyway' });
  await anyway.or(records().first()).first().waitFor();
  if (await anyway.isVisible()) await anyway.click();
  await records().first().waitFor();
  return (await records().first().textContent()) ?? '';
}

afterEach(async () => {
  const { errors } = app;
  await app.close();
  expect(errors).toEqual([]);
});

describe('volume steps', () => {
  it('healthy: one press finds step 30 and its volts, nothing is named, and the record outlives a reload', async () => {
    await open(null);
    expect(await walk()).toBe('30');
    expect(await named()).toEqual([]);
    await page.getByText('Nothing is wrong with the source.').waitFor();
    const recorded = await record(/^Accept step 30$/);
    // 45 V of a full-scale tone, ten steps of 1.5 dB down: 8.00 V.
    expect(recorded).toMatch(/^Step 30 of 40, 8\.0\d V/);
    await page.reload();
    await records().first().waitFor();
    expect(await records().first().textContent()).toBe(recorded);
  }, 240_000);

  it.each([
    ['radio-clips-early', '24'],
    ['radio-cuts-bass', '30'],
  ])(
    '%s is named, the highest clean step is %s',
    async (fault, step) => {
      await open(fault);
      expect(await walk()).toBe(step);
      expect(await named()).toEqual([fault]);
      await record(/^Accept step/);
    },
    240_000,
  );
});

describe('load resistors', () => {
  async function measure(): Promise<void> {
    await page.getByLabel('Load resistors connected at the radio').setChecked(true);
    await press(/^Measure, resistors connected/);
    await page.getByText(/disconnect the load resistors, and measure again/).waitFor({ timeout: 30_000 });
    await page.getByLabel('Load resistors connected at the radio').setChecked(false);
    await press(/^Measure, resistors off/);
    await page.getByRole('button', { name: 'Accept the load check' }).waitFor({ timeout: 30_000 });
  }

  it('healthy: alike, recorded', async () => {
    await open(null);
    await part(/^Load/);
    await measure();
    expect(await named()).toEqual([]);
    expect(Math.abs(Number((await figureOf(page, 'unloadedChangeDb')).value))).toBeLessThan(0.1);
    await record(/^Accept the load check/);
  }, 90_000);

  it('radio-unloaded is named', async () => {
    await open('radio-unloaded');
    await part(/^Load/);
    await measure();
    expect(await named()).toEqual(['radio-unloaded']);
    await record(/^Accept the load check/);
  }, 90_000);
});

describe('left and right', () => {
  it('healthy: told right in one press, recorded', async () => {
    await open(null);
    await part(/^Left and right/);
    await press(/^Listen on both sides$/);
    await page.getByText('Left is left, and right is right.').waitFor({ timeout: 30_000 });
    expect(await named()).toEqual([]);
    expect(await record(/^Accept the sides$/)).toMatch(/^Left is left, right is right/);
  }, 90_000);
});

describe('turn-on', () => {
  it('healthy: nothing lost after ten seconds of silence', async () => {
    await open(null);
    await part(/^Turn-on/);
    await press(/^Try it/);
    await page.getByText('10 s of silence:').waitFor({ timeout: 60_000 });
    expect(Number((await figureOf(page, 'lostSeconds')).value)).toBeLessThan(0.05);
    expect(await named()).toEqual([]);
    expect(await record(/^Accept the turn-on check$/)).toMatch(/^Awake through 10 s/);
  }, 120_000);

  it('converter-sleeps is named, with what is lost, and a quiet tone that holds it awake', async () => {
    await open('converter-sleeps');
    await part(/^Turn-on/);
    await press(/^Try it/);
    await page.getByText('10 s of silence:').waitFor({ timeout: 60_000 });
    expect(await named()).toEqual(['converter-sleeps']);
    expect(Number((await figureOf(page, 'lostSeconds')).value)).toBeCloseTo(0.3, 1);
    await press(/^Try it/);
    await page.getByText(/at −60 dBFS:.* held awake/).waitFor({ timeout: 60_000 });
    expect(await record(/^Accept the turn-on check$/)).toMatch(/^Asleep within 10 s, 0\.3\d s lost/);
  }, 180_000);
});

describe('on a phone, 360 px wide', () => {
  it('no part scrolls sideways, and the main action of each is on the first screen', async () => {
    await open(null, PHONE);
    const stripTop = (await page.getByRole('contentinfo').boundingBox())?.y ?? 0;
    for (const name of [/^Volume steps/, /^Load/, /^Left and right/, /^Turn-on/]) {
      await part(name);
      await page.waitForTimeout(200);
      const box = await page.locator('.act.main.big').first().boundingBox();
      expect([String(name), (box?.y ?? 0) + (box?.height ?? Infinity) <= stripTop]).toEqual([
        String(name),
        true,
      ]);
      const closed = page.locator('main details:not([open]) > summary');
      while ((await closed.count()) > 0) await closed.first().click();
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(360);
    }
  }, 60_000);
});
