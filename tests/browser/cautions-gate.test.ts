/** Nothing loud before the cautions have been read: on a real input the gate stands before the first tone. */
import { expect, it } from 'vitest';
import { launchApp } from './launch.ts';

it('keeps the tone silent until the cautions are confirmed, once per session', async () => {
  const app = await launchApp({ viewport: { width: 360, height: 740 } });
  const { page } = app;
  const play = page.getByRole('button', { name: /^Play it from this device/ });
  const confirm = page.getByRole('button', { name: 'I have read this' });
  try {
    await page.getByRole('button', { name: /^Front pair/ }).click();
    await page.getByRole('navigation').getByRole('button', { name: /^Gain/ }).click();
    await page.getByRole('region', { name: 'Before the tone plays' }).waitFor();
    expect(await play.isDisabled()).toBe(true);
    // The way on is in sight without scrolling.
    const stripTop = (await page.getByRole('contentinfo').boundingBox())?.y ?? 0;
    const box = await confirm.boundingBox();
    expect((box?.y ?? 0) + (box?.height ?? Infinity)).toBeLessThanOrEqual(stripTop);

    await confirm.click();
    await play.click();
    const stop = page.getByRole('button', { name: 'Stop the tone' });
    await stop.waitFor();
    await stop.click();
    await play.waitFor();

    await page.reload();
    await play.waitFor();
    expect(await confirm.count()).toBe(0);
    expect(await play.isDisabled()).toBe(false);
    expect(app.errors).toEqual([]);
  } finally {
    await app.close();
  }
});
