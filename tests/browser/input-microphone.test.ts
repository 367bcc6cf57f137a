/** A microphone's calibration file and an acoustic calibrator on it, on screen and through a reload. */
import type { Page } from 'playwright-core';
import { expect, it } from 'vitest';
import { launchApp } from './launch.ts';
import { figureWhen } from './page-figures.ts';
import { levelDbfsOf, seamlessWav, second } from './seamless-wav.ts';

/** An invented microphone that reads 2 dB high from 900 Hz to 1100 Hz and is right elsewhere. */
const SEAT = ['* seat microphone 7', 'Hz\tdB\tphase', '20\t0\t1', '900\t2\t1', '1100\t2\t1', '16000\t0\t1'];

function textFile(name: string, lines: string[]) {
  return { name, mimeType: 'text/plain', buffer: Buffer.from(lines.join('\r\n')) };
}

async function openMicrophone(page: Page): Promise<void> {
  await page
    .getByRole('navigation', { name: 'Signal path' })
    .getByRole('button', { name: /^Input/ })
    .click();
  await page.getByRole('button', { name: 'Listen', exact: true }).click();
  await figureWhen(page, 'levelDbfs', 'valid');
  await page.getByRole('heading', { name: 'Microphone' }).click();
}

it('takes a file in, refuses another by line, turns it over, and knows it again after a reload', async () => {
  const app = await launchApp({ wav: seamlessWav(second((phase) => 0.1 * Math.sin(phase))) });
  const { page } = app;
  const part = page.getByRole('region', { name: /^Calibration file/ });
  try {
    await openMicrophone(page);
    await part.getByLabel('Text file of two columns, Hz and dB').setInputFiles(textFile('seat.txt', SEAT));
    await part.getByText('Kept for this input: 4 points.').waitFor();
    const said = await part.getByRole('status').textContent();
    expect(said).toContain('its first line of words, “Hz dB phase”');
    expect(said).toContain('the columns beyond the second');
    await part.getByText('4 points from 20 Hz to 16000 Hz: it reads between 0.0 and +2.0 dB off').waitFor();

    const wrong = textFile('door.txt', ['20 0', '100 1', '50 2']);
    await part.getByLabel('Another file, in its place').setInputFiles(wrong);
    await part.getByText('door.txt: Line 3 has 50 Hz after 100 Hz; frequencies must rise').waitFor();
    await part.getByRole('heading', { name: 'Calibration file: seat.txt' }).waitFor();

    await part.getByLabel('Its second column holds').selectOption('what is to be added');
    await part.getByText('it reads between −2.0 and 0.0 dB off').waitFor();
    await page.reload();
    await openMicrophone(page);
    await part.getByText('it reads between −2.0 and 0.0 dB off').waitFor();

    await part.getByRole('button', { name: 'Use no file' }).click();
    await part.getByRole('heading', { name: 'Calibration file', exact: true }).waitFor();
    expect(app.errors).toEqual([]);
  } finally {
    await app.close();
  }
});

it('makes decibels of sound pressure of a calibrator’s tone, and shows levels in them', async () => {
  const tone = second((phase) => 0.1 * Math.sin(phase));
  const app = await launchApp({ wav: seamlessWav(tone), viewport: { width: 360, height: 740 } });
  const { page } = app;
  const part = page.getByRole('region', { name: 'Acoustic calibrator' });
  const measure = part.getByRole('button', { name: 'Measure with the calibrator on' });
  try {
    await openMicrophone(page);
    await part.getByText('Never hold a calibrator to an ear.').waitFor();
    // The tone is at 997 Hz: a calibrator's 1 kHz, and none of 250 Hz.
    await part.getByLabel('Its frequency').selectOption('250 Hz');
    await measure.click();
    await part.getByText('No steady tone of 250 Hz was heard').waitFor();
    await part.getByLabel('Its frequency').selectOption('1 kHz');
    for (const placement of ['Placement 1', 'Placement 2']) {
      await measure.click();
      await part.getByText(`${placement}: −20.00 dBFS`).waitFor();
    }
    // 94 dB at -20 dBFS. Class 2 and two placements alike: hypot(0.75 / sqrt 3, 0.1 / sqrt 2) = 0.44, twice that 0.88.
    await part.getByText('114.0 dB SPL ±0.9 dB').waitFor();
    await part.getByRole('button', { name: 'Keep this scale' }).click();
    await part.getByText('Kept for this input.').waitFor();
    const level = await figureWhen(page, 'levelSplDb', 'valid');
    // Level of whole cycles to the last bit of float32; the reading averages the same wave.
    expect(Number(level.value)).toBeCloseTo(levelDbfsOf(tone) + 114, 2);

    await page.reload();
    await openMicrophone(page);
    expect(Number((await figureWhen(page, 'levelSplDb', 'valid')).value)).toBeCloseTo(94, 2);
    const sideways = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
    expect(sideways).toBe(0);
    expect(app.errors).toEqual([]);
  } finally {
    await app.close();
  }
});
