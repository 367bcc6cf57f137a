/** The recorder in a real browser: bit for bit what the microphone played, and there again after the page was killed. */
import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type Browser, chromium, type Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { findBrowser } from '../../bin/browser.js';
import { HEADER_BYTES } from '../../src/audio/recording/recording-header.ts';
import { SLAB_FRAMES } from '../../src/audio/recording/slabs.ts';
import { serveBuilt } from './fixture-page.ts';
import { launchApp } from './launch.ts';
import { FAKE_DEVICE_RATE_HZ, seamlessWav, second } from './seamless-wav.ts';

const LAUNCH_MS = 20_000;
const RIG_RATE_HZ = 48_000;
const APP = fileURLToPath(new URL('../../dist/app', import.meta.url));

const HATCHBACK_FILE = fileURLToPath(new URL('../../shared/examples/hatchback.job.json', import.meta.url));

/** The demo job, and the part of the Sign-off station. */
async function toCheck(page: Page, address: string): Promise<void> {
  await page.goto(`${address}#/sign-off`);
  await page.getByRole('button', { name: 'Check by one track' }).click();
  await page.getByRole('heading', { name: 'Recordings in this browser' }).waitFor();
  const read = page.getByRole('button', { name: 'I have read this' });
  if (await read.isVisible()) await read.click();
}

/** Frames in the file by now, as the page says. */
async function recordedFrames(page: Page): Promise<number> {
  const value = await page.locator('output[data-reading="recordedFrames"]').getAttribute('data-value');
  return Number(value);
}

async function recordUntil(page: Page, frames: number): Promise<void> {
  const open = page.getByRole('button', { name: 'Open the input' });
  if (await open.isVisible()) await open.click();
  await page.getByRole('button', { name: 'Record', exact: true }).click();
  await page.locator('output[data-reading="recordedFrames"]').waitFor();
  await expect.poll(() => recordedFrames(page), { timeout: 30_000, interval: 50 }).toBeGreaterThan(frames);
}

test('exports bit for bit what the microphone played, without a frame lost', async () => {
  // Whole cycles a second and no symmetry, so that one frame lost or doubled anywhere shows.
  const tone = second((phase) => 0.35 * Math.sin(phase));
  const app = await launchApp({ wav: seamlessWav(tone) });
  try {
    const { page } = app;
    await page.getByLabel('Or take in a job file').setInputFiles(HATCHBACK_FILE);
    await page.getByRole('heading', { name: /^Plan/ }).waitFor();
    await toCheck(page, app.url);
    await recordUntil(page, 2 * FAKE_DEVICE_RATE_HZ);
    await page.getByRole('button', { name: 'Stop recording' }).click();
    const row = page.getByRole('list', { name: 'Recordings' }).getByRole('listitem').first();
    const download = page.waitForEvent('download');
    await row.getByRole('button', { name: 'Save as WAV' }).click();
    const bytes = readFileSync(await (await download).path());
    const samples = new Float32Array(Uint8Array.from(bytes.subarray(HEADER_BYTES)).buffer);
    const frames = samples.length / 2;
    expect(frames).toBeGreaterThan(2 * FAKE_DEVICE_RATE_HZ);
    expect(Number(await row.getAttribute('data-frames'))).toBe(frames);
    const offset = tone.findIndex((_, at) =>
      [0, 1, 2, 3].every((n) => tone[(at + n) % tone.length] === samples[2 * n]),
    );
    expect(offset).toBeGreaterThanOrEqual(0);
    const wrong = samples.findIndex((sample, at) => sample !== tone[(offset + (at >> 1)) % tone.length]);
    expect(wrong).toBe(-1);
    expect(app.errors).toEqual([]);
  } finally {
    await app.close();
  }
});

