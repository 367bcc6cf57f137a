/** The Balance station on the practice rig, from the address to the records: healthy, and with each of its faults. */
import type { Page } from 'playwright-core';
import { afterEach, describe, expect, it } from 'vitest';
import { launchApp, type RunningApp } from './launch.ts';
import { figureOf } from './page-figures.ts';

/** A take in real time, its reading, and a machine with other work to do. */
const ROUND_MS = 240_000;

let app: RunningApp;
let page: Page;

async function open(faults: string, viewport = { width: 1280, height: 800 }): Promise<void> {
  app = await launchApp({ rig: true, pace: 4, viewport });
  page = app.page;
  if (faults !== '') {
    await page.goto(`${app.url}&fault=${faults}`);
    await page.getByRole('main').waitFor();
  }
  await page.getByRole('button', { name: /^Balance/ }).click();
  await page.getByRole('heading', { name: 'Balance' }).waitFor();
}

const part = (name: string) => page.getByRole('button', { name, exact: true }).click();
const mainAction = () => page.locator('.take-action .act');

/** Presses the one main action, over and over, until nothing is left to be recorded. */
async function recordAll(): Promise<string[]> {
  const pressed: string[] = [];
  await mainAction().waitFor();
  for (;;) {
    if ((await mainAction().count()) === 0) return pressed;
    const words = (await mainAction().textContent()) ?? '';
    if (pressed.length > 14) throw new Error(`It never ends: ${pressed.join(', ')}`);
    pressed.push(words);
    await mainAction().click();
    const before = await page.locator('.do').textContent();
    await page.waitForFunction(
      (was) =>
        document.querySelector('.take-action .act[aria-disabled="true"]') === null &&
        document.querySelector('.do')?.textContent !== was,
      before,
      { timeout: 60_000 },
    );
  }
}

const faultsNamed = () =>
  page.locator('.finding').evaluateAll((all) => all.map((one) => (one as HTMLElement).dataset.fault ?? ''));
const records = (kind: string) => page.locator(`.records [data-kind="${kind}"]`);

async function record(name: string): Promise<void> {
  await page.getByRole('button', { name, exact: true }).click();
  const anyway = page.getByRole('button', { name: 'Accept it anyway' });
  const done = page.getByText('Recorded.', { exact: true });
  await anyway.or(done).first().waitFor();
  if (await anyway.isVisible()) await anyway.click();
  await done.waitFor();
}

afterEach(async () => {
  const { errors } = app;
  await app.close();
  expect(errors).toEqual([]);
});

describe('on a healthy vehicle', () => {
  it(
    'makes its records, names nothing, and they outlive a reload',
    async () => {
      await open('');
      expect((await recordAll())[0]).toBe('Record front left door');
      expect(await faultsNamed()).toEqual([]);
      const { value, state } = await figureOf(page, 'balanceDb');
      expect(state).toBe('valid');
      // The pair's two channels are alike but for noise at -90 dB.
      expect(Math.abs(Number(value))).toBeLessThan(0.01);
      await record('Accept the levels');

      await part('Polarity and arrival');
      const heard = await recordAll();
      expect(heard).toHaveLength(6);
      expect(heard.at(-1)).toBe(heard[0]);
      expect(await faultsNamed()).toEqual([]);
      // The rig's own: 4.812 ms from the subwoofer, 2.106 ms from the front left door (rig cabin truth); the
      // subwoofer's arrival is uncertain by some 0.3 ms, taken three times.
      expect(Math.abs(Number((await figureOf(page, 'arrivalMs')).value) - 2.706)).toBeLessThan(0.9);
      await record('Accept polarity and arrival');
      expect(await records('polarity').count()).toBe(1);
      expect(await records('arrival').count()).toBe(1);
      expect(await records('polarity').textContent()).toContain('5 of 5 the right way round');

      await page.reload();
      await part('Polarity and arrival');
      expect(await records('arrival').count()).toBe(1);
      await part('Levels by wire');
      expect(await records('level').count()).toBe(1);
    },
    ROUND_MS,
  );

  it(
    'by microphone at both front seats: names nothing',
    async () => {
      await open('');
      await part('Levels by microphone');
      const pressed = await recordAll();
      expect(pressed[0]).toBe('Hear the cabin itself');
      // Ambient, then five channels at two seats.
      expect(pressed).toHaveLength(11);
      expect(await faultsNamed()).toEqual([]);
      // 4.34 dB / sqrt(1500 Hz x 4 s) / sqrt(2) for each of two: 0.06 dB, taken four times.
      expect(Math.abs(Number((await figureOf(page, 'balanceDb')).value))).toBeLessThan(0.25);
      await record('Accept the levels');
      expect(await records('level').textContent()).toMatch(/by microphone, weighting C/);
    },
    ROUND_MS,
  );
});

describe('with a fault', () => {
  it(
    'left low: named by wire, with what to turn',
    async () => {
      await open('left-low');
      await recordAll();
      expect(await faultsNamed()).toEqual(['left-low']);
      expect(Number((await figureOf(page, 'balanceDb')).value)).toBeCloseTo(-1.5, 1);
      expect((await figureOf(page, 'balanceDb')).state).toBe('out-of-tolerance');
      expect(await page.locator('.finding').textContent()).toMatch(/Turn front right door down by 1\.5 dB/);
      await record('Accept the levels');
      expect(await records('level').textContent()).toMatch(/Front left door plays 1\.5 dB lower/);
    },
    ROUND_MS,
  );

  it(
    'left low: named by microphone',
    async () => {
      await open('left-low');
      await part('Levels by microphone');
      await recordAll();
      expect(await faultsNamed()).toEqual(['left-low']);
    },
    ROUND_MS,
  );

  it(
    'a reversed door: named by its pulses, and recorded after a second thought, on a phone',
    async () => {
      await open('channel-reversed', { width: 360, height: 740 });
      await part('Polarity and arrival');
      await recordAll();
      expect(await faultsNamed()).toEqual(['channel-reversed']);
      expect(await page.locator('.finding').textContent()).toMatch(
        /^Front right door is the wrong way round/,
      );
      const width = await page.evaluate(() => document.documentElement.scrollWidth);
      expect(width).toBeLessThanOrEqual(360);
      await record('Accept polarity and arrival');
      expect(await records('polarity').textContent()).toMatch(/4 of 5 the right way round/);
    },
    ROUND_MS,
  );
});
