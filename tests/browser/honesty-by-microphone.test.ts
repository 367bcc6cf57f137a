/** Whether a microphone may be believed of which the browser says nothing, on screen; by the clock, so alone. */
import type { Page } from 'playwright-core';
import { afterEach, expect, it } from 'vitest';
import { automaticGain, cleanTrial, processed } from '../unit/honesty-recordings.ts';
import { launchApp, type RunningApp } from './launch.ts';
import { FAKE_DEVICE_RATE_HZ, seamlessWav } from './seamless-wav.ts';

let app: RunningApp;
let page: Page;

const check = () => page.getByRole('region', { name: 'Honesty check' });
const faults = () => check().locator('[data-fault]');

afterEach(async () => {
  const { errors } = app;
  await app.close();
  expect(errors).toEqual([]);
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
  await page
    .getByRole('navigation', { name: 'Signal path' })
    .getByRole('button', { name: /^Input:/ })
    .click();
  await page.getByRole('button', { name: 'Listen', exact: true }).click();
  await check().getByLabel('The tone reaches it').selectOption('by air, with a microphone');
  await page.getByRole('button', { name: 'Stop', exact: true }).waitFor();
  await page.waitForFunction(
    () => document.querySelector<HTMLOutputElement>('output[data-reading="levelDbfs"]')?.dataset.value !== '',
  );
  await check().getByRole('button', { name: 'Check this input' }).click();
  await check().getByRole('table', { name: 'Steps played and read' }).waitFor({ timeout: 60_000 });
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
