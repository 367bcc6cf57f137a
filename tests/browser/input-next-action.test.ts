/** One main action at a time on the Input station, whichever source is chosen. */
import { expect, it } from 'vitest';
import { launchApp } from './launch.ts';
import { figureWhen } from './page-figures.ts';

it('offers the switch only where another source is chosen, and leads on to a gain where a volt is known', async () => {
  const app = await launchApp({ rig: true });
  try {
    const { page } = app;
    await figureWhen(page, 'levelVolts', 'valid');
    await page.getByRole('button', { name: /^Input:/ }).click();
    const change = page.getByRole('button', { name: 'Switch to this source' });
    const onwards = page.getByRole('button', { name: 'Set a gain' });
    await onwards.waitFor();
    expect(await change.count()).toBe(0);
    await page.getByText('Source: Practice rig').click();
    await page.getByRole('radio', { name: 'WAV file' }).check();
    await change.waitFor();
    expect(await change.isDisabled()).toBe(true);
    expect(await onwards.count()).toBe(0);
    await page.getByRole('radio', { name: 'Practice rig' }).check();
    await onwards.click();
    await page.getByRole('heading', { name: /^Gain/ }).waitFor();
    expect(app.errors).toEqual([]);
  } finally {
    await app.close();
  }
});
