/** Every gain of the demo job in turn, at the reduced level with bursts, and the stage that clips by its name. */
import type { Locator, Page } from 'playwright-core';
import { afterEach, describe, expect, it } from 'vitest';
import { expectInSight } from './in-sight.ts';
import { launchApp, type RunningApp } from './launch.ts';
import { figureWhen, restingFigure } from './page-figures.ts';

/** Targets of the demo job: 75 W (front) and the drivers' 60 W (rear) into 4 ohm, 400 W into 2 ohm. */
const TARGETS = [
  ['Front left door', Math.sqrt(300)],
  ['Front right door', Math.sqrt(300)],
  ['Rear left door', Math.sqrt(240)],
  ['Rear right door', Math.sqrt(240)],
  ['Subwoofer', Math.sqrt(800)],
] as const;
/** Travel of every gain control of the rig, dB. */
const TRAVEL_DB = 28;

let app: RunningApp;
let page: Page;

const LAPTOP = { width: 1280, height: 800 };
const PHONE = { width: 360, height: 740 };

async function open(query = '', viewport = LAPTOP): Promise<void> {
  app = await launchApp({ rig: true, viewport });
  page = app.page;
  if (query !== '') await page.goto(new URL(query, app.url).href);
  await figureWhen(page, 'levelVolts', 'valid');
}

const knob = () => page.getByRole('slider', { name: /^Gain control/ });
const records = () => page.getByRole('list', { name: 'Accepted readings' }).getByRole('listitem');

async function turnByDb(db: number): Promise<void> {
  const setting = Number(await knob().inputValue()) + db / TRAVEL_DB;
  await knob().fill(setting.toFixed(3));
  await restingFigure(page, 'levelVolts');
}

/** From what the screen shows to the aim. */
async function aim(): Promise<void> {
  await turnByDb(-(await restingFigure(page, 'aimDb')));
}

async function accept(): Promise<void> {
  const button = page.getByRole('button', { name: /^Accept \d/ });
  await page.waitForFunction(
    () =>
      [...document.querySelectorAll('button')]
        .find((one) => one.textContent?.startsWith('Accept '))
        ?.getAttribute('aria-disabled') === 'false',
  );
  await button.click();
  await records().first().waitFor();
}

async function inSight(part: Locator): Promise<void> {
  await expectInSight(part);
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(page.viewportSize()?.width);
}

afterEach(async () => {
  const { errors } = app;
  await app.close();
  expect(errors).toEqual([]);
});

it('sets all five channels in turn, each told what to plug and play before, each with its record', async () => {
  await open();
  for (const [index, [name, target]] of TARGETS.entries()) {
    await page.getByRole('slider', { name: `Gain control, ${name.toLowerCase()}` }).waitFor();
    await aim();
    await accept();
    const recorded = (await records().first().textContent()) ?? '';
    const volts = Number(/^([\d.]+) V/.exec(recorded)?.[1]);
    expect(Math.abs(20 * Math.log10(volts / target))).toBeLessThan(0.5);
    expect(recorded).toContain('inside');
    const next = TARGETS[index + 1]?.[0];
    if (next === undefined) continue;
    const before = page.locator('.just-accepted').getByRole('list', { name: `Before ${next.toLowerCase()}` });
    const lines = (await before.textContent()) ?? '';
    if (next === 'Subwoofer') {
      expect(lines).toMatch(
        /on both sides\. It sums 2 inputs: with the tone on one alone it reads 14\.1. V, 6\.0 dB low/,
      );
    } else expect(lines).toContain(`on the ${/left/.test(next) ? 'left' : 'right'} side`);
    await page.getByRole('button', { name: `Next: ${next}` }).click();
  }
  await page.getByText('Every gain of this job is set.').waitFor();
  expect(await page.locator('[data-stage]').count()).toBe(0);
});

describe('at the reduced level', () => {
  it('sets the front left door, confirms it by bursts, and records both', async () => {
    await open();
    await page.getByRole('button', { name: 'Set with a tone 20 dB lower' }).click();
    await aim();
    const set = await restingFigure(page, 'levelVolts');
    expect(Math.abs(20 * Math.log10(set / (TARGETS[0][1] / 10)))).toBeLessThan(0.5);
    expect(await page.locator('.aim-sum').textContent()).toContain('17.32 V × 10^((5 − 25)/20) = 1.73 V');
    await page.getByRole('button', { name: 'Confirm with short bursts' }).click();
    await page.getByRole('button', { name: 'Stop the bursts' }).waitFor();
    const outcome = page.locator('.burst-outcome');
    await outcome.waitFor({ timeout: 60_000 });
    const words = (await outcome.textContent()) ?? '';
    expect(words).toMatch(/Confirmed: the knee stands at 18\.[34]\d V, 0\.5 dB above the target/);
    expect(await outcome.getByRole('listitem').count()).toBe(3);
    await restingFigure(page, 'levelVolts');
    await accept();
    const recorded = (await records().first().textContent()) ?? '';
    expect(recorded).toMatch(/at −25 dBFS/);
    expect(recorded).toMatch(/bursts to −4 dBFS: knee 18\.[34]\d V/);
    // The next channel goes on as this one was set.
    await page.getByRole('button', { name: 'Next: Front right door' }).click();
    await page.getByRole('slider', { name: 'Gain control, front right door' }).waitFor();
    expect(await page.locator('.aim-sum').textContent()).toContain('(5 − 25)/20) = 1.73 V');
    await page.getByText('997 Hz at −25 dBFS on the').first().waitFor();
  });
});

describe('with a fault', () => {
  async function twoReadings(byDb: number): Promise<void> {
    await page.getByText('Second reading').waitFor();
    await turnByDb(byDb);
    await page.locator('[data-fault]').waitFor();
  }

  it('a gain left past the knee: names the amplifier, and how far to turn back', async () => {
    await open('?rig=demo&fault=amplifier-past-knee');
    await page.getByRole('button', { name: 'Name the stage that clips' }).click();
    await twoReadings(-6);
    const panel = page.getByRole('region', { name: 'Which stage clips' });
    expect(await panel.locator('[data-fault]').getAttribute('data-fault')).toBe('amplifier-past-knee');
    // Left 2.5 dB past its knee, and half a decibel of room.
    expect(await panel.textContent()).toMatch(
      /Turn this gain back by (2\.[89]|3\.[0-2]) dB from where it was found/,
    );
    await page.getByRole('button', { name: 'Go on' }).click();
    await aim();
    await accept();
  });

  it('a radio that clips early: names a stage ahead, then at the radio’s terminals the radio', async () => {
    await open('?rig=demo&fault=radio-clips-early', PHONE);
    await page.getByRole('button', { name: 'Name the stage that clips' }).click();
    // The control is fully down, as found.
    await twoReadings(6);
    const found = page.locator('[data-fault]');
    expect(await found.getAttribute('data-fault')).toBe('earlier-stage-clips');
    const toRadio = page.getByRole('button', { name: 'Move the lead to the radio' });
    await inSight(toRadio);
    await toRadio.click();
    await page.locator('[data-fault="radio-clips-early"]').waitFor();
    await page.getByRole('button', { name: 'Move the lead back' }).click();
    await figureWhen(page, 'levelVolts', 'valid');
  });
});
