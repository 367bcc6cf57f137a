/** Reads the live figures that the page publishes for programs (contracts, "In the page"). */
import type { Page } from 'playwright-core';

export interface PageFigure {
  /** Plain number or word; empty where there is none. */
  value: string;
  state: string;
}

export function figureOf(page: Page, name: string): Promise<PageFigure> {
  return page.evaluate((reading) => {
    const outputs = document.querySelectorAll<HTMLOutputElement>(`output[data-reading="${reading}"]`);
    const [output] = outputs;
    if (output === undefined || outputs.length > 1)
      throw new Error(`${outputs.length} figures named ${reading}`);
    return { value: output.dataset.value ?? '', state: output.dataset.state ?? '' };
  }, name);
}

/** Waits until a figure is in this state. */
export async function figureWhen(page: Page, name: string, state: string): Promise<PageFigure> {
  await page.waitForFunction(
    ([reading, wanted]) =>
      document.querySelector<HTMLOutputElement>(`output[data-reading="${reading}"]`)?.dataset.state ===
      wanted,
    [name, state] as const,
    { timeout: 20_000 },
  );
  return figureOf(page, name);
}
