import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, expect, test } from 'vitest';
import type { PlayRequest } from '../../src/audio/playback/player-state.ts';
import { renderTone } from '../../src/dsp/tones/render-tone.ts';
import { launchBrowser, openPage, type ServedPage, serveFixture } from './fixture-page.ts';
import type { OfflineResult, OfflineRun, PlayerHooks } from './fixtures/player/main.ts';

declare const playerHooks: PlayerHooks;

let served: ServedPage;
let browser: Browser;
let page: Page;
const pageErrors: string[] = [];

beforeAll(async () => {
  served = await serveFixture('player');
  browser = await launchBrowser(process.env);
  page = await openPage(browser, served.url, pageErrors);
});

afterAll(async () => {
  await browser?.close();
  await served?.close();
});

afterEach(() => {
  expect(pageErrors.splice(0)).toEqual([]);
});

const render = (run: OfflineRun): Promise<OfflineResult> =>
  page.evaluate((asked) => playerHooks.renderOffline(asked), run);

const sine = (frequencyHz: number, levelDbfs: number, channels: PlayRequest['channels']): PlayRequest => ({
  spec: { kind: 'sine', frequencyHz, levelDbfs, durationSeconds: 60 },
  channels,
  description: 'under test',
});

/** Least-squares sine at a known frequency: level in dB against a full-scale sine, and what is left over. */
function fitted(samples: number[], hz: number, sampleRateHz: number): { levelDbfs: number; restDb: number } {
  let cc = 0;
  let cs = 0;
  let ss = 0;
  let xc = 0;
  let xs = 0;
  let xx = 0;
  samples.forEach((x, n) => {
    const c = Math.cos((2 * Math.PI * hz * n) / sampleRateHz);
    const s = Math.sin((2 * Math.PI * hz * n) / sampleRateHz);
    cc += c * c;
    cs += c * s;
    ss += s * s;
    xc += x * c;
    xs += x * s;
    xx += x * x;
  });
  const determinant = cc * ss - cs * cs;
  const a = (xc * ss - xs * cs) / determinant;
  const b = (xs * cc - xc * cs) / determinant;
  const rest = Math.max(xx - a * xc - b * xs, 1e-30);
  return { levelDbfs: 20 * Math.log10(Math.hypot(a, b)), restDb: 10 * Math.log10(rest / xx) };
}

const TONES = [
  { hz: 997, rate: 48_000, level: -5, channels: 'left' },
  { hz: 44, rate: 44_100, level: -8, channels: 'right' },
  // Where an OscillatorNode is 3.8 dB down (platform notes, finding 5).
  { hz: 19_003, rate: 44_100, level: -6, channels: 'both' },
] as const;

test.each(TONES)('$hz Hz at $level dBFS on $channels: level, frequency, purity and side', async (tone) => {
  const request = sine(tone.hz, tone.level, tone.channels);
  const result = await render({ sampleRateHz: tone.rate, seconds: 3, request });
  const sounding = result.channels.filter((_, index) => tone.channels !== (index === 0 ? 'right' : 'left'));
  const silent = result.channels.filter((channel) => !sounding.includes(channel));
  expect(sounding.length).toBe(tone.channels === 'both' ? 2 : 1);
  for (const channel of sounding) {
    const { levelDbfs, restDb } = fitted(channel.slice(tone.rate), result.actualHz!, tone.rate);
    // Float32 carries a sample to 2^-25 of full scale, -150 dB.
    expect(Math.abs(levelDbfs - tone.level)).toBeLessThan(0.0005);
    expect(restDb).toBeLessThan(-130);
  }
  for (const channel of silent) expect(channel.every((sample) => sample === 0)).toBe(true);
  expect(Math.abs(result.actualHz! - tone.hz)).toBeLessThan(0.01);
});

/** Largest second difference about a sine, against its peak: what a step in the envelope would leave. */
function roughness(samples: number[], hz: number, rate: number): number {
  const twiceCosine = 2 * Math.cos((2 * Math.PI * hz) / rate);
  let worst = 0;
  let peak = 0;
  for (let n = 1; n < samples.length - 1; n += 1) {
    peak = Math.max(peak, Math.abs(samples[n]!));
    worst = Math.max(worst, Math.abs(samples[n + 1]! - twiceCosine * samples[n]! + samples[n - 1]!));
  }
  return worst / peak;
}

/** Highest sample of each 10 ms. */
function envelope(samples: number[], rate: number): number[] {
  const step = rate / 100;
  return Array.from({ length: Math.floor(samples.length / step) }, (_, index) =>
    Math.max(...samples.slice(index * step, (index + 1) * step).map(Math.abs)),
  );
}

