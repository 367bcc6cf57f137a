/**
 * The demo job from beginning to end, by keyboard alone: every station to its record. What was recorded on
 * the way is saved, and replayed by the command line into the same records.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { expect, it } from 'vitest';
import { builtCli } from '../unit/built-cli.ts';
import { press, tabTo } from './keyboard.ts';
import { launchApp } from './launch.ts';
import { figureWhen, restingFigure } from './page-figures.ts';
import { storedZip } from './stored-zip.ts';

/** A walk up forty volume steps is the longest wait. */
const LONG_MS = 120_000;
const CHANNELS = ['Front left door', 'Front right door', 'Rear left door', 'Rear right door', 'Subwoofer'];

const cli = builtCli();

let page: Page;

const enabled = (name: RegExp) =>
  page
    .getByRole('button', { name })
    .and(page.locator(':not([aria-disabled="true"], :disabled)'))
    .first()
    .waitFor({ timeout: LONG_MS });

/** Presses what is named as soon as it can be. */
async function go(name: RegExp): Promise<void> {
  await enabled(name);
  await press(page, name);
}

async function station(name: string): Promise<void> {
  await press(page, new RegExp(`^${name}[,:]`));
  await page.getByRole('heading', { level: 1, name: new RegExp(`^${name}`) }).waitFor();
}

/** What the page hands to the downloads when this is pressed. */
async function download(name: RegExp): Promise<Uint8Array> {
  await enabled(name);
  await tabTo(page, name);
  const [file] = await Promise.all([page.waitForEvent('download'), page.keyboard.press('Enter')]);
  return readFileSync(await file.path());
}

it('is done by keyboard alone, and its recordings replay into its records byte for byte', async () => {
  const app = await launchApp({ rig: true, pace: 4, viewport: { width: 1280, height: 800 } });
  page = app.page;
  try {
    await figureWhen(page, 'levelVolts', 'valid');
    const recordings = new Map<string, Uint8Array>();
    /** The log holds what was accepted as soon as it is on disk. */
    const save = async (kind: string) => {
      for (let look = 0; look < 20; look += 1) {
        const zip = await download(/^Save this recording$/);
        const log = new TextDecoder().decode(storedZip(zip).get(`${kind}.session.json`));
        if (/"type": "accept"/.test(log)) {
          recordings.set(kind, zip);
          return;
        }
        await page.waitForTimeout(300);
      }
      throw new Error(`The recording of ${kind} never told what was accepted.`);
    };

    await station('Input');
    await go(/^Check this input$/);
    await go(/^Accept this check$/);
    await save('input');

    await station('Source');
    await go(/^Measure all steps$/);
    await go(/^Accept step 30$/);
    await save('source');
    await go(/^Load(?! resistors)/);
    await go(/^Measure, resistors connected/);
    await page.getByText(/disconnect the load resistors, and measure again/).waitFor({ timeout: LONG_MS });
    await press(page, /^Load resistors connected at the radio/, 'Space');
    await go(/^Measure, resistors off/);
    await go(/^Accept the load check$/);
    await save('load');
    await press(page, /^Load resistors connected at the radio/, 'Space');
    await go(/^Left and right/);
    await go(/^Listen on both sides$/);
    await go(/^Accept the sides$/);
    await save('sides');
    await go(/^Turn-on/);
    // Ten seconds of silence, then half a minute.
    await go(/^Try it/);
    await go(/^Try it/);
    await page
      .getByRole('button', { name: /^Accept the turn-on check$/ })
      .and(page.locator('.main'))
      .waitFor({ timeout: LONG_MS });
    await go(/^Accept the turn-on check$/);
    await save('turn-on');

    await station('Gain');
    for (const [index, name] of CHANNELS.entries()) {
      await setGain();
      await go(/^Accept \d/);
      const next = CHANNELS[index + 1];
      if (next === undefined) break;
      await go(new RegExp(`^Next: ${next}`));
      await page.getByRole('slider', { name: new RegExp(`^Gain control, ${next}`, 'i') }).waitFor();
      expect(name).not.toBe(next);
    }

    await station('Crossover');
    await go(/^Take the reference$/);
    for (const [index, name] of CHANNELS.entries()) {
      await go(/^Sweep it$/);
      await go(new RegExp(`^Accept ${name}`, 'i'));
      if (index === 0) await save('crossover');
      const next = CHANNELS[index + 1];
      if (next !== undefined) await go(new RegExp(`^Next: ${next}`));
    }

    await station('Balance');
    await takeAll();
    await go(/^Accept the levels$/);
    await save('level');
    await go(/^Polarity and arrival$/);
    await takeAll();
    await go(/^Accept polarity and arrival$/);
    await save('polarity');

    await station('Quiet');
    for (const what of ['off', 'idling', 'revved']) await go(new RegExp(`^Record with the engine ${what}$`));
    await go(/^Accept what was measured$/);
    await save('noise');
    await go(/^Supply and ground$/);
    for (const amplifier of ['Four-channel amplifier', 'Mono amplifier']) await readSupply(amplifier);

    await page
      .locator('.next-step', { hasText: /^Everything that this job asks for is done\.$/ })
      .waitFor({ timeout: LONG_MS });
    await station('Plan');
    const job = JSON.parse(new TextDecoder().decode(await download(/^Export this job$/)));
    for (const [kind, zip] of recordings)
      expect([kind, replayed(kind, zip)]).toEqual([kind, recordOf(job, kind)]);
    expect(app.errors).toEqual([]);
  } finally {
    await app.close();
  }
}, 900_000);

