/** Signed, exported, one digit edited, taken in: refused as altered, and what it claims can be looked at. */
import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { readJob } from '../../src/job/read-job.ts';
import { writeJob } from '../../src/job/write-job.ts';
import { crossoverOf, gainOf } from '../unit/station-records.ts';
import { launchApp, type RunningApp } from './launch.ts';

const JOB = readJob(
  readFileSync(new URL('../../shared/examples/hatchback.job.json', import.meta.url), 'utf8'),
);
const TARGET = Math.sqrt(75 * 4);
const CURVE = {
  frequenciesHz: [20, 80, 500, 5000],
  magnitudesDb: [-48, -6, 0, 0],
  phasesDeg: [0, 0, 0, 0],
  uncertaintiesDb: [0.1, 0.1, 0.1, 0.1],
};
const measured = {
  ...JOB,
  records: [gainOf('g1', { targetVolts: TARGET, aimVolts: TARGET }), crossoverOf('c1', 80, { curve: CURVE })],
};

let app: RunningApp;
let page: Page;

beforeEach(async () => {
  app = await launchApp({ viewport: { width: 360, height: 740 } });
  page = app.page;
});

afterEach(async () => {
  const { errors } = app;
  await app.close();
  expect(errors).toEqual([]);
});

async function takeIn(text: string): Promise<void> {
  await page.locator('input[type="file"]').setInputFiles({
    name: 'hatchback.job.json',
    mimeType: 'application/json',
    buffer: Buffer.from(text),
  });
}

async function to(station: string): Promise<void> {
  await page
    .getByRole('navigation', { name: 'Signal path' })
    .getByRole('button', { name: new RegExp(`^${station}`) })
    .click();
}

async function exported(): Promise<string> {
  await to('Plan');
  const [got] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Export this job' }).click(),
  ]);
  return readFileSync(await got.path(), 'utf8');
}

async function sign(name: string): Promise<void> {
  await page.getByRole('textbox', { name: 'Signed by' }).fill(name);
  await page.getByRole('button', { name: 'Sign off this job' }).click();
  await page.getByRole('button', { name: 'Sign it anyway' }).click();
  await page.getByText('Signed.', { exact: true }).waitFor();
}

it('refuses a signed file with one digit edited, names the sign-off and shows what it claims', async () => {
  await takeIn(writeJob(measured));
  await page.getByRole('heading', { name: `Plan ${JOB.title}` }).waitFor();
  await to('Sign-off');
  expect(await page.locator('[data-reading="signOffDone"]').getAttribute('data-value')).toBe('2');
  // Without a name nothing is signed.
  await page.getByRole('button', { name: 'Sign off this job' }).click({ force: true });
  expect(await page.getByRole('list', { name: 'Sign-offs' }).count()).toBe(0);
  await sign('Invented Name');
  const list = page.getByRole('list', { name: 'Sign-offs' });
  await list.getByText('unaltered').waitFor();
  await page.getByRole('button', { name: /^Sign-off: done, signed/ }).waitFor();

  const text = await exported();
  const job = JSON.parse(text);
  expect([job.signOffs[0].signedBy, job.exportedSha256.length]).toEqual(['Invented Name', 64]);

  // The last place at which the voltage set stands is inside the sign-off.
  const at = text.lastIndexOf('"volts": 17.3,', text.lastIndexOf('"voltsUncertainty"'));
  expect(at).toBeGreaterThan(text.indexOf('"signOffs"'));
  await page.locator('summary', { hasText: 'Begin another job' }).click();
  await takeIn(`${text.slice(0, at)}"volts": 17.4,${text.slice(at + '"volts": 17.3,'.length)}`);
  await page.getByRole('alert').filter({ hasText: 'altered after it was signed' }).waitFor();
  const refusal = page.getByRole('region', { name: /altered after it was signed/ });
  await refusal.getByText(job.signOffs[0].sha256).waitFor();
  expect(await refusal.getByText('Invented Name').count()).toBe(1);
  await refusal.getByRole('button', { name: 'Look at what it claims' }).click();
  const claims = refusal.getByRole('list', { name: 'Claimed figures' });
  expect(await claims.textContent()).toContain('gain of the front left door: 17.40 V ±0.20 V');
  expect(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth)).toBe(true);
  // Nothing of it was stored, and the unbent file is the job that is here already.
  const jobs = page.getByRole('list', { name: 'Jobs in this browser' }).getByRole('listitem');
  expect(await jobs.count()).toBe(1);
  await takeIn(text);
  await refusal.waitFor({ state: 'detached' });
  expect(await jobs.count()).toBe(1);
});

it('holds a later visit against the sign-off, figure by figure, with the curves over each other', async () => {
  await takeIn(writeJob(measured));
  await page.getByRole('heading', { name: `Plan ${JOB.title}` }).waitFor();
  await to('Sign-off');
  await sign('Invented Name');
  const first = JSON.parse(await exported());
  // The same job a year later, as another program would add to it: without the hash over the whole file.
  const { exportedSha256: _, ...rest } = first;
  const later = [gainOf('g2', { volts: 15 }), crossoverOf('c2', 80.1, { curve: CURVE })];
  await page.locator('summary', { hasText: 'Begin another job' }).click();
  await takeIn(
    JSON.stringify({ ...rest, id: 'later', title: 'Later', records: [...rest.records, ...later] }),
  );
  await page.getByRole('heading', { name: 'Plan Later' }).waitFor();
  await to('Sign-off');
  await page.getByText('2 records were added since it was signed.').waitFor();
  await page.getByRole('button', { name: 'Then and now' }).click();
  const verdicts = await page
    .getByRole('list', { name: 'Figures then and now' })
    .getByRole('listitem')
    .evaluateAll((items) => items.map((item) => [item.dataset.key, item.dataset.verdict]));
  expect(Object.fromEntries(verdicts)).toEqual({
    'gain/front-left/volts': 'changed',
    'gain/front-left/knee': 'not-changed',
    'crossover/front-left/high-pass/corner': 'not-changed',
    'crossover/front-left/high-pass/slope': 'not-changed',
  });
  await page.getByText('Response then, dashed, and now, solid.').waitFor();
  await page.getByRole('combobox', { name: 'Picture' }).selectOption('Knee trace of the front left door');
  await page.getByText('Distortion against voltage then').waitFor();
  expect(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth)).toBe(true);
});

it('keeps a tolerance with its job, and leads back to the usual figures', async () => {
  await takeIn(writeJob(measured));
  await page.getByRole('heading', { name: `Plan ${JOB.title}` }).waitFor();
  await to('Sign-off');
  await page.getByRole('button', { name: 'Tolerances' }).click();
  const corner = page.getByRole('textbox', { name: 'Corner of a filter, %' });
  await corner.fill('5');
  await page.getByText('Usual: 10 %.').waitFor();
  await page.reload();
  expect(await corner.inputValue()).toBe('5');
  await page.getByRole('button', { name: 'Back to the usual figures' }).click();
  expect(await corner.inputValue()).toBe('10');
  expect(await page.getByRole('button', { name: 'Back to the usual figures' }).isDisabled()).toBe(true);
});
