/** Pictures of the app for people to look at: `npm run screenshots -- FOLDER`. */
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { launchApp } from './launch.ts';
import { figureWhen } from './page-figures.ts';

const SIZES = { phone: { width: 360, height: 740 }, laptop: { width: 1280, height: 800 } } as const;
const TIMES = { day: 'light', night: 'dark' } as const;
const STATIONS = ['Plan', 'Input', 'Source', 'Crossover', 'Balance', 'Quiet', 'Sign-off'] as const;

/** Slowly past the knee and back into the brackets, as a hand does it, so that the trace has its corner. */
async function setGain(page: Page): Promise<void> {
  await figureWhen(page, 'levelVolts', 'valid');
  const knob = page.getByRole('slider', { name: /^Gain control/ });
  for (let setting = 0.42; setting < 0.65; setting += 0.003) {
    await knob.fill(setting.toFixed(3));
    await page.waitForTimeout(60);
  }
  await knob.fill('0.597');
  await page.waitForTimeout(2000);
}

/**
 * Writes `gain-phone-day.png` and so on, and `gain-phone-day-whole.png` with what lies below the first screen:
 * every station, on phone and laptop, by day and by night. Returns the paths.
 */
export async function takeScreenshots(folder: string): Promise<string[]> {
  mkdirSync(folder, { recursive: true });
  const paths: string[] = [];
  for (const [size, viewport] of Object.entries(SIZES)) {
    for (const [time, colorScheme] of Object.entries(TIMES)) {
      const app = await launchApp({ rig: true, viewport, colorScheme });
      try {
        const shoot = async (station: string) => {
          const path = join(folder, `${station}-${size}-${time}.png`);
          await app.page.screenshot({ path });
          const whole = join(folder, `${station}-${size}-${time}-whole.png`);
          await app.page.screenshot({ path: whole, fullPage: true });
          paths.push(path, whole);
        };
        await setGain(app.page);
        await app.page.evaluate(() => (document.activeElement as HTMLElement | null)?.blur());
        await shoot('gain');
        for (const station of STATIONS) {
          await app.page
            .getByRole('navigation', { name: 'Signal path' })
            .getByRole('button', { name: new RegExp(`^${station}`) })
            .click();
          await app.page.waitForTimeout(400);
          await shoot(station.toLowerCase());
        }
      } finally {
        await app.close();
      }
    }
  }
  return paths;
}