/** Presses the one main action, over and over, until nothing is left to be recorded. */
async function takeAll(): Promise<void> {
  const action = page.locator('.take-action .act');
  for (let round = 0; round < 20; round += 1) {
    await page.waitForTimeout(300);
    if ((await action.count()) === 0) return;
    const words = (await action.textContent()) ?? '';
    const before = await page.locator('.do').first().textContent();
    await go(new RegExp(`^${words.replace(/[.*+?^${}()|[\]\\]/g, '\\$&')}$`));
    await page.waitForFunction(
      (was) =>
        document.querySelector('.take-action .act[aria-disabled="true"]') === null &&
        document.querySelector('.do')?.textContent !== was,
      before,
      { timeout: LONG_MS },
    );
  }
  throw new Error('There was always one more thing to record.');
}

async function readSupply(amplifier: string): Promise<void> {
  await tabTo(page, /^Amplifier(?!’)/);
  await page.keyboard.type(amplifier);
  const readings = [/practice meter/, /practice clamp/, /practice meter/, /practice meter/];
  for (const reading of readings) await go(reading);
  await go(/^Accept these readings$/);
  await page.getByText('Recorded.', { exact: true }).waitFor();
}

/** The records that the command line makes of a saved recording, as text. */
function replayed(kind: string, zip: Uint8Array): string {
  for (const [name, bytes] of storedZip(zip)) writeFileSync(cli.work(name), bytes);
  const { status, stdout, stderr } = cli.run('replay', `${kind}.session.json`);
  expect([stderr, status]).toEqual(['', 0]);
  return JSON.stringify(JSON.parse(stdout).records);
}

function recordOf(
  job: { records: { kind: string; result: { channelId?: string } }[] },
  kind: string,
): string {
  const first = job.records.find((one) => one.kind === kind);
  return JSON.stringify([first]);
}

/** Turns the rig's control from what the aim says until it is centred. */
async function setGain(): Promise<void> {
  await tabTo(page, /^Gain control/);
  for (let turn = 0; turn < 60; turn += 1) {
    const errorDb = await restingFigure(page, 'aimDb');
    if (Math.abs(errorDb) <= 0.3) return;
    // A page key is 4 dB, an arrow half a decibel; Home and End go to the stops, which nobody wants.
    const key = errorDb < 0 ? (errorDb < -4 ? 'PageUp' : 'ArrowUp') : errorDb > 4 ? 'PageDown' : 'ArrowDown';
    await page.keyboard.press(key);
  }
  throw new Error('The aim was never centred.');
}
