// The programs that tests check against, and the browser they drive.
import { spawnSync } from 'node:child_process';
import { findBrowser, findCommand } from './browser.js';
import { root } from './install.js';

/** Whether this Python can import scipy. */
function hasScipy(python) {
  return spawnSync(python, ['-c', 'import scipy'], { stdio: 'ignore' }).status === 0;
}

/** Each program with the Debian package that brings it. */
const wanted = [
  { name: 'sox', packageName: 'sox', isThere: () => findCommand('sox') !== null },
  { name: 'ffmpeg', packageName: 'ffmpeg', isThere: () => findCommand('ffmpeg') !== null },
  {
    name: 'pulseaudio',
    packageName: 'pulseaudio pulseaudio-utils',
    isThere: () => findCommand('pulseaudio') !== null && findCommand('parec') !== null,
  },
  { name: 'pdftotext', packageName: 'poppler-utils', isThere: () => findCommand('pdftotext') !== null },
  {
    name: 'Python with scipy',
    packageName: 'python3-scipy',
    isThere: () => hasScipy('/usr/bin/python3') || hasScipy('python3'),
  },
];

function canUseApt() {
  return process.getuid?.() === 0 && findCommand('apt-get') !== null;
}

function apt(args) {
  const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
  return spawnSync('apt-get', args, { stdio: ['ignore', 2, 2], env }).status === 0;
}

/** Installs Debian packages as root; says so when that fails. */
function aptInstall(names) {
  console.error(`Installing ${names.join(', ')} (apt-get) …`);
  if (!apt(['update', '-qq']) || !apt(['install', '-y', '-qq', '--no-install-recommends', ...names])) {
    console.error('apt-get could not install all of them: see its messages above.');
  }
}

async function ensureBrowser() {
  if (await findBrowser()) return;
  if (canUseApt()) aptInstall(['chromium']);
  if (await findBrowser()) return;
  console.error('Fetching a browser for the tests (playwright-core install chromium) …');
  spawnSync(process.execPath, ['node_modules/playwright-core/cli.js', 'install', 'chromium'], {
    cwd: root,
    stdio: ['ignore', 2, 2],
  });
}

/**
 * Brings what can be brought. Returns the names of programs still missing:
 * tests that need one say so and are skipped, or fail where CI is set.
 */
export async function ensureTestPrograms() {
  const missing = wanted.filter((program) => !program.isThere());
  if (missing.length > 0 && canUseApt()) {
    aptInstall(missing.flatMap((program) => program.packageName.split(' ')));
  }
  await ensureBrowser();
  const absent = wanted.filter((program) => !program.isThere()).map((program) => program.name);
  if (!(await findBrowser())) absent.push('a Chromium-family browser (set CHROME_PATH)');
  return absent;
}
