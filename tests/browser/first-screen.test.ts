/** On a phone of 360 px the main action of every station, and of each of its parts, is on the first screen. */
import type { Locator, Page } from 'playwright-core';
import { expect, it } from 'vitest';
import { expectInSight } from './in-sight.ts';
import { launchApp } from './launch.ts';
import { figureWhen } from './page-figures.ts';
import { seamlessWav, second } from './seamless-wav.ts';

const PHONE = { width: 360, height: 740 };

/** What leads each station when nothing has been done yet. */
const LEADS: readonly (readonly [station: string, part: string | null, action: RegExp])[] = [
  ['Plan', null, /^Set this gain/],
  ['Input', null, /^Check this input$/],
  ['Source', 'Volume steps', /^Measure all steps$|: begin$/],
  ['Source', 'Load', /^Measure, resistors connected/],
  ['Source', 'Left and right', /^Listen on/],
  ['Source', 'Turn-on', /^Try it/],
  ['Gain', null, /^Accept \d/],
  ['Crossover', null, /^Take the reference$/],
  ['Balance', 'Levels by wire', /^Record front left door$/],
  ['Balance', 'Levels by microphone', /^Hear the cabin itself$/],
  ['Balance', 'Polarity and arrival', /^Record front left door$/],
  ['Quiet', 'Noise', /^Record with the engine off$/],
  ['Quiet', 'Supply and ground', /^Read the practice meter$|^Use these readings$/],
  ['Sign-off', 'Sign', /^Sign off this job$/],
  ['Sign-off', 'Check by one track', /^Record$/],
  ['Sign-off', 'Report', /^Print/],
];

function mainAction(page: Page, words: RegExp): Locator {
  return page.locator('main .act.main').filter({ hasText: words });
}

async function open(page: Page, station: string, part: string | null): Promise<void> {
  const path = page.getByRole('navigation', { name: 'Signal path' });
  await path.getByRole('button', { name: new RegExp(`^${station}`) }).click();
  if (part === null) return;
  const parts = page.getByLabel('Parts of this station');
  await parts.getByRole('button', { name: new RegExp(`^${part}`) }).click();
}

it('on the practice rig', async () => {
  const app = await launchApp({ rig: true, pace: 4, viewport: PHONE });
  try {
    for (const [station, part, action] of LEADS) {
      await open(app.page, station, part);
      const main = mainAction(app.page, action);
      await main.waitFor();
      await expectInSight(main);
    }
    expect(app.errors).toEqual([]);
  } finally {
    await app.close();
  }
}, 120_000);

it('in a vehicle, once its cautions have been read', async () => {
  const wav = seamlessWav(second((phase) => 0.25 * Math.sin(phase)));
  const app = await launchApp({ wav, viewport: PHONE });
  const { page } = app;
  try {
    await page.getByRole('button', { name: /^Four doors and a subwoofer/ }).click();
    await open(page, 'Input', null);
    const listen = page.getByRole('main').getByRole('button', { name: 'Listen', exact: true });
    await listen.waitFor();
    await expectInSight(listen);
    await listen.click();
    await figureWhen(page, 'levelDbfs', 'valid');
    await expectInSight(page.getByRole('button', { name: 'Calibrate with these volts' }));
    await page.getByRole('textbox', { name: 'The multimeter shows, V' }).fill('1.234');
    await page.getByRole('button', { name: 'Calibrate with these volts' }).click();
    // The button has made way for what comes next: whoever goes by keyboard is at its instruction, not nowhere.
    await page.getByText('Check that this input is honest.').waitFor();
    expect(await page.evaluate(() => document.activeElement?.textContent)).toBe(
      'Check that this input is honest.',
    );
    for (const [station, part, action] of LEADS) {
      await open(page, station, part);
      const main = mainAction(page, action);
      const read = page.locator('main').getByRole('button', { name: 'I have read this' });
      const steps = page.getByRole('textbox', { name: 'Volume steps of the radio' });
      await main.or(read).or(steps).first().waitFor();
      while ((await read.count()) > 0) await read.first().click();
      if (station === 'Source' && part === 'Volume steps') {
        await expectInSight(page.getByRole('button', { name: 'Note the steps' }));
        await steps.fill('40');
        await steps.press('Enter');
      }
      await main.waitFor();
      await expectInSight(main);
    }
    expect(app.errors).toEqual([]);
  } finally {
    await app.close();
  }
}, 120_000);
