/** Whether an input may be believed, on screen: the practice rig's, and a microphone whose browser says nothing. */
import type { Page } from 'playwright-core';
import { afterEach, expect, it } from 'vitest';
import { automaticGain, cleanTrial, processed } from '../unit/honesty-recordings.ts';
import { launchApp, type RunningApp } from './launch.ts';
import { figureWhen } from './page-figures.ts';
import { FAKE_DEVICE_RATE_HZ, seamlessWav } from './seamless-wav.ts';

let app: RunningApp;
let page: Page;

const check = () => page.getByRole('region', { name: 'Honesty check' });
const faults = () => check().locator('[data-fault]');
const strip = () => page.locator('.strip-honesty');
const plate = () =>
  page.getByRole('navigation', { name: 'Signal path' }).getByRole('button', { name: /^Input:/ });

afterEach(async () => {
  const { errors } = app;
  await app.close();
  expect(errors).toEqual([]);
});

async function onRig(fault: string | null): Promise<void> {
  app = await launchApp({ rig: true, pace: 4, viewport: { width: 360, height: 740 } });
  page = app.page;
  if (fault !== null) await page.goto(`${app.url}&fault=${fault}`);
  await plate().click();
  await figureWhen(page, 'levelDbfs', 'valid');
}

async function checkIt(): Promise<void> {
  await check().getByRole('button', { name: 'Check this input' }).click();
  await check().getByRole('table', { name: 'Steps played and read' }).waitFor({ timeout: 60_000 });
}

async function sidewaysRoom(): Promise<number> {
  return page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
}

it('finds the healthy rig’s input honest, records it, and strip and plate say so', async () => {
  await onRig(null);
  expect(await strip().textContent()).toContain('not checked');
  expect(await plate().getAttribute('aria-label')).toContain('unchecked');
  await checkIt();
  expect(await faults().count()).toBe(0);
  await check().getByText('Nothing was found: every step came back as it was played.').waitFor();
  await check().getByRole('button', { name: 'Accept this check' }).click();
  await check().getByText('Checked: it passes on what it is given').waitFor();
  expect(await strip().textContent()).toMatch(/honest, \d+ \w+/);
  expect(await plate().getAttribute('aria-label')).toMatch(/^Input: done/);
  // With the check behind it, the station leads on.
  expect(await page.getByRole('button', { name: 'Set a gain' }).getAttribute('class')).toContain('main');
  expect(await sidewaysRoom()).toBe(0);
});

it('names the rig’s input that gains itself, and the record says not honest', async () => {
  await onRig('input-gains-itself');
  await checkIt();
  expect(await faults().first().getAttribute('data-fault')).toBe('automatic-gain');
  await check().getByRole('button', { name: 'Accept this check' }).click();
  await check().getByRole('button', { name: 'Accept it anyway' }).click();
  await check().getByText('Checked: it does not pass on what it is given').waitFor();
  expect(await strip().textContent()).toContain('not honest: gains itself');
  expect(await plate().getAttribute('aria-label')).toContain('not honest');
  // What was found comes first; a gain may still be set, and does not lead.
  await page.getByText('This input was found not to be honest').waitFor();
  expect(await page.locator('main .act.main').allTextContents()).toEqual(['Check this input']);
  expect(await sidewaysRoom()).toBe(0);
});

/**
 * The stepped tone as the radio would play it, begun by hand some seconds after the button. The file starts with the
 * capture, so its silence is as long as it takes to get to the button, and a recording holds the steps whole.
 */
const TRIAL = {
  sampleRateHz: FAKE_DEVICE_RATE_HZ,
  gainDb: -6,
  leadSeconds: 5,
  tailSeconds: 7,
  noiseBelowDb: 60,
} as const;

async function throughMicrophone(samples: ArrayLike<number>): Promise<void> {
  app = await launchApp({ wav: seamlessWav(Float32Array.from(samples)) });
  page = app.page;
  await plate().click();
  await page.getByRole('button', { name: 'Listen', exact: true }).click();
  await check().getByLabel('The tone reaches it').selectOption('by air, with a microphone');
  await page.getByRole('button', { name: 'Stop', exact: true }).waitFor();
  await page.waitForFunction(
    () => document.querySelector<HTMLOutputElement>('output[data-reading="levelDbfs"]')?.dataset.value !== '',
  );
  await checkIt();
}

it('names automatic gain in a microphone, though the browser says that it is off', async () => {
  const trial = processed(cleanTrial(TRIAL), (samples, rate) =>
    automaticGain(samples, rate, { targetDb: -20, attackSeconds: 0.5, releaseSeconds: 3, mostDb: 20 }),
  );
  await throughMicrophone(trial.channels[0]!);
  await page.getByText(/^Source: /).click();
  const granted = page.getByRole('row', { name: /^Automatic gain/ });
  expect(await granted.textContent()).toContain('off');
  expect(await faults().first().getAttribute('data-fault')).toBe('automatic-gain');
  expect(await faults().first().textContent()).toMatch(/dB/);
});

it('finds nothing in a microphone that passes on the same tone as it was played', async () => {
  await throughMicrophone(cleanTrial(TRIAL).channels[0]!);
  expect(await faults().count()).toBe(0);
  await check().getByText('Nothing was found: every step came back as it was played.').waitFor();
});
