import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, expect, test } from 'vitest';
import { DEMO_CONTROLS, DEMO_RIG, DEMO_TONE } from '../../src/rig/demo-rig.ts';
import { PracticeRig } from '../../src/rig/practice-rig.ts';
import { rigTruth } from '../../src/rig/truth.ts';
import { launchBrowser, openPage, type ServedPage, serveFixture } from './fixture-page.ts';
import type { RigHooks } from './fixtures/rig/main.ts';
import { settledSine } from './sine-level.ts';

declare const rigHooks: RigHooks;

let served: ServedPage;
let browser: Browser;
let page: Page;
const pageErrors: string[] = [];
const controls = { ...DEMO_CONTROLS, gains: { 'front-left': 0.5 } };

beforeAll(async () => {
  served = await serveFixture('rig');
  browser = await launchBrowser(process.env);
});

afterAll(async () => {
  await browser?.close();
  await served?.close();
});

beforeEach(async () => {
  page = await openPage(browser, served.url, pageErrors);
});

afterEach(async () => {
  await page.close();
  expect(pageErrors.splice(0)).toEqual([]);
});

const wait = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));
const take = () => page.evaluate(() => rigHooks.take());
const start = (rateHz: number) =>
  page.evaluate(([config, set, tone]) => rigHooks.start(config, set, tone), [
    { ...DEMO_RIG, sampleRateHz: rateHz },
    controls,
    DEMO_TONE,
  ] as const);

test.each([48_000, 44_100])(
  'at %d Hz: real time, no hole, the same samples as the generator',
  async (rateHz) => {
    const started = Date.now();
    await start(rateHz);
    await wait(3000);
    const taken = await take();
    const elapsedSeconds = (Date.now() - started) / 1000;
    // Early blocks wait for the Worker to start and late ones for their turn: a busy machine takes its time.
    expect(taken.samples.length / rateHz).toBeGreaterThan(2);
    expect(taken.samples.length / rateHz).toBeLessThan(elapsedSeconds);
    expect(taken.missedFrames).toBe(0);
    expect(taken.sequences).toEqual(taken.sequences.map((_, index) => index));
    expect(taken.startFrames).toEqual(taken.sequences.map((_, index) => 1024 * index));
    const expected = new Float32Array(48 * 1024);
    new PracticeRig({ ...DEMO_RIG, sampleRateHz: rateHz }, controls, DEMO_TONE).fill(
      [expected],
      expected.length,
    );
    expect(Float32Array.from(taken.samples.slice(0, expected.length))).toEqual(expected);
  },
);

test('a control turned on the page is heard, a pause stands still, and the frames run on after it', async () => {
  await start(48_000);
  await wait(500);
  const turned = { ...controls, gains: { 'front-left': 0.55 } };
  await page.evaluate((set) => rigHooks.setControls(set), turned);
  await wait(300);
  await take();
  await wait(1500);
  const heard = await take();
  const after = Float64Array.from(heard.samples);
  const truth = rigTruth(DEMO_RIG, turned, DEMO_TONE);
  // Noise 80 dB down over a quarter of a second moves a level by 1e-4 dB at most.
  expect(Math.abs(settledSine(after, 997, 48_000).levelDbfs - truth.levelDbfs!)).toBeLessThan(0.001);

  await page.evaluate(() => rigHooks.pause());
  await wait(200);
  const last = (await take()).startFrames.at(-1) ?? heard.startFrames.at(-1)!;
  await wait(500);
  expect((await take()).samples.length).toBe(0);
  await page.evaluate(() => rigHooks.resume());
  await wait(300);
  expect((await take()).startFrames[0]).toBe(last + 1024);

  await page.evaluate((tone) => rigHooks.setTone(tone), { ...DEMO_TONE, kind: 'silence' } as const);
  await wait(300);
  await take();
  await wait(300);
  const silence = (await take()).samples;
  expect(Math.max(...silence.map(Math.abs))).toBeLessThan(0.001);
  expect(silence.some((sample) => sample !== 0)).toBe(true);

  await page.evaluate(() => rigHooks.stop());
  await wait(100);
  await take();
  await wait(300);
  expect((await take()).samples.length).toBe(0);
});

test('controls the rig does not have are refused on the page, in one sentence', async () => {
  await start(48_000);
  const refused = page.evaluate((set) => rigHooks.setControls(set), { ...controls, volumeStep: 99 });
  await expect(refused).rejects.toThrow(/volume step of 99 cannot be simulated: it must be from 0 to 40/);
  await wait(300);
  expect((await take()).samples.length).toBeGreaterThan(0);
});
