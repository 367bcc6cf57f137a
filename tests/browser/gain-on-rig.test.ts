/** First light for a newcomer: one gain, from the address to a record that outlives the tab. */
import type { Page } from 'playwright-core';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { launchApp, type RunningApp } from './launch.ts';
import { figureOf, figureWhen, restingFigure } from './page-figures.ts';

/** 75 W into 4 ohm: sqrt(75 * 4), what the demo job's front left door must read. */
const TARGET_VOLTS = Math.sqrt(75 * 4);

let app: RunningApp;
let page: Page;

async function open(viewport: { width: number; height: number }): Promise<void> {
  app = await launchApp({ rig: true, viewport });
  page = app.page;
  await figureWhen(page, 'levelVolts', 'valid');
}

/** A turn of the practice rig's gain control; resolves once the volts have come to rest. */
async function turnTo(setting: number): Promise<void> {
  await page.getByRole('slider', { name: 'Gain control, front left door' }).fill(String(setting));
  await restingFigure(page, 'levelVolts');
}

const accept = () => page.getByRole('button', { name: /^Accept \d/ });
const records = () => page.getByRole('list', { name: 'Accepted readings' }).getByRole('listitem');

async function acceptable(): Promise<void> {
  await page.waitForFunction(
    () => document.querySelector('.accept .main')?.getAttribute('aria-disabled') === 'false',
  );
}

afterEach(async () => {
  const { errors } = app;
  await app.close();
  expect(errors).toEqual([]);
});

describe('on a laptop', () => {
  beforeEach(() => open({ width: 1280, height: 800 }));

  it('sets the front left gain in under ten actions, and the record survives a reload', async () => {
    let actions = 0;
    const found = await restingFigure(page, 'levelVolts');
    // What the screen shows is enough to know how far to turn: the rig's control has 28 dB of travel.
    const missingDb = 20 * Math.log10(TARGET_VOLTS / found);
    await turnTo(missingDb / 28);
    actions += 1;
    await acceptable();
    expect(Math.abs(await restingFigure(page, 'aimDb'))).toBeLessThan(0.5);
    expect(await page.locator('.say').textContent()).toBe('inside');
    await accept().click();
    actions += 1;
    await records().first().waitFor();
    expect(actions).toBeLessThan(10);
    const recorded = await records().first().textContent();
    const volts = Number(/^([\d.]+) V/.exec(recorded ?? '')?.[1]);
    expect(Math.abs(20 * Math.log10(volts / TARGET_VOLTS))).toBeLessThan(0.5);

    await page.reload();
    await records().first().waitFor();
    expect(await records().first().textContent()).toBe(recorded);
    expect(await records().count()).toBe(1);
  });

  it('does the same by keyboard alone', async () => {
    const tab = async (name: RegExp) => {
      for (let press = 0; press < 40; press++) {
        await page.keyboard.press('Tab');
        const focused = await page.evaluate(() => {
          const element = document.activeElement;
          return element?.getAttribute('aria-label') ?? element?.textContent ?? '';
        });
        if (name.test(focused)) return;
      }
      throw new Error(`The Tab key never reached ${name}.`);
    };
    let keys = 0;
    const press = async (key: string) => {
      await page.keyboard.press(key);
      keys += 1;
    };
    await tab(/^Skip to the station/);
    await press('Enter');
    await tab(/^Gain control/);
    for (let page_ = 0; page_ < 4; page_++) await press('PageUp');
    await restingFigure(page, 'levelVolts');
    await press('ArrowUp');
    await press('ArrowUp');
    await restingFigure(page, 'levelVolts');
    await acceptable();
    await tab(/^Accept/);
    await press('Enter');
    await records().first().waitFor();
    // The skip link, six turns of the control and the press that accepts.
    expect(keys).toBeLessThan(10);
    expect(await records().first().textContent()).toMatch(/inside/);
  });

  it('past the knee it says how far to turn back, and accepts nothing', async () => {
    await turnTo(0.68);
    await page.locator('.say', { hasText: /^past the knee: back \d/ }).waitFor();
    expect((await figureWhen(page, 'clipping', 'valid')).value).toBe('clipped');
    expect(await accept().getAttribute('aria-disabled')).toBe('true');
    // The press of somebody who does not care that the button is dimmed.
    await accept().click({ force: true });
    await page.waitForTimeout(300);
    expect(await records().count()).toBe(0);
  });

  it('off target it asks for a second thought before it accepts', async () => {
    await turnTo(0.5);
    await acceptable();
    await accept().click();
    await page.getByRole('region', { name: 'A second thought' }).waitFor();
    expect(await records().count()).toBe(0);
    await page.getByRole('button', { name: 'Keep turning' }).click();
    await accept().click();
    await page.getByRole('button', { name: 'Accept anyway' }).click();
    await records().first().waitFor();
    expect(await records().first().textContent()).toMatch(/out of tolerance/);
  });

  it('aims by typed volts where a multimeter reads and the input only watches', async () => {
    await page.getByRole('button', { name: 'Type a meter reading' }).click();
    const field = page.getByRole('textbox', { name: /Volts on the multimeter/ });
    await field.fill('seventeen');
    await field.press('Enter');
    expect(await page.getByRole('alert').textContent()).toMatch(/is not a voltage/);
    await field.fill('17,32');
    await field.press('Enter');
    await page.waitForFunction(
      () => document.querySelector<HTMLElement>('[data-reading="levelVolts"]')?.dataset.value === '17.32',
    );
    const { value } = await figureOf(page, 'aimDb');
    expect(Number(value)).toBeCloseTo(20 * Math.log10(17.32 / TARGET_VOLTS), 9);
    await acceptable();
    await accept().click();
    await records().first().waitFor();
    expect(await records().first().textContent()).toMatch(/read by multimeter/);
  });
});

