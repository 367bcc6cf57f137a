/** The Quiet station's noise part on the practice rig: whine and hum named where they are, and nowhere else. */
import type { Page } from 'playwright-core';
import { afterEach, describe, expect, it } from 'vitest';
import { launchApp, type RunningApp } from './launch.ts';
import { figureOf } from './page-figures.ts';

let app: RunningApp;
let page: Page;

async function open(faults: string, viewport = { width: 360, height: 740 }): Promise<void> {
  app = await launchApp({ rig: true, pace: 4, viewport });
  page = app.page;
  await page.goto(`${app.url}${faults === '' ? '' : `&fault=${faults}`}#/quiet`);
  await action('with the engine off').waitFor();
}

const action = (what: string) => page.getByRole('button', { name: `Record ${what}`, exact: true });
const accept = () => page.getByRole('button', { name: 'Accept what was measured' });
const records = () => page.getByRole('list', { name: 'Accepted noise readings' }).getByRole('listitem');
const faults = () =>
  page
    .locator('.noise-part [data-fault]')
    .evaluateAll((found) => found.map((one) => one.getAttribute('data-fault')));

/** Presses the one main action and waits until it has become the next one. */
async function take(what: string): Promise<void> {
  await action(what).click();
  await action(what).waitFor({ state: 'detached' });
  await page.getByRole('button', { name: /^(Recording,|Reading the)/ }).waitFor({ state: 'detached' });
}

async function takeAll(): Promise<void> {
  await take('with the engine off');
  await take('with the engine idling');
  await take('with the engine revved');
}

afterEach(async () => {
  const { errors } = app;
  await app.close();
  expect(errors).toEqual([]);
});

describe('on the practice rig', () => {
  it('names nothing on a healthy vehicle, and the record survives a reload', async () => {
    await open('');
    await takeAll();
    expect(await faults()).toEqual([]);
    await page.getByText('No whine, no hum, no clicks stand out of the floor.').waitFor();
    const { value, state } = await figureOf(page, 'noiseBelowTargetDb');
    expect(state).toBe('valid');
    // What the rig is made with, volts RMS in 20 kHz: its input, the amplifier, and radio and converter through the lowest gain.
    const gain = 10 ** (9 / 20);
    const volts = Math.hypot(
      10 ** (-100 / 20) * 35 * Math.sqrt(20 / 24),
      0.0004,
      0.0003 * 10 ** (-14 / 20) * gain,
      0.00001 * gain,
    );
    // The high-pass takes a little of what is below 80 Hz; 6 s of noise scatter by far less.
    expect(Math.abs(Number(value) - 20 * Math.log10(Math.sqrt(75 * 4) / volts))).toBeLessThan(0.15);
    await accept().click();
    await records().first().waitFor();
    const recorded = await records().first().textContent();
    expect(recorded).toMatch(/no whine, no hum \(done\)/);
    await page.reload();
    await records().first().waitFor();
    expect(await records().allTextContents()).toEqual([recorded]);
  });

  it('names whine and hum with their frequencies and where they get in, and gives pause', async () => {
    await open('engine-whine,mains-hum', { width: 1280, height: 800 });
    await takeAll();
    await take('with the lead pulled');
    expect(await faults()).toEqual(['engine-whine', 'mains-hum']);
    const [whine, hum] = await page.locator('.noise-part [data-fault]').allTextContents();
    // The rig's ripple: 790 and 2010 rpm, 90 crests a turn. Within 0.1 %.
    const [, idleHz, revvedHz] = /whine of ([\d.]+) Hz at idle becomes ([\d.]+) Hz/.exec(whine ?? '') ?? [];
    expect(Math.abs(Number(idleHz) / 1185 - 1)).toBeLessThan(0.001);
    expect(Math.abs(Number(revvedHz) / 3015 - 1)).toBeLessThan(0.001);
    expect(whine).toMatch(/comes in ahead of the amplifier/);
    expect(hum).toMatch(/Mains hum of 50 Hz.*Run the laptop on its battery/);
    // It lies nearer to the target than this job allows: the first press asks, and records nothing.
    await accept().click();
    await page.getByRole('region', { name: 'A second thought' }).waitFor();
    expect(await records().count()).toBe(0);
    await page.getByRole('button', { name: 'Accept it anyway' }).click();
    await records().first().waitFor();
    expect(await records().first().textContent()).toMatch(
      /whine 1185\.\d Hz idling, 3015\.\d Hz revved; hum 50 Hz \(out of tolerance\)/,
    );
  });

  it('by microphone, a whine is named as well', async () => {
    await open('engine-whine');
    await page.getByRole('combobox', { name: 'Channel' }).selectOption('cabin');
    await page.waitForFunction(() => document.querySelector('[data-reading="noiseDbfs"]') !== null);
    await takeAll();
    expect(await faults()).toEqual(['engine-whine']);
  });

  it('goes by keyboard alone, the rev counter typed', async () => {
    await open('engine-whine');
    await action('with the engine off').focus();
    for (const what of ['with the engine off', 'with the engine idling', 'with the engine revved']) {
      await action(what).press('Enter');
      await action(what).waitFor({ state: 'detached' });
      await page.getByRole('button', { name: /^(Recording,|Reading the)/ }).waitFor({ state: 'detached' });
      // The focus stays on the main action while its words change.
      expect(await page.evaluate(() => document.activeElement?.textContent)).toMatch(/^Record/);
    }
    await page.getByText('Rev counter, if there is one').press('Enter');
    await page.getByRole('textbox', { name: 'Idling, rpm' }).fill('790');
    await page.getByRole('textbox', { name: 'Revved, rpm' }).fill('2010');
    await page.locator('.noise-part [data-fault]', { hasText: 'it follows the engine' }).waitFor();
  });

  it('shows figure and main action on a phone’s first screen, and never scrolls sideways', async () => {
    await open('');
    const stripTop = (await page.getByRole('contentinfo').boundingBox())?.y ?? 0;
    for (const part of [
      page.locator('output[data-reading="noiseBelowTargetDb"]'),
      action('with the engine off'),
    ]) {
      const box = await part.boundingBox();
      expect((box?.y ?? 0) + (box?.height ?? Infinity)).toBeLessThanOrEqual(stripTop);
    }
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(360);
  });
});

describe('in a vehicle', () => {
  it('asks for the cautions before the lead goes on, and again before the engine runs', async () => {
    app = await launchApp({ viewport: { width: 360, height: 740 } });
    page = app.page;
    await page.getByRole('button', { name: /^Front pair/ }).click();
    await page
      .getByRole('navigation')
      .getByRole('button', { name: /^Quiet/ })
      .click();
    await page.getByRole('region', { name: 'Before the lead goes on' }).waitFor();
    expect(await action('with the engine off').count()).toBe(0);
    await page.getByRole('button', { name: 'I have read this' }).click();
    await action('with the engine off').waitFor();
    await page.getByText('press Listen in the strip below').waitFor();
    await page
      .getByRole('group', { name: 'Recordings' })
      .getByRole('button', { name: /idling/ })
      .click();
    await page.getByRole('region', { name: 'Before the engine runs' }).waitFor();
    expect(await action('with the engine idling').count()).toBe(0);
    await page.getByRole('button', { name: 'I have read this' }).click();
    await action('with the engine idling').waitFor();
  });
});
