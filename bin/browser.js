// Finds a Chromium-family browser on this system, for the browser tests.
import { accessSync, constants, existsSync } from 'node:fs';
import { delimiter, join } from 'node:path';

const commands = [
  'chromium',
  'chromium-browser',
  'google-chrome-stable',
  'google-chrome',
  'microsoft-edge',
  'brave-browser',
];
const programs = {
  darwin: [
    '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
    '/Applications/Chromium.app/Contents/MacOS/Chromium',
    '/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge',
  ],
  win32: ['PROGRAMFILES', 'PROGRAMFILES(X86)', 'LOCALAPPDATA'].flatMap((name) => [
    join(process.env[name] ?? '', 'Google', 'Chrome', 'Application', 'chrome.exe'),
    join(process.env[name] ?? '', 'Microsoft', 'Edge', 'Application', 'msedge.exe'),
  ]),
};

/** Full path of a command on PATH, or `null`. */
export function findCommand(name) {
  for (const folder of (process.env.PATH ?? '').split(delimiter)) {
    const path = join(folder, name);
    try {
      accessSync(path, constants.X_OK);
      return path;
    } catch (error) {
      if (error.code !== 'ENOENT' && error.code !== 'EACCES' && error.code !== 'ENOTDIR') throw error;
    }
  }
  return null;
}

/** CHROME_PATH, then a system browser, then the one Playwright keeps; `null` if there is none. */
export async function findBrowser() {
  const named = process.env.CHROME_PATH;
  if (named) {
    if (!existsSync(named)) throw new Error(`CHROME_PATH names "${named}", which does not exist.`);
    return named;
  }
  for (const path of programs[process.platform] ?? []) if (existsSync(path)) return path;
  for (const name of commands) {
    const path = findCommand(name);
    if (path) return path;
  }
  const { chromium } = await import('playwright-core');
  return existsSync(chromium.executablePath()) ? chromium.executablePath() : null;
}
