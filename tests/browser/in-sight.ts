import type { Locator } from 'playwright-core';
import { expect } from 'vitest';

/** On the first screen: above the input strip once the page is at its top, which is where it is put. */
export async function expectInSight(part: Locator): Promise<void> {
  const page = part.page();
  await page.evaluate(() => scrollTo(0, 0));
  const strip = await page.getByRole('contentinfo').boundingBox();
  const box = await part.boundingBox();
  if (strip === null || box === null) throw new Error(`${part} is not on the page, or the strip is not.`);
  expect(box.y).toBeGreaterThanOrEqual(0);
  expect(box.y + box.height, `${part}`).toBeLessThanOrEqual(strip.y);
}
