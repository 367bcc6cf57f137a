/**
 * A small page of its own for a test: built by Vite as the app is, served from
 * a folder outside the tree under the app's content policy, opened in a real browser.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type Browser, chromium, type Page } from 'playwright-core';
import { build, type PreviewServer, preview } from 'vite';
import { findBrowser } from '../../bin/browser.js';
import appConfig from '../../vite.config.ts';

/** Sound must be heard to be tested, and what a newcomer's browser fetches in the background must not. */
const FLAGS = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--autoplay-policy=no-user-gesture-required',
  '--use-fake-ui-for-media-stream',
];

/** @throws Error naming what is missing when no Chromium-family browser is found */
export async function launchBrowser(env: NodeJS.ProcessEnv, extraFlags: string[] = []): Promise<Browser> {
  const executablePath = await findBrowser();
  if (executablePath === null) {
    throw new Error('No Chromium-family browser was found: install chromium, or name one in CHROME_PATH.');
  }
  return chromium.launch({
    executablePath,
    env: env as Record<string, string>,
    args: [...FLAGS, ...extraFlags],
    // Headless browsers are muted unless told otherwise.
    ignoreDefaultArgs: ['--mute-audio'],
  });
}

export interface ServedPage {
  url: string;
  close(): Promise<void>;
}

/** Builds tests/browser/fixtures/`name` and serves it on a free port of this machine. */
export async function serveFixture(name: string): Promise<ServedPage> {
  const outDir = mkdtempSync(join(tmpdir(), `kneepoint-${name}-`));
  const root = fileURLToPath(new URL(`./fixtures/${name}`, import.meta.url));
  const clear = () => rmSync(outDir, { recursive: true, force: true });
  try {
    await build({
      ...appConfig,
      configFile: false,
      root,
      logLevel: 'warn',
      build: { ...appConfig.build, outDir, emptyOutDir: true },
    });
  } catch (error) {
    clear();
    throw error;
  }
  return serveBuilt(outDir, clear);
}

/** Serves an already built page, such as dist/app, with the app's own headers. */
export async function serveBuilt(outDir: string, whenClosed: () => void = () => {}): Promise<ServedPage> {
  const server: PreviewServer = await preview({
    ...appConfig,
    configFile: false,
    root: tmpdir(),
    logLevel: 'warn',
    build: { outDir },
    preview: { ...appConfig.preview, port: 0, host: '127.0.0.1' },
  });
  const { port } = server.httpServer.address() as AddressInfo;
  return {
    url: `http://127.0.0.1:${port}/`,
    async close() {
      await server.close();
      whenClosed();
    },
  };
}

/** A page at `url`; an error inside it is an error of the test. */
export async function openPage(browser: Browser, url: string, errors: string[]): Promise<Page> {
  const page = await browser.newPage();
  page.on('pageerror', (error) => errors.push(error.message));
  await page.goto(url);
  return page;
}
