/** Reads the live figures that the page publishes for programs (contracts, "In the page"). */
import type { Page } from 'playwright-core';

export interface PageFigure {
  /** Plain number or word; empty where there is none. */
  value: string;
  state: string;
}

/** More than the sound that is under way when something is turned: the rig's buffers, and the window that is read. */
const REST_READINGS = 16;
/** Noise of the rig's input moves a level by some millionths, a turn of its control by a thousandth and more. */
const REST_DB = 0.005;

export function figureOf(page: Page, name: string): Promise<PageFigure> {
  return page.evaluate((reading) => {
    const outputs = document.querySelectorAll<HTMLOutputElement>(`output[data-reading="${reading}"]`);
    const [output] = outputs;
    if (output === undefined || outputs.length > 1)
      throw new Error(`${outputs.length} figures named ${reading}`);
    return { value: output.dataset.value ?? '', state: output.dataset.state ?? '' };
  }, name);
}

/** Waits until a figure is in this state. @returns what was seen then: a look later it may be another. */
export async function figureWhen(page: Page, name: string, state: string): Promise<PageFigure> {
  const seen = await page.waitForFunction(
    ([reading, wanted]) => {
      const output = document.querySelector<HTMLOutputElement>(`output[data-reading="${reading}"]`);
      if (output?.dataset.state !== wanted) return null;
      return { value: output.dataset.value ?? '', state: wanted };
    },
    [name, state] as const,
    { timeout: 20_000 },
  );
  return (await seen.jsonValue()) as PageFigure;
}

/**
 * Waits for a figure of the practice rig that stays what it is, reading after
 * reading. Its noise makes each reading another number, so that many of them are
 * that much new sound, however late the machine runs.
 *
 * @param name of a live number in volts or decibels
 * @returns the last of the readings
 * @throws when none stayed for as long within twenty seconds
 */
export async function restingFigure(page: Page, name: string): Promise<number> {
  const rested = await page.waitForFunction(
    ([reading, wanted, withinDb, key]) => {
      const kept = window as unknown as Record<string, number[] | undefined>;
      kept[key] ??= [];
      const readings = kept[key];
      const output = document.querySelector<HTMLOutputElement>(`output[data-reading="${reading}"]`);
      const value = Number(output?.dataset.value || 'none');
      const isValid = output?.dataset.state === 'valid' && Number.isFinite(value);
      const first = readings[0] ?? value;
      const movedDb = reading.endsWith('Volts') ? 20 * Math.log10(value / first) : value - first;
      const isSame = Math.abs(movedDb) <= withinDb;
      if (!isValid || !isSame) readings.length = 0;
      if (isValid && readings.at(-1) !== value) readings.push(value);
      return readings.length >= wanted ? { value } : null;
    },
    [name, REST_READINGS, REST_DB, `rest-${Math.random()}`] as const,
    { timeout: 20_000 },
  );
  return ((await rested.jsonValue()) as { value: number }).value;
}

/** @throws when the input's level does not come above, or below, this within twenty seconds */
export async function levelWhen(page: Page, side: 'above' | 'below', dbfs: number): Promise<void> {
  await page.waitForFunction(
    ([wanted, than]) => {
      const output = document.querySelector<HTMLOutputElement>('output[data-reading="levelDbfs"]');
      const level = Number(output?.dataset.value || 'none');
      return wanted === 'above' ? level > than : level < than;
    },
    [side, dbfs] as const,
    { timeout: 20_000 },
  );
}

/** @returns the highest of so many readings that follow; valid or not. @throws when one is missing */
export async function highestOf(page: Page, name: string, readings: number): Promise<number> {
  const highest = await page.waitForFunction(
    ([reading, wanted, key]) => {
      const kept = window as unknown as Record<string, Set<number> | undefined>;
      kept[key] ??= new Set();
      const seen = kept[key];
      const output = document.querySelector<HTMLOutputElement>(`output[data-reading="${reading}"]`);
      if (!output?.dataset.value) throw new Error(`${reading} has no value: ${output?.dataset.state}`);
      seen.add(Number(output.dataset.value));
      return seen.size >= wanted ? { value: Math.max(...seen) } : null;
    },
    [name, readings, `highest-${Math.random()}`] as const,
    { timeout: 20_000 },
  );
  return ((await highest.jsonValue()) as { value: number }).value;
}