describe('on a phone, 360 px wide', () => {
  beforeEach(() => open({ width: 360, height: 740 }));

  it('never scrolls sideways, on any station', async () => {
    const plates = page.getByRole('navigation', { name: 'Signal path' }).getByRole('button');
    expect(await plates.count()).toBe(8);
    for (let index = 0; index < 8; index++) {
      await plates.nth(index).click();
      await page.waitForTimeout(150);
      const closed = page.locator('main details:not([open]) > summary');
      while ((await closed.count()) > 0) await closed.first().click();
      const [wide, name] = await page.evaluate(() => [
        document.documentElement.scrollWidth,
        document.querySelector('h1')?.textContent,
      ]);
      expect([name, wide]).toEqual([name, 360]);
    }
  });

  it('shows figure, aim and main action on the first screen of the Gain station', async () => {
    const stripTop = (await page.getByRole('contentinfo').boundingBox())?.y ?? 0;
    expect(stripTop).toBeGreaterThan(600);
    for (const part of [
      page.locator('output[data-reading="levelVolts"]'),
      page.locator('.ruler'),
      accept(),
    ]) {
      const box = await part.boundingBox();
      expect(box).not.toBeNull();
      expect((box?.y ?? 0) + (box?.height ?? Infinity)).toBeLessThanOrEqual(stripTop);
    }
  });

  it('gives every control room for a thumb', async () => {
    for (const station of ['Plan', 'Input', 'Gain']) {
      await page
        .getByRole('navigation', { name: 'Signal path' })
        .getByRole('button', { name: new RegExp(`^${station}`) })
        .click();
      await page.waitForTimeout(300);
      const { small, seen } = await page.evaluate(() => {
        const controls = [
          ...document.querySelectorAll<HTMLElement>(
            'button, select, summary, a[href], input:not([type=range])',
          ),
        ]
          .filter((element) => element.checkVisibility() && !element.matches('.unseen *, .skip'))
          // A box to tick or choose is as large as the label around it.
          .map((element) =>
            element.matches('[type=checkbox], [type=radio]') ? element.closest('label') : element,
          )
          .filter((element) => element !== null);
        const boxes = controls.map((element) => ({
          words: element.textContent || element.tagName,
          box: element.getBoundingClientRect(),
        }));
        return {
          seen: boxes.length,
          small: boxes
            .filter(({ box }) => box.width < 44 || box.height < 44)
            .map(({ words, box }) => `${words}: ${box.width} x ${box.height}`),
        };
      });
      expect(seen).toBeGreaterThan(12);
      expect([station, small]).toEqual([station, []]);
    }
  });
});
