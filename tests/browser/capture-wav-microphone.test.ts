/** First light: a WAV file as microphone, through the browser's real capture path, to the figures on the page. */
import type { Page } from 'playwright-core';
import { expect, it } from 'vitest';
import { type AppLaunch, launchApp } from './launch.ts';
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

async function withMicrophone<T>(
  samples: Float32Array,
  use: (page: Page) => Promise<T>,
  launch: AppLaunch = {},
): Promise<T> {
  const app = await launchApp({ wav: seamlessWav(samples), ...launch });
  try {
    const result = await use(app.page);
    expect(app.errors).toEqual([]);
    return result;
  } finally {
    await app.close();
  }
}

it('says that both channels are one, where the input is mono', async () => {
  await withMicrophone(
    second((phase) => 0.35 * Math.sin(phase)),
    async (page) => {
      await listenUntil(page, ['valid']);
      await page.getByRole('button', { name: /^Input/ }).click();
      await page.getByText('Both channels carry the very same signal').first().waitFor({ timeout: 10_000 });
    },
  );
});

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

it('reads the same through the audio graph, where a page may not read tracks', async () => {
  const clipped = clippedSine(2, 0.4);
  const before = () => {
    Reflect.deleteProperty(window, 'MediaStreamTrackProcessor');
    const Node = window.AudioWorkletNode;
    window.AudioWorkletNode = class extends Node {
      constructor(...made: ConstructorParameters<typeof Node>) {
        super(...made);
        document.documentElement.dataset.worklets = 'used';
      }
    };
  };
  const look = async (page: Page) => {
    const figures = await listenUntil(page, ['valid']);
    return { figures, worklets: await page.locator('html').getAttribute('data-worklets') };
  };
  const { figures, worklets } = await withMicrophone(clipped, look, { before });
  expect(worklets).toBe('used');
  expect(figures.clipping.value).toBe('clipped');
  expect(Math.abs(Number(figures.levelDbfs.value) - levelDbfsOf(clipped))).toBeLessThan(0.02);
  const closedForm = clippedThdPercent(2, 20_000);
  expect(Math.abs(Number(figures.thdPercent.value) / closedForm - 1)).toBeLessThan(0.01);
});

it('finds a hole in the sound, 64 frames of nothing once a second, and calls the reading by it', async () => {
  const holed = second((phase) => 0.35 * Math.sin(phase));
  holed.fill(0, 20_000, 20_064);
  const seen = await withMicrophone(holed, async (page) => {
    await listenUntil(page, ['valid']);
    // The hole comes by once a second and spoils a fifth of one.
    return listenedStates(page, 3000);
  });
  expect(seen).toContain('gap');
  expect(seen).toContain('valid');
});

it('opens one microphone, though the page mounts its parts twice and Listen is pressed twice', async () => {
  const before = () => {
    const tracks: MediaStreamTrack[] = [];
    const open = navigator.mediaDevices.getUserMedia.bind(navigator.mediaDevices);
    navigator.mediaDevices.getUserMedia = async (constraints) => {
      const stream = await open(constraints);
      tracks.push(...stream.getAudioTracks());
      return stream;
    };
    Object.assign(window, { liveTracks: () => tracks.filter((track) => track.readyState === 'live').length });
  };
  const tone = second((phase) => 0.35 * Math.sin(phase));
  const live = () => (window as unknown as { liveTracks(): number }).liveTracks();
  await withMicrophone(
    tone,
    async (page) => {
      expect(await page.evaluate(live)).toBe(0);
      await page.getByRole('button', { name: 'Listen', exact: true }).dblclick();
      await page.waitForFunction(() => document.querySelector('output[data-state="valid"]') !== null);
      expect(await page.evaluate(live)).toBe(1);
    },
    { before },
  );
});

it('says that listening was refused, and how to allow it', async () => {
  const tone = second((phase) => 0.35 * Math.sin(phase));
  const args = ['--use-fake-ui-for-media-stream=deny'];
  await withMicrophone(
    tone,
    async (page) => {
      await page.getByRole('button', { name: 'Listen', exact: true }).click();
      await page.getByText('told not to let this page listen').first().waitFor({ timeout: 10_000 });
    },
    { args },
  );
});

/** Every state that the level shows within a time, each once. */
function listenedStates(page: Page, milliseconds: number): Promise<string[]> {
  return page.evaluate(async (time) => {
    const output = document.querySelector<HTMLOutputElement>('output[data-reading="levelDbfs"]');
    const seen = new Set<string>();
    const until = performance.now() + time;
    while (performance.now() < until) {
      seen.add(output?.dataset.state ?? 'not on the page');
      await new Promise((resolve) => setTimeout(resolve, 10));
    }
    return [...seen];
  }, milliseconds);
}
