/**
 * Opens the built app in a real browser, with a WAV file as its microphone
 * where a test wants one. The fake device is a switch of the browser itself,
 * so each file needs a launch of its own.
 */
import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { launchBrowser, type ServedPage, serveBuilt } from './fixture-page.ts';

export interface AppLaunch {
  /** Absolute path of the file that the microphone plays over and over; see `seamlessWav`. */
  wav?: string;
  /** Opens the demo job on the practice rig. */
  rig?: boolean;
  /** How many times as fast as a vehicle the rig runs; 1 where left out. */
  pace?: number;
  viewport?: { width: number; height: number };
  colorScheme?: 'light' | 'dark';
  /** Further switches of the browser. */
  args?: string[];
  /** Runs in the page before the app does. */
  before?: () => void;
}

export interface RunningApp {
  page: Page;
  url: string;
  /** Errors that the page threw, for a test to hold against an empty list. */
  errors: string[];
  close(): Promise<void>;
}

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const APP = join(ROOT, 'dist', 'app');
/** A launch that has not shown the app by then hangs: one in thirty was seen to. */
const LAUNCH_MS = 30_000;

/** @throws Error when the app does not build, no browser is found, or two launches in a row do not show the app */
export async function launchApp(launch: AppLaunch = {}): Promise<RunningApp> {
  buildIfStale();
  const served = await serveBuilt(APP);
  try {
    return await open(served, launch);
  } catch (first) {
    try {
      return await open(served, launch);
    } catch (second) {
      await served.close();
      throw new AggregateError([first, second], `The app did not open, twice: ${String(second)}`);
    }
  }
}

async function open(served: ServedPage, launch: AppLaunch): Promise<RunningApp> {
  const browser = await launchBrowser(process.env, flagsFor(launch));
  try {
    const page = await newPage(browser, launch);
    const errors: string[] = [];
    page.on('pageerror', (error) => errors.push(error.message));
    const pace = launch.pace === undefined ? '' : `&pace=${launch.pace}`;
    const url = launch.rig ? `${served.url}?rig=demo${pace}` : served.url;
    await page.goto(url, { timeout: LAUNCH_MS });
    await page.getByRole('main').waitFor({ timeout: LAUNCH_MS });
    const close = async () => {
      await browser.close();
      await served.close();
    };
    return { page, url, errors, close };
  } catch (error) {
    await browser.close();
    throw error;
  }
}

async function newPage(browser: Browser, { viewport, colorScheme, before }: AppLaunch): Promise<Page> {
  const context = await browser.newContext({
    ...(viewport ? { viewport } : {}),
    ...(colorScheme ? { colorScheme } : {}),
  });
  const page = await context.newPage();
  if (before) await page.addInitScript(before);
  return page;
}

function flagsFor({ wav, args = [] }: AppLaunch): string[] {
  if (wav === undefined) return args;
  return ['--use-fake-device-for-media-stream', `--use-file-for-fake-audio-capture=${wav}`, ...args];
}

/** `npm test` builds first; a test run by itself must not judge yesterday's app. */
function buildIfStale(): void {
  const built = join(APP, 'index.html');
  const sources = [join(ROOT, 'src'), join(ROOT, 'shared'), join(ROOT, 'vite.config.ts')];
  if (existsSync(built) && statSync(built).mtimeMs >= Math.max(...sources.map(newest))) return;
  const vite = join(ROOT, 'node_modules', 'vite', 'bin', 'vite.js');
  const { status, stderr } = spawnSync(process.execPath, [vite, 'build', '--logLevel', 'warn'], {
    cwd: ROOT,
    // Vitest says "test", which would build React's development version: not what users get.
    env: { ...process.env, NODE_ENV: 'production' },
  });
  if (status !== 0) throw new Error(`The app does not build: ${stderr}`);
}

function newest(path: string): number {
  const found = statSync(path);
  if (!found.isDirectory()) return found.mtimeMs;
  return Math.max(found.mtimeMs, ...readdirSync(path).map((name) => newest(join(path, name))));
}
