/** Crossover on the practice rig: from the address to records; what is right stays unnamed, what is wrong is named. */
import type { Page } from 'playwright-core';
import { afterEach, describe, expect, it } from 'vitest';
import { launchApp, type RunningApp } from './launch.ts';
import { figureOf, figureWhen } from './page-figures.ts';

let app: RunningApp;
let page: Page;

const PHONE = { width: 360, height: 740 };
/** A sweep lasts three seconds; recording around it, reading and a busy machine take the rest. */
const SWEEP_MS = 60_000;

const button = (name: RegExp | string) => page.getByRole('button', { name });
const faults = () =>
  page.locator('[data-fault]').evaluateAll((all) => all.map((one) => (one as HTMLElement).dataset.fault));
const records = () => page.getByRole('list', { name: 'Accepted filters' }).getByRole('listitem');

async function open(fault: string | null, viewport = PHONE): Promise<void> {
  app = await launchApp({ rig: true, pace: 4, viewport });
  page = app.page;
  if (fault !== null) {
    await page.goto(`${app.url}&fault=${fault}`);
    await page.getByRole('main').waitFor();
  }
  await at('front-left');
}

async function at(channelId: string): Promise<void> {
  await page.evaluate((to) => {
    location.hash = to;
  }, `#/crossover/${channelId}`);
  await page.getByRole('heading', { name: 'Crossover', level: 1 }).waitFor();
}

async function reference(): Promise<void> {
  await button('Take the reference').click();
  await button('Sweep it').waitFor({ timeout: SWEEP_MS });
}

async function sweep(): Promise<void> {
  await button('Sweep it').click();
  await button(/^Accept /).waitFor({ timeout: SWEEP_MS });
}

/** By the Tab key alone, round the page if need be. */
async function tabTo(name: string | RegExp): Promise<void> {
  const wanted = button(name);
  for (let presses = 0; presses < 80; presses += 1) {
    if (await wanted.evaluate((element) => element === document.activeElement)) return;
    await page.keyboard.press('Tab');
  }
  throw new Error(`The Tab key never reached ${name}.`);
}

afterEach(async () => {
  const { errors } = app;
  await app.close();
  expect(errors).toEqual([]);
});

describe('a healthy vehicle', () => {
  it('front pair and subwoofer: one reference, a sweep and a press each, nothing named, records that stay', async () => {
    await open(null);
    await reference();
    for (const [channelId, next] of [
      ['front-left', 'Next: Front right door'],
      ['front-right', 'Next: Rear left door'],
      ['subwoofer', 'Next: Rear left door'],
    ] as const) {
      await at(channelId);
      await sweep();
      expect([channelId, await faults()]).toEqual([channelId, []]);
      const corner = await figureWhen(page, 'cornerHz', 'valid');
      // The rig's filters stand at 80 Hz exactly; noise of its input leaves a few tenths of a percent.
      expect(Math.abs(Number(corner.value) / 80 - 1)).toBeLessThan(0.01);
      expect(Math.abs(Number((await figureOf(page, 'cornerErrorPercent')).value))).toBeLessThan(1);
      await button(/^Accept /).click();
      await button(next).waitFor();
    }
    // The subwoofer hands over to both doors without a hole.
    expect(await page.getByText(/As wired: lowest −0\.\d dB/).count()).toBe(2);
    await page.reload();
    await records().first().waitFor();
    expect(await records().count()).toBe(1);
    expect(await records().first().textContent()).toMatch(
      /As wanted.*Low-pass 80\.\d Hz, Linkwitz-Riley, 24 dB/,
    );
  });

  it('by keyboard alone on a laptop, the main action always the dark one', async () => {
    await open(null, { width: 1280, height: 800 });
    const press = async (name: string | RegExp) => {
      await button(name).waitFor({ timeout: SWEEP_MS });
      expect(await page.locator('main .act.main').allTextContents()).toHaveLength(1);
      await tabTo(name);
      await page.keyboard.press('Enter');
    };
    await press('Take the reference');
    await press('Sweep it');
    await press(/^Accept front left/);
    await press('Next: Front right door');
    await button('Sweep it').waitFor();
    expect(await page.getByRole('button', { name: /^Front left door: done, 80\.\d of 80 Hz/ }).count()).toBe(
      1,
    );
  });
});

describe('a vehicle with a fault', () => {
  it('a filter an octave off is named with which way to turn, and recorded on a second thought only', async () => {
    await open('filter-octave-off');
    await reference();
    await sweep();
    expect(await faults()).toEqual(['filter-octave-off']);
    expect(await page.locator('.do').first().textContent()).toMatch(/^Turn the corner.*down to 80 Hz/);
    const { value } = await figureOf(page, 'cornerErrorPercent');
    expect(Math.abs(Number(value) - 100)).toBeLessThan(2);
    await button(/^Accept /).click();
    await page.getByRole('region', { name: 'A second thought' }).waitFor();
    expect(await records().count()).toBe(0);
    await button('Accept it anyway').click();
    await records().first().waitFor();
    expect(await records().first().textContent()).toMatch(/Out of tolerance/);
  });

  it('a filter of too low an order is named on the subwoofer, and only there', async () => {
    await open('filter-order-low');
    await reference();
    await sweep();
    expect(await faults()).toEqual([]);
    await at('subwoofer');
    await sweep();
    expect(await faults()).toEqual(['filter-order-low']);
  });

  it('a reversed channel cancels the subwoofer: named with the remedy', async () => {
    await open('channel-reversed');
    await reference();
    await at('subwoofer');
    await sweep();
    await at('front-right');
    await sweep();
    expect(await faults()).toEqual(['neighbours-cancel']);
    expect(await page.locator('.finding').textContent()).toMatch(/Swap plus and minus/);
  });
});

describe('on a phone', () => {
  it('shows instruction, figure and main action on the first screen, and never scrolls sideways', async () => {
    await open(null);
    const fits = async (name: RegExp | string) => {
      const strip = (await page.getByRole('contentinfo').boundingBox())?.y ?? 0;
      for (const part of [
        page.locator('.do').first(),
        page.locator('output[data-reading="cornerHz"]'),
        button(name),
      ]) {
        const box = await part.boundingBox();
        expect((box?.y ?? 0) + (box?.height ?? Infinity)).toBeLessThanOrEqual(strip);
      }
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(360);
    };
    await fits('Take the reference');
    await reference();
    await fits('Sweep it');
    await sweep();
    await fits(/^Accept /);
  });
});