test('rises over 200 ms and stops over 20 ms, both without a click', async () => {
  const request = sine(997, -6, 'left');
  const result = await render({ sampleRateHz: 48_000, seconds: 2, request, stopAtSeconds: 1.28 });
  const samples = result.channels[0]!;
  // The fall is the steeper: 2 sin(w) * (pi/2)/960 = 4e-4 of the peak; a step of 1 % would leave 1e-2.
  expect(roughness(samples, result.actualHz!, 48_000)).toBeLessThan(0.001);
  const heights = envelope(samples, 48_000);
  const peak = 10 ** (-6 / 20);
  expect(heights[2]).toBe(0);
  // Half a cosine: a quarter of the way 0.146, half of the way 0.5; the tone starts 30 ms ahead.
  expect(heights[3 + 5]! / peak).toBeCloseTo(0.19, 1);
  expect(heights[3 + 10]! / peak).toBeCloseTo(0.56, 1);
  expect(heights[3 + 21]! / peak).toBeCloseTo(1, 3);
  // Stopped at 1.28 s: 30 ms ahead of the clock, 20 ms of fade.
  expect(heights[130]! / peak).toBeCloseTo(1, 3);
  expect(heights.slice(134).every((height) => height === 0)).toBe(true);
  expect(result.states.map((state) => state.phase)).toEqual(['starting', 'playing', 'stopping', 'silent']);
  expect(result.states.at(-1)).toMatchObject({ playing: null, ended: 'asked' });
});

test('ends by itself at its time limit, and says so', async () => {
  const request = { ...sine(997, -6, 'both'), limitSeconds: 0.5 };
  const result = await render({ sampleRateHz: 48_000, seconds: 1, request });
  const heights = envelope(result.channels[0]!, 48_000);
  expect(heights[49]).toBeGreaterThan(0.4);
  expect(heights.slice(54).every((height) => height === 0)).toBe(true);
  expect(roughness(result.channels[0]!, result.actualHz!, 48_000)).toBeLessThan(0.001);
  expect(result.states.find((state) => state.phase === 'playing')?.playing?.lastsSeconds).toBe(0.5);
  expect(result.states.at(-1)).toMatchObject({ phase: 'silent', ended: 'time-limit' });
});

test('a burst lasts a second whatever was asked, and a second one is refused while the coil rests', async () => {
  const burst = { ...sine(997, -6, 'both'), limitSeconds: 20, burst: true };
  const result = await render({ sampleRateHz: 48_000, seconds: 2, request: burst });
  const heights = envelope(result.channels[0]!, 48_000);
  expect(heights[95]).toBeGreaterThan(0.4);
  // 30 ms ahead of the clock, then a second.
  expect(heights.slice(104).every((height) => height === 0)).toBe(true);
  expect(result.states.find((state) => state.phase === 'playing')?.playing?.lastsSeconds).toBe(1);
  const again = await page.evaluate(async (request) => {
    await playerHooks.play(request);
    await playerHooks.stop();
    return playerHooks.play(request).then(
      () => 'played',
      (error: Error) => error.message,
    );
  }, burst);
  expect(again).toMatch(/^The coil rests after a burst: the next one may begin in \d+\.\d s/);
  expect(await page.evaluate(() => playerHooks.getState().phase)).toBe('silent');
});

test('a sweep comes out bit for bit as it was rendered', async () => {
  const spec = { kind: 'sweep', startHz: 20, endHz: 20_000, levelDbfs: -12, durationSeconds: 1 } as const;
  const request: PlayRequest = { spec, channels: 'right', description: 'sweep' };
  const result = await render({ sampleRateHz: 48_000, seconds: 1.5, request });
  const expected = Float32Array.from(renderTone(spec, 48_000));
  // 30 ms ahead of the clock.
  const played = Float32Array.from(result.channels[1]!.slice(1440, 1440 + expected.length));
  expect(played).toEqual(expected);
  expect(result.channels[0]!.every((sample) => sample === 0)).toBe(true);
  expect(result.states.at(-1)).toMatchObject({ phase: 'silent', ended: 'finished' });
});

test('a tone above the cap is refused until it is confirmed, and nothing sounds', async () => {
  const loud = sine(997, -1, 'left');
  const refused = page.evaluate((request) => playerHooks.play(request), loud);
  await expect(refused).rejects.toThrow(/must be -3 dBFS or lower, or confirmed/);
  expect(await page.evaluate(() => playerHooks.getState())).toMatchObject({ phase: 'silent', playing: null });
  const confirmed = await render({
    sampleRateHz: 48_000,
    seconds: 0.5,
    request: { ...sine(997, 0, 'left'), loudConfirmed: true },
  });
  const highest = Math.max(...confirmed.channels[0]!);
  expect(highest).toBeGreaterThan(0.999);
  expect(highest).toBeLessThanOrEqual(1);
});
