/** First light: a WAV file as microphone, through the browser's real capture path, to the figures on the page. */
import type { Page } from 'playwright-core';
import { expect, it } from 'vitest';
import { launchApp } from './launch.ts';
import { clippedSine, clippedThdPercent, levelDbfsOf, seamlessWav, second, TONE_HZ } from './seamless-wav.ts';

type Figure = { value: string; state: string };
type Figures = Record<'levelDbfs' | 'frequencyHz' | 'thdPercent' | 'clipping', Figure>;

/** All four in one look, so that they are of one reading. */
async function readFigures(page: Page): Promise<Figures> {
  return page.evaluate(() => {
    const figure = (name: string) => {
      const output = document.querySelector<HTMLOutputElement>(`output[data-reading="${name}"]`);
      return { value: output?.dataset.value ?? '', state: output?.dataset.state ?? 'not on the page' };
    };
    return {
      levelDbfs: figure('levelDbfs'),
      frequencyHz: figure('frequencyHz'),
      thdPercent: figure('thdPercent'),
      clipping: figure('clipping'),
    };
  });
}

/** Presses Listen and waits until the level's state is one of `states`. */
async function listenUntil(page: Page, states: string[]): Promise<Figures> {
  await page.getByRole('button', { name: 'Listen', exact: true }).click();
  await page.waitForFunction(
    (wanted) => {
      const output = document.querySelector<HTMLOutputElement>('output[data-reading="levelDbfs"]');
      return wanted.includes(output?.dataset.state ?? '');
    },
    states,
    { timeout: 30_000 },
  );
  return readFigures(page);
}

async function withMicrophone<T>(samples: Float32Array, use: (page: Page) => Promise<T>): Promise<T> {
  const app = await launchApp({ wav: seamlessWav(samples) });
  try {
    const result = await use(app.page);
    expect(app.errors).toEqual([]);
    return result;
  } finally {
    await app.close();
  }
}

it('reads a clean tone: level, frequency, and that it is clean', async () => {
  const tone = second((phase) => 0.35 * Math.sin(phase));
  const figures = await withMicrophone(tone, (page) => listenUntil(page, ['valid']));
  expect(figures.levelDbfs.state).toBe('valid');
  expect(Math.abs(Number(figures.levelDbfs.value) - levelDbfsOf(tone))).toBeLessThan(0.02);
  expect(Math.abs(Number(figures.frequencyHz.value) - TONE_HZ)).toBeLessThan(0.01);
  // Float32 samples, matched rates: the path was measured bit-exact, so what is left is the fit's own floor.
  expect(figures.thdPercent.value).not.toBe('');
  expect(Number(figures.thdPercent.value)).toBeLessThan(0.001);
  expect(figures.clipping.value).toBe('clean');
});

it.each([1, 3])(
  'reads a sine driven %i dB past a limiter: THD as the closed form has it, and clipped',
  async (overdriveDb) => {
    const clipped = clippedSine(overdriveDb, 0.4);
    const figures = await withMicrophone(clipped, (page) => listenUntil(page, ['valid']));
    expect(figures.clipping.value).toBe('clipped');
    const closedForm = clippedThdPercent(overdriveDb, 20_000);
    expect(Math.abs(Number(figures.thdPercent.value) / closedForm - 1)).toBeLessThan(0.01);
    expect(Math.abs(Number(figures.levelDbfs.value) - levelDbfsOf(clipped))).toBeLessThan(0.02);
    expect(Math.abs(Number(figures.frequencyHz.value) - TONE_HZ)).toBeLessThan(0.01);
  },
);

it('says that its own input is overloaded when the file hits full scale', async () => {
  const overloaded = second((phase) => Math.max(-1, Math.min(1, 1.3 * Math.sin(phase))));
  const figures = await withMicrophone(overloaded, (page) => listenUntil(page, ['input-overload']));
  expect(figures.clipping.value).toBe('input-overload');
});
