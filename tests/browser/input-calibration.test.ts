/** A newcomer's own input: listen, type what the multimeter shows, and every level is worth volts from then on. */
import { expect, it } from 'vitest';
import { launchApp } from './launch.ts';
import { figureOf, figureWhen } from './page-figures.ts';
import { levelDbfsOf, seamlessWav, second } from './seamless-wav.ts';

it('calibrates the microphone against a multimeter, and knows the input again after a reload', async () => {
  const tone = second((phase) => 0.25 * Math.sin(phase));
  const app = await launchApp({ wav: seamlessWav(tone) });
  const { page } = app;
  try {
    const input = page.getByRole('navigation').getByRole('button', { name: /^Input/ });
    await input.click();
    await page.getByRole('button', { name: 'Listen', exact: true }).click();
    await figureWhen(page, 'levelDbfs', 'valid');
    expect((await figureOf(page, 'levelVolts')).state).toBe('not-calibrated');

    await page.getByRole('textbox', { name: 'The multimeter shows, V' }).fill('1.234');
    await page.getByRole('button', { name: 'Calibrate with these volts' }).click();
    await page.getByText('Kept for this input.').waitFor();
    const volts = await figureWhen(page, 'levelVolts', 'valid');
    // The tone's level is steady to the last bit, so what the meter showed is what the page now shows.
    expect(Number(volts.value)).toBeCloseTo(1.234, 4);
    const perFullScale = 1.234 / 10 ** (levelDbfsOf(tone) / 20);
    const shown = await page.locator('.input-station .target-volts').textContent();
    expect(Number(/[\d.]+/.exec(shown ?? '')?.[0])).toBeCloseTo(perFullScale, 2);
    // 1 % of 1.234 V and three counts of 1 mV, rectangular, times two: (12.34 + 3) / 1.234 / sqrt(3) * 2 = 1.44 %.
    expect(shown).toContain('±1.4 %');

    await page.reload();
    await input.click();
    await page.getByRole('button', { name: 'Listen', exact: true }).click();
    const again = await figureWhen(page, 'levelVolts', 'valid');
    expect(Number(again.value)).toBeCloseTo(1.234, 4);
    expect(app.errors).toEqual([]);
  } finally {
    await app.close();
  }
});

it('plays the tone to calibrate with from this device, and stops it', async () => {
  const app = await launchApp({ wav: seamlessWav(second((phase) => 0.25 * Math.sin(phase))) });
  const { page } = app;
  try {
    await page
      .getByRole('navigation')
      .getByRole('button', { name: /^Input/ })
      .click();
    await page.getByRole('button', { name: 'Listen', exact: true }).click();
    await figureWhen(page, 'levelDbfs', 'valid');
    await page.getByText('A tone to calibrate with').click();
    const card = page.getByRole('region', { name: 'Calibration', exact: true });
    await card.getByText('Before a tone plays through an amplifier, read these').waitFor();
    await card.getByText(/play \d+-left-level\.wav of the tone set/).waitFor();
    await card.getByLabel('Played by').selectOption('this device’s output');
    await card.getByRole('button', { name: 'Play the calibration tone' }).click();
    const stop = card.getByRole('button', { name: 'Stop it', pressed: true });
    await stop.click();
    await card.getByRole('button', { name: 'Play the calibration tone', pressed: false }).waitFor();
    expect(app.errors).toEqual([]);
  } finally {
    await app.close();
  }
});
