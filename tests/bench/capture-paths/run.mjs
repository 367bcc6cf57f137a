/**
 * Measures what each capture path loses, in the samples themselves.
 *
 *   node tests/bench/capture-paths/run.mjs [--minutes 30] [--out FILE.json] [--pulse] [--rate HZ]
 *
 * Without --pulse: Chromium's fake device plays the numbered WAV at 44.1 kHz.
 * With it: a private PulseAudio server loops the same signal, at 48 kHz unless
 * --rate says otherwise, into an input that the browser opens like a sound card.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:http';
import { cpus, loadavg, tmpdir } from 'node:os';
import { extname, join, normalize } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { chromium } from 'playwright-core';
import { COUNTS_PER_SECOND, numberedWav } from './numbered-wav.mjs';
import { LOOP_LABEL, startPulseLoop } from './pulse-loop.mjs';

const { values } = parseArgs({
  options: {
    minutes: { type: 'string', default: '30' },
    out: { type: 'string', default: 'capture-paths.json' },
    pulse: { type: 'boolean', default: false },
    rate: { type: 'string' },
  },
});
const TONE_HZ = 997;
const rateHz = Number(values.rate ?? (values.pulse ? 48_000 : 44_100));
const types = { '.html': 'text/html', '.js': 'text/javascript' };
const root = fileURLToPath(new URL('./page/', import.meta.url));

const server = createServer((request, response) => {
  const path = normalize(new URL(request.url, 'http://localhost').pathname);
  const name = path === '/' ? 'index.html' : path.slice(1);
  try {
    const body = readFileSync(join(root, name));
    response.writeHead(200, { 'content-type': types[extname(name)] ?? 'application/octet-stream' }).end(body);
  } catch {
    response.writeHead(404).end();
  }
});
await new Promise((resolve) => server.listen(0, '127.0.0.1', resolve));

const args = ['--use-fake-ui-for-media-stream', '--no-sandbox', '--disable-gpu', '--disable-quic'];
args.push(
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
);
args.push('--autoplay-policy=no-user-gesture-required');
let loop = null;
if (values.pulse) {
  loop = await startPulseLoop({ rateHz, wav: numberedWav(rateHz, TONE_HZ).subarray(44) });
} else {
  const wav = join(mkdtempSync(join(tmpdir(), 'capture-paths-')), 'numbered.wav');
  writeFileSync(wav, numberedWav(rateHz, TONE_HZ));
  args.push('--use-fake-device-for-media-stream', `--use-file-for-fake-audio-capture=${wav}`);
}
const executablePath = process.env.CHROME_PATH ?? '/usr/bin/chromium';
const browser = await chromium.launch({
  executablePath,
  args,
  ignoreDefaultArgs: ['--mute-audio'],
  env: loop?.env ?? process.env,
});
const page = await browser.newPage();
await page.goto(`http://127.0.0.1:${server.address().port}/`);
await page.waitForFunction(() => window.ready === true);
const signal = { periodFrames: rateHz / COUNTS_PER_SECOND, rateHz, toneHz: TONE_HZ };
const opened = await page.evaluate(
  ([s, d]) => window.startPaths(s, d),
  [signal, values.pulse ? LOOP_LABEL : null],
);

const startedAt = Date.now();
const loads = [];
const minutes = Number(values.minutes);
while (Date.now() - startedAt < minutes * 60_000) {
  const left = minutes * 60_000 - (Date.now() - startedAt);
  await new Promise((resolve) => setTimeout(resolve, Math.min(60_000, left)));
  loads.push(Number(loadavg()[0].toFixed(2)));
  save(await page.evaluate(() => window.reportPaths()));
}
await browser.close();
loop?.stop();
server.close();

function save(report) {
  const result = {
    date: new Date().toISOString(),
    browser: browser.version(),
    node: process.version,
    system: spawnSync('uname', ['-sr']).stdout.toString().trim(),
    cores: cpus().length,
    minutes: (Date.now() - startedAt) / 60_000,
    oneMinuteLoads: loads,
    device: values.pulse ? 'PulseAudio null sink, remapped monitor' : 'fake device, looped WAV',
    settings: { sampleRate: opened.settings.sampleRate, channelCount: opened.settings.channelCount },
    ...report,
  };
  writeFileSync(values.out, JSON.stringify(result, null, 1));
}
