/** Whether the practice rig's input may be believed, on screen. */
import type { Page } from 'playwright-core';
import { afterEach, expect, it } from 'vitest';
import { expectInSight } from './in-sight.ts';
import { launchApp, type RunningApp } from './launch.ts';
import { figureWhen } from './page-figures.ts';

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
  const accept = check().getByRole('button', { name: 'Accept this check' });
  await expectInSight(accept);
  await accept.click();
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
  await expectInSight(page.locator('main .act.main'));
  expect(await sidewaysRoom()).toBe(0);
});
