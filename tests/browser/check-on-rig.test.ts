/** The check by one track on the practice rig: one press records, plays and stops; then the vehicle is judged. */
import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { afterEach, expect, it } from 'vitest';
import { readJob } from '../../src/job/read-job.ts';
import { usualRunOptions } from '../../src/job/run-track/options.ts';
import { runManifest } from '../../src/job/run-track/run-manifest.ts';
import { launchApp, type RunningApp } from './launch.ts';
import { figureWhen, highestOf, levelWhen, restingFigure } from './page-figures.ts';

const HATCHBACK = readJob(
  readFileSync(new URL('../../shared/examples/hatchback.job.json', import.meta.url), 'utf8'),
);
/** 75 W into 4 ohm: what the front left door must read. */
const TARGET_VOLTS = Math.sqrt(75 * 4);
/** Travel of the rig's gain control. */
const TRAVEL_DB = 28;
const WORK_MS = 60_000;

let app: RunningApp;
let page: Page;

async function open(fault: string | null): Promise<void> {
  app = await launchApp({ rig: true, pace: 8, viewport: { width: 1280, height: 800 } });
  page = app.page;
  if (fault === null) return;
  await page.goto(`${app.url}&fault=${fault}`);
  await page.getByRole('main').waitFor();
}

/** The front left gain where its target is, as the Gain station would leave it. */
async function setGain(): Promise<void> {
  const missingDb = 20 * Math.log10(TARGET_VOLTS / (await restingFigure(page, 'levelVolts')));
  await page
    .getByRole('slider', { name: 'Gain control, front left door' })
    .fill((missingDb / TRAVEL_DB).toFixed(3));
  expect(Math.abs((await restingFigure(page, 'levelVolts')) - TARGET_VOLTS)).toBeLessThan(0.1);
}

async function openCheck(): Promise<void> {
  await page.goto(`${page.url().split('#')[0]}#/sign-off`);
  await page.getByRole('button', { name: 'Check by one track' }).click();
}

/** @returns the faults named; the recording has stopped by itself */
async function recordAndCheck(): Promise<string[]> {
  await page.getByRole('button', { name: 'Record', exact: true }).click();
  await page.getByRole('button', { name: 'Check it' }).click({ timeout: WORK_MS });
  await figureWhen(page, 'checkPass', 'valid');
  const faults = page.getByRole('list', { name: 'Faults' }).getByRole('listitem');
  return faults.evaluateAll((all) =>
    all.map((one) => (one as HTMLElement).dataset).map(({ channel, fault }) => `${channel}: ${fault}`),
  );
}

afterEach(async () => {
  const { errors } = app;
  await app.close();
  expect(errors).toEqual([]);
});

it('a healthy vehicle passes with its own track: one press, and nothing else until it is over', async () => {
  await open(null);
  await setGain();
  await openCheck();
  // The lead goes where the input is said to be.
  const point = page.getByLabel('The input is at').first();
  expect(await point.inputValue()).toBe('front-left');
  await point.selectOption('cabin');
  await page.getByText('the microphone stands in the cabin').waitFor();
  await point.selectOption('front-left');
  await page.getByText('the lead is at the terminals of front left door').waitFor();
  expect(await recordAndCheck()).toEqual([]);
  expect((await figureWhen(page, 'checkPass', 'valid')).value).toBe('true');
  expect(await page.locator('tr[data-verdict="missing"]').count()).toBe(0);
  expect(await page.locator('tr[data-verdict="passed"]').count()).toBeGreaterThan(8);
});

it('a filter an octave off is named, with a shorter track of another set', async () => {
  await open('filter-octave-off');
  await setGain();
  await openCheck();
  const options = { ...usualRunOptions(HATCHBACK), contents: ['reduced', 'response'] as const };
  const manifest = runManifest(HATCHBACK, options, { sampleRateHz: 44_100, bits: 16 });
  await page.locator('summary', { hasText: 'Track: this job' }).click();
  await page.getByLabel('Another tone set, by its manifest.json').setInputFiles({
    name: 'short.json',
    mimeType: 'application/json',
    buffer: Buffer.from(JSON.stringify(manifest)),
  });
  await page.getByText('the run track of short.json').waitFor();
  expect(await recordAndCheck()).toEqual(['front-left: filter-octave-off']);
});

/** Through two dozen readings, some ten seconds of the rig: more than any silence within the track. */
async function staysSilent(): Promise<void> {
  // The amplifier's own noise is at some -89 dBFS.
  await levelWhen(page, 'below', -80);
  expect(await highestOf(page, 'levelDbfs', 24)).toBeLessThan(-80);
}

it('left mid-way, the track falls silent for good, and the next station’s tone plays', async () => {
  await open(null);
  await setGain();
  await openCheck();
  await page.getByRole('button', { name: 'Record', exact: true }).click();
  await page.locator('output[data-reading="recordedFrames"]').waitFor();
  await levelWhen(page, 'above', -40);
  await page.getByRole('button', { name: 'Tolerances' }).click();
  await staysSilent();
  await page.getByRole('button', { name: 'Check by one track' }).click();
  await page.getByRole('button', { name: 'Stop recording' }).waitFor();
  await staysSilent();
  await page.getByRole('button', { name: /^Gain,|^Gain:/ }).click();
  await levelWhen(page, 'above', -10);
});
