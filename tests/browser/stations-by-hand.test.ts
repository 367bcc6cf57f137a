/**
 * A vehicle, not the practice rig: Source to Quiet as somebody meets them who types key by key, goes back and
 * forth, and has not read everything first. Nothing here waits for what the input hears to be valid.
 */
import type { Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { launchApp, type RunningApp } from './launch.ts';
import { seamlessWav, second } from './seamless-wav.ts';

/** Than a loud tone ends by itself. */
const SOONER = { timeout: 15_000 };

let app: RunningApp;
let page: Page;

beforeAll(async () => {
  const tone = second((phase) => 10 ** (-30 / 20) * Math.sin(phase));
  app = await launchApp({ wav: seamlessWav(tone), viewport: { width: 360, height: 740 } });
  page = app.page;
  // Two doors and a subwoofer.
  await page.locator('.preset').nth(2).click();
  await page.getByRole('heading', { name: 'Plan' }).waitFor();
});

afterAll(async () => {
  const { errors } = app;
  await app.close();
  expect(errors).toEqual([]);
});

const button = (name: string | RegExp) => page.getByRole('button', { name, exact: typeof name === 'string' });
const instruction = () => page.locator('.do');
const isOff = (one: Locator) => one.getAttribute('aria-disabled');
const playedBy = (maker: 'radio' | 'this-device') => page.getByLabel('Played by').selectOption(maker);
const main = () => page.locator('.act.main.big');

async function station(name: string): Promise<void> {
  await page.evaluate((hash) => {
    location.hash = hash;
  }, `#/${name}`);
  await page
    .locator('.station h1')
    .filter({ hasText: new RegExp(`^${name}`, 'i') })
    .waitFor();
}

/** As it is typed: key by key, with a look at where the keys go in between. */
async function typed(keys: string): Promise<void> {
  await page.keyboard.type(keys, { delay: 10 });
}

async function fitsThePhone(): Promise<void> {
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(360);
}

it('Gain: says which button to press, takes typed volts, and closes their field with the record', async () => {
  await station('gain');
  await button('I have read this').press('Enter');
  // The focus went with the button, and is where the hands go on.
  await instruction().and(page.locator(':focus')).waitFor();
  expect(await instruction().textContent()).toBe(
    'Nothing is heard yet: press Listen in the strip below first.',
  );
  await button('Type a meter reading').press('Enter');
  const volts = page.getByLabel(/^Volts on the multimeter/);
  await typed('14,1');
  await page.keyboard.press('Enter');
  await page.getByText('Inside the brackets and at rest: accept the reading.', { exact: true }).waitFor();
  await fitsThePhone();
  await button(/^Accept/).click();
  await button('Accept anyway').click();
  await button('Next: Front right door').waitFor();
  expect(await volts.count()).toBe(0);
  await button('Go on with this channel').press('Enter');
  await instruction().and(page.locator(':focus')).waitFor();
  // What sounds for a station goes when the station does: nothing elsewhere would stop it.
  await button(/^Play it from this device/).click();
  await button('Stop the tone').waitFor();
  const channel = page.getByRole('combobox', { name: 'Channel' });
  await channel.selectOption('front-right');
  await button('Play it from this device on the right').click();
  await button('Stop the tone').waitFor();
  await station('plan');
  await station('gain');
  await button(/^Play it from this device/).waitFor(SOONER);
});

it('Crossover: nothing can be played before its cautions are read', async () => {
  await station('crossover');
  await page.getByRole('heading', { name: 'Before anything is swept' }).waitFor();
  expect(await page.getByLabel('Played by').count()).toBe(0);
  await button('I have read this').click();
  await playedBy('this-device');
  await button('Try the sweep on the left').waitFor();
});

it('Source: a loud tone is confirmed once, and the part that was left is found again', async () => {
  await station('source');
  await button('I have read this').click();
  await page.getByLabel('Volume steps of the radio').click();
  await typed('40');
  await page.keyboard.press('Enter');
  await instruction().and(page.locator(':focus')).waitFor();
  await page.getByRole('heading', { name: 'Conditions' }).waitFor();
  const hear = button('Try 997 Hz at 0 dBFS on the left');
  const tick = page.getByLabel('I have read the cautions and want tones as loud as 0 dBFS from this device');
  expect(await isOff(hear)).toBe('true');
  await page.getByText('Confirm the loud tone first.').first().waitFor();
  await tick.check();
  await button(/^Load/).click();
  expect(await tick.isChecked()).toBe(true);
  await hear.click();
  await button('Stop it').click();
  await fitsThePhone();
  await station('plan');
  await station('source');
  expect(await button(/^Load/).getAttribute('aria-pressed')).toBe('true');
  // At another station the gains may stand otherwise.
  expect(await tick.isChecked()).toBe(false);
  await button(/^Turn-on/).click();
  expect(await isOff(button(/^Try it/))).toBe('true');
  await page.getByText('press Listen in the strip below first.').waitFor();
  // A radio that is tapped at line level has no load, and its output is no speaker's.
  await station('plan');
  const tapped = page.getByLabel('Signal picked up at');
  await page.locator('details', { has: tapped }).locator('summary').first().click();
  await tapped.selectOption({ label: 'line level' });
  await station('source');
  await button(/^Load/).click();
  await page.getByText(/^This job takes the signal at line level/).waitFor();
  await button(/^Volume steps/).click();
  await page.getByText(/^Connect the input to the radio’s output, left side/).waitFor();
  expect(await page.getByText(/Speaker level: only through a divider/).count()).toBe(0);
});

it('Balance: volts typed to the last channel, one record of them, and no recording that a pause leaves standing', async () => {
  await station('balance');
  await button('Listen').click();
  await main().and(page.locator('[aria-disabled="false"]')).waitFor();
  await button('More').click();
  await button('Record front left door').click();
  await button(/^Recording/).waitFor();
  await button('Pause').click();
  await page.getByText('It was stopped.').waitFor();
  await button('Less').click();
  expect(await isOff(button('Record front left door'))).toBe('true');
  await button('Resume').click();
  await button('Record front left door').and(page.locator('[aria-disabled="false"]')).waitFor();

  const hear = button('Try 997 Hz at −5 dBFS on the left');
  await hear.click();
  await button('Stop it').waitFor();
  // No button of the radio's could stop it.
  await playedBy('radio');
  await playedBy('this-device');
  await hear.waitFor(SOONER);

  await page.getByText('By multimeter instead').click();
  await page.getByLabel('Volts at front left door (AC)').click();
  await typed('4,x');
  await page.keyboard.press('Enter');
  await page.locator('.wrong').filter({ hasText: '“4,x” is not a voltage' }).waitFor();
  await page.keyboard.press('Backspace');
  await typed('12');
  await page.keyboard.press('Enter');
  await page.getByLabel('Volts at front right door (AC)', { exact: true }).waitFor();
  await typed('4.10');
  await page.keyboard.press('Enter');
  await instruction().and(page.locator(':focus')).waitFor();
  await fitsThePhone();
  await button('Accept the levels').dblclick();
  await page.getByText('Recorded.', { exact: true }).waitFor();
  expect(await button('Accept the levels').count()).toBe(0);
  expect(await page.locator('.records [data-kind="level"]').count()).toBe(1);
  expect(await instruction().textContent()).toMatch(/^Recorded:/);
});

it('Balance: a setting tone close to full scale is confirmed before it is recorded', async () => {
  await station('plan');
  const level = page.getByLabel('Its level, dBFS').first();
  await page.locator('details', { has: level }).locator('summary').first().click();
  await level.fill('0');
  await station('balance');
  const record = button('Record front left door');
  await page.getByText('Confirm the loud tone first.').first().waitFor();
  expect(await isOff(record)).toBe('true');
  await page.getByLabel(/^I have read the cautions and want tones as loud as 0 dBFS/).check();
  expect(await isOff(record)).toBe('false');
});

it('Quiet: what is chosen out of turn is what the instruction says, and no field goes while it is emptied', async () => {
  await station('quiet');
  await page.getByText('Rev counter, if there is one').click();
  const idling = page.getByLabel('Idling, rpm');
  await idling.click();
  await typed('800');
  for (let key = 0; key < 3; key++) await page.keyboard.press('Backspace');
  expect(await idling.inputValue()).toBe('');
  expect(await idling.isVisible()).toBe(true);

  const recordings = page.getByRole('group', { name: 'Recordings' });
  await recordings.getByRole('button', { name: /^revved/ }).click();
  await page.getByText(/^Hold the engine steady/).waitFor();
  await page.getByRole('combobox', { name: 'Channel' }).selectOption({ label: '○ Front right door' });
  await page.getByText(/^Engine off, radio on/).waitFor();
  await button('Record with the engine off').waitFor();
});

it('Quiet: each reading of the supply says where the probes go, and the focus follows', async () => {
  await button('Supply and ground').click();
  await button('I have read this').click();
  await button(/^Battery’s posts/).click();
  await page.getByText(/^Hold the probes across the battery’s own posts/).waitFor();
  await playedBy('radio');
  await button(/^Ground leg/).click();
  await page.getByText(/\(03-front-left-level\.wav, /).waitFor();
  await page.getByLabel('At rest, V').click();
  await typed('0.002');
  await page.keyboard.press('Tab');
  await typed('0.034');
  await page.keyboard.press('Enter');
  await page
    .getByText(/^Clamp the amplifier’s supply wire/)
    .and(page.locator(':focus'))
    .waitFor();
  await fitsThePhone();
});
