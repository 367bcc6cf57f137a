/** Hands that never leave the keyboard: nothing is clicked, focused or filled in by the test itself. */
import type { Page } from 'playwright-core';

/** More than any screen has. */
const MOST_TABS = 160;

/** What a screen reader would call the focused element, near enough to tell one from the other. */
function focusedName(page: Page): Promise<string> {
  return page.evaluate(() => {
    const element = document.activeElement as HTMLElement | null;
    if (element === null || element === document.body) return '';
    const labels = 'labels' in element ? [...((element as HTMLInputElement).labels ?? [])] : [];
    const own = element.getAttribute('aria-label') ?? element.getAttribute('aria-labelledby');
    const by =
      own !== null && document.getElementById(own) !== null ? document.getElementById(own)?.textContent : own;
    return (by ?? labels[0]?.textContent ?? element.textContent ?? '').replace(/\s+/g, ' ').trim();
  });
}

/** Goes on with Tab until the focus stands on what is named. @throws Error where a whole round does not meet it */
export async function tabTo(page: Page, name: RegExp): Promise<void> {
  const seen: string[] = [];
  for (let tab = 0; tab < MOST_TABS; tab += 1) {
    const focused = await focusedName(page);
    if (name.test(focused)) return;
    seen.push(focused.slice(0, 40));
    await page.keyboard.press('Tab');
  }
  throw new Error(`The Tab key never reached ${name}; it met ${[...new Set(seen)].join(' | ')}`);
}

export async function press(page: Page, name: RegExp, key = 'Enter'): Promise<void> {
  await tabTo(page, name);
  await page.keyboard.press(key);
}
