/** The practice rig's panel: a fault comes with the address or is chosen, and the vehicle behaves accordingly. */
import type { Page } from 'playwright-core';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { launchApp, type RunningApp } from './launch.ts';
import { figureWhen, restingFigure } from './page-figures.ts';

let app: RunningApp;
let page: Page;

beforeEach(async () => {
  app = await launchApp({ rig: true, viewport: { width: 360, height: 740 } });
  page = app.page;
});

afterEach(async () => {
  const { errors } = app;
  await app.close();
  expect(errors).toEqual([]);
});

const open = (faults: string) => page.goto(`${app.url}&fault=${faults}`);
const summary = () => page.locator('summary', { hasText: 'Practice a fault' });
const choice = () => page.getByRole('combobox', { name: 'What is wrong with the vehicle' });

/** The verdict once the level is at rest: a new vehicle needs its windows filled. */
async function settledVerdict(): Promise<string | null> {
  await restingFigure(page, 'levelDbfs');
  return (await figureWhen(page, 'clipping', 'valid')).value;
}

it('a fault of the address is there, and gone once nothing is chosen', async () => {
  await open('amplifier-past-knee');
  expect(await settledVerdict()).toBe('clipped');
  await summary().click();
  expect(await choice().inputValue()).toBe('amplifier-past-knee');
  await choice().selectOption('none');
  expect(new URL(page.url()).search).toBe('?rig=demo');
  expect(await settledVerdict()).toBe('clean');
  await page.getByRole('button', { name: 'Say what is wrong' }).click();
  await page.getByText('Nothing is wrong with this vehicle.').waitFor();
});

it('a chosen fault stays through a reload, and is told when asked for', async () => {
  expect(await settledVerdict()).toBe('clean');
  await summary().click();
  await choice().selectOption('amplifier-past-knee');
  expect(new URL(page.url()).search).toBe('?rig=demo&fault=amplifier-past-knee');
  expect(await settledVerdict()).toBe('clipped');
  await page.reload();
  expect(await settledVerdict()).toBe('clipped');
  await summary().click();
  expect(await page.getByText('gain control was left so far up').count()).toBe(0);
  await page.getByRole('button', { name: 'Say what is wrong' }).click();
  await page.getByText('gain control was left so far up').waitFor();
});

it('one picked unseen is in the vehicle and not named on screen until asked', async () => {
  await summary().click();
  await page.getByRole('button', { name: 'Pick one unseen' }).click();
  expect(await choice().inputValue()).toBe('secret');
  expect(new URL(page.url()).searchParams.get('fault')).toMatch(/^[a-z-]+$/);
  await page.getByRole('button', { name: 'Say what is wrong' }).click();
  expect(await page.locator('.faults li').count()).toBe(1);
});

it('several faults together, and one that is unknown named in a sentence', async () => {
  await open('left-low,mains-hum,flat-tyre');
  const alert = page.getByRole('alert');
  expect(await alert.textContent()).toMatch(/asks for a fault "flat-tyre" that the practice rig cannot have/);
  expect(await choice().inputValue()).toBe('several');
  await page.getByRole('button', { name: 'Say what is wrong' }).click();
  expect(await page.locator('.faults li').count()).toBe(2);
});
