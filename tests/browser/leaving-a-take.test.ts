/** A station that is left in the middle of a recording takes its sound with it, and no other station's. */
import { expect, it } from 'vitest';
import { launchApp } from './launch.ts';
import { restingFigure } from './page-figures.ts';

it('the next station’s tone plays on, and nothing is accepted while a recording is under way', async () => {
  const app = await launchApp({ rig: true, viewport: { width: 1280, height: 800 } });
  try {
    const { page } = app;
    const before = await restingFigure(page, 'levelVolts');
    // What was read before a pause is not what is there now.
    await page.getByRole('button', { name: 'Pause' }).click();
    await page.getByText('Nothing is heard: press Resume in the strip below first.').first().waitFor();
    expect(await page.getByRole('button', { name: /^Accept/ }).getAttribute('aria-disabled')).toBe('true');
    await page.getByRole('button', { name: 'Resume' }).click();
    await restingFigure(page, 'levelVolts');
    await page.getByRole('button', { name: /^Quiet:/ }).click();
    await page.getByRole('button', { name: 'Record with the engine off' }).click();
    const accept = page.getByRole('button', { name: 'Accept what was measured' });
    await page.getByRole('button', { name: 'Record with the engine idling' }).waitFor({ timeout: 30_000 });
    expect(await accept.getAttribute('aria-disabled')).toBe('false');
    await accept.click();
    await page.getByRole('button', { name: 'Accept it anyway' }).click();
    const onceMore = page.getByRole('button', { name: 'Record it once more' });
    await onceMore.waitFor();
    expect(await onceMore.getAttribute('aria-disabled')).toBe('false');
    await page.getByRole('button', { name: 'Record with the engine idling' }).click();
    await page.getByRole('button', { name: /^Recording/ }).waitFor();
    expect(await onceMore.getAttribute('aria-disabled')).toBe('true');
    // Once it has been read, what stands there is no record yet.
    await page.getByRole('button', { name: 'Record with the engine revved' }).waitFor({ timeout: 30_000 });
    expect(await accept.getAttribute('aria-disabled')).toBe('false');
    await page.getByRole('button', { name: 'Record with the engine revved' }).click();
    await page.getByRole('button', { name: /^Recording/ }).waitFor();
    expect(await accept.getAttribute('aria-disabled')).toBe('true');

    await page.getByRole('button', { name: /^Crossover:/ }).click();
    await page.getByRole('button', { name: 'Take the reference' }).click();
    // Before the sweep has begun to sound, and long before it would have ended.
    await page.getByRole('button', { name: /^Gain,|^Gain:/ }).click();
    await restingFigure(page, 'levelVolts');
    // The sweep and the silence around it would be over by then.
    await page.waitForTimeout(6000);
    const after = await restingFigure(page, 'levelVolts');
    expect(20 * Math.log10(after / before)).toBeCloseTo(0, 2);
    expect(app.errors).toEqual([]);
  } finally {
    await app.close();
  }
});
