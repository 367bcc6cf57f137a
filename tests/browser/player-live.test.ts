import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import type { PlayRequest } from '../../src/audio/playback/player-state.ts';
import { launchBrowser, openPage, type ServedPage, serveFixture } from './fixture-page.ts';
import type { PlayerHooks } from './fixtures/player/main.ts';
import { type PulseLoop, startPulseLoop, whyNoPulseLoop } from './pulse-loop.ts';
import { loudestPart, settledSine } from './sine-level.ts';

declare const playerHooks: PlayerHooks;

const RATE_HZ = 48_000;
const reason = whyNoPulseLoop();
if (reason !== null) process.stderr.write(`player-live.test.ts ${reason}\n`);

const tone: PlayRequest = {
  spec: { kind: 'sine', frequencyHz: 997, levelDbfs: -12, durationSeconds: 60 },
  channels: 'left',
  description: '997 Hz',
};

/** What the player really puts out, recorded from the sound server that the browser plays into. */
describe.skipIf(reason !== null)('through a sound server', () => {
  let served: ServedPage;
  let loop: PulseLoop;
  let browser: Browser;
  let page: Page;
  const pageErrors: string[] = [];

  beforeAll(async () => {
    served = await serveFixture('player');
    loop = await startPulseLoop({ rateHz: RATE_HZ, sinks: ['first', 'second'], inputFrom: 'second' });
    browser = await launchBrowser(loop.env);
  });

  afterAll(async () => {
    await browser?.close();
    await loop?.stop();
    await served?.close();
  });

  beforeEach(async () => {
    page = await openPage(browser, served.url, pageErrors);
  });

  afterEach(async () => {
    await page.close();
    expect(pageErrors.splice(0)).toEqual([]);
  });

  const play = (request: PlayRequest) => page.evaluate((asked) => playerHooks.play(asked), request);
  const state = () => page.evaluate(() => playerHooks.getState());
  /** Until what the browser and the server had already buffered has been played out. */
  const emptied = () => new Promise((resolve) => setTimeout(resolve, 600));
  /** Loudest tenth of a second in what `sink` carries from now on, dBFS. */
  const loudness = async (sink: string, seconds = 1) => {
    const [left, right] = await loop.record(sink, seconds);
    return Math.max(loudestPart(left, RATE_HZ), loudestPart(right, RATE_HZ));
  };

  test('level and frequency are right, on the left, the right and both', async () => {
    for (const channels of ['left', 'right', 'both'] as const) {
      const playing = await play({ ...tone, channels });
      const [left, right] = await loop.record('first', 3);
      for (const [side, samples] of [
        ['left', left],
        ['right', right],
      ] as const) {
        if (channels !== 'both' && channels !== side) {
          expect(loudestPart(samples.subarray(1.5 * RATE_HZ), RATE_HZ)).toBeLessThan(-140);
          continue;
        }
        const { levelDbfs, frequencyHz } = settledSine(samples, 997, RATE_HZ);
        // Float samples at one rate throughout: nothing on the way may change them.
        expect(Math.abs(levelDbfs - -12)).toBeLessThan(0.001);
        expect(Math.abs(frequencyHz - playing!.actualHz!)).toBeLessThan(0.001);
      }
    }
  });

  test('another tone waits until the one before is silent, so that they are never added', async () => {
    await play({ ...tone, spec: { ...tone.spec, levelDbfs: -4 } as PlayRequest['spec'] });
    const recording = loop.record('first', 4);
    await new Promise((resolve) => setTimeout(resolve, 700));
    await play({
      ...tone,
      spec: { kind: 'sine', frequencyHz: 1511, levelDbfs: -4, durationSeconds: 60 },
    });
    const [left] = await recording;
    // Overlapping they would reach 2 * 10^(-4/20) = 1.26.
    expect(left.reduce((highest, sample) => Math.max(highest, sample), 0)).toBeLessThan(
      10 ** (-4 / 20) + 0.001,
    );
    expect(Math.abs(settledSine(left, 1511, RATE_HZ).levelDbfs - -4)).toBeLessThan(0.001);
    expect(await state()).toMatchObject({ phase: 'playing', playing: { description: '997 Hz' } });
  });

  test('of several wishes at once the last one is played', async () => {
    const answers = await page.evaluate((asked) => {
      const wishes = [1, 2, 3].map((n) => playerHooks.play({ ...asked, description: `wish ${n}` }));
      return Promise.all(wishes);
    }, tone);
    expect(answers.map((answer) => answer?.description ?? null)).toEqual([null, null, 'wish 3']);
    expect(await loudness('first')).toBeGreaterThan(-12.1);
    await page.evaluate((asked) => Promise.all([playerHooks.play(asked), playerHooks.stop()]), tone);
    await emptied();
    expect(await loudness('first')).toBeLessThan(-140);
    expect((await state()).phase).toBe('silent');
  });

  test('falls silent when a device comes or goes, and says why', async () => {
    await play(tone);
    expect(await loudness('first')).toBeGreaterThan(-12.1);
    await page.evaluate(() => playerHooks.announceDeviceChange());
    await emptied();
    expect(await loudness('first', 0.5)).toBeLessThan(-140);
    expect(await state()).toMatchObject({ phase: 'silent', ended: 'devices-changed' });
  });

  test('a context put to sleep ends the tone; waking it does not bring the tone back', async () => {
    await play(tone);
    await page.evaluate(() => playerHooks.suspendContext());
    expect(await state()).toMatchObject({ phase: 'silent', ended: 'interrupted' });
    await page.evaluate(() => playerHooks.resumeContext());
    expect(await loudness('first', 0.5)).toBeLessThan(-140);
  });

  test('plays through the output that was chosen', async () => {
    const outputs = await page.evaluate(() => playerHooks.outputs());
    const second = outputs.find((output) => output.label.includes('second'));
    expect(second).toBeDefined();
    await play(tone);
    await page.evaluate((id) => playerHooks.setOutput(id), second!.deviceId);
    expect(await state()).toMatchObject({ phase: 'silent', outputId: second!.deviceId });
    await play(tone);
    await emptied();
    const [first, other] = await Promise.all([loudness('first'), loudness('second')]);
    expect(first).toBeLessThan(-140);
    expect(other).toBeGreaterThan(-12.1);
    const refused = page.evaluate(() => playerHooks.setOutput('no such output'));
    await expect(refused).rejects.toThrow(/cannot be used .*: choose another one/);
    expect(await state()).toMatchObject({ outputId: second!.deviceId });
  });
});