/** A browser of its own, so that it can be killed outright. */
async function launchKillable(profile: string): Promise<{ browser: Browser; kill: () => Promise<void> }> {
  const executable = await findBrowser();
  if (executable === null) throw new Error('No Chromium-family browser was found.');
  const flags = ['--headless', '--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run'];
  const child: ChildProcess = spawn(
    executable,
    [
      ...flags,
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
      '--remote-debugging-port=0',
      `--user-data-dir=${profile}`,
    ],
    { detached: true, stdio: ['ignore', 'ignore', 'pipe'] },
  );
  const kill = async () => {
    if (child.pid === undefined || child.exitCode !== null || child.signalCode !== null) return;
    const gone = new Promise((resolve) => child.once('exit', resolve));
    // The whole process group at once, as when the machine is switched off: nobody is asked to finish anything.
    process.kill(-child.pid, 'SIGKILL');
    await gone;
  };
  const address = await new Promise<string>((resolve, reject) => {
    let said = '';
    child.stderr?.on('data', (chunk: Buffer) => {
      said += chunk.toString();
      const found = said.match(/DevTools listening on (ws:\S+)/)?.[1];
      if (found !== undefined) resolve(found);
    });
    child.on('exit', () => reject(new Error(`The browser ended at once: ${said}`)));
  });
  try {
    return { browser: await chromium.connectOverCDP(address, { timeout: LAUNCH_MS }), kill };
  } catch (error) {
    await kill();
    throw error;
  }
}

async function newPage(browser: Browser): Promise<Page> {
  const context = browser.contexts()[0];
  if (context === undefined) throw new Error('The browser has no context.');
  return context.newPage();
}

test('finds a recording again after the browser was killed in the middle of it, and repairs it', async () => {
  const profile = mkdtempSync(join(tmpdir(), 'kneepoint-profile-'));
  const served = await serveBuilt(APP);
  let killing = async () => {};
  try {
    const first = await launchKillable(profile);
    killing = first.kill;
    const page = await newPage(first.browser);
    await toCheck(page, `${served.url}?rig=demo`);
    await recordUntil(page, 3 * RIG_RATE_HZ);
    const seen = await recordedFrames(page);
    await first.kill();

    const second = await launchKillable(profile);
    killing = second.kill;
    const again = await newPage(second.browser);
    await toCheck(again, `${served.url}?rig=demo`);
    const row = again.getByRole('list', { name: 'Recordings' }).getByRole('listitem').first();
    await row.waitFor();
    expect(await row.textContent()).toMatch(/closed while it recorded; the file was repaired/);
    expect(await row.getAttribute('data-finished')).toBe('true');
    // What the page had said was on disk is there; what came after it was said, too, as far as it was written.
    const frames = Number(await row.getAttribute('data-frames'));
    expect(frames).toBeGreaterThanOrEqual(seen);
    expect(frames - seen).toBeLessThan(RIG_RATE_HZ);
    expect(frames % SLAB_FRAMES).toBe(0);

    const download = again.waitForEvent('download');
    await row.getByRole('button', { name: 'Save as WAV' }).click();
    const bytes = readFileSync(await (await download).path());
    expect(bytes.readUInt32LE(HEADER_BYTES - 4)).toBe(4 * frames);
    expect(bytes.length).toBe(HEADER_BYTES + 4 * frames);
    await second.browser.close();
  } finally {
    await killing();
    await served.close();
    rmSync(profile, { recursive: true, force: true, maxRetries: 5 });
  }
});

test('ends in one sentence when the browser grants no more room, and keeps what was recorded', async () => {
  const app = await launchApp({ rig: true });
  try {
    const { page } = app;
    await toCheck(page, app.url);
    const { usage = 0 } = await page.evaluate(() => navigator.storage.estimate());
    const devtools = await page.context().newCDPSession(page);
    const quotaSize = usage + 2 * RIG_RATE_HZ * 4;
    await devtools.send('Storage.overrideQuotaForOrigin', { origin: new URL(app.url).origin, quotaSize });
    const open = page.getByRole('button', { name: 'Open the input' });
    if (await open.isVisible()) await open.click();
    await page.getByRole('button', { name: 'Record', exact: true }).click();
    await page.getByText('There is no room left on this device').first().waitFor({ timeout: 30_000 });
    const row = page.getByRole('list', { name: 'Recordings' }).getByRole('listitem').first();
    await row.waitFor();
    expect(await row.getAttribute('data-finished')).toBe('true');
    expect(Number(await row.getAttribute('data-frames'))).toBeGreaterThan(0);
    expect(app.errors).toEqual([]);
  } finally {
    await app.close();
  }
});
