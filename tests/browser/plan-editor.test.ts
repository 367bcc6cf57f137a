/** The plan edited: by keyboard alone, drawn as it is typed, undone and redone, on a phone's width too. */
import type { Page } from 'playwright-core';
import { afterEach, describe, expect, it } from 'vitest';
import { expectInSight } from './in-sight.ts';
import { type AppLaunch, launchApp, type RunningApp } from './launch.ts';

let app: RunningApp | null = null;

async function open(launch: AppLaunch = {}): Promise<Page> {
  app = await launchApp(launch);
  return app.page;
}

async function begin(page: Page, layout: RegExp): Promise<void> {
  await page.getByRole('button', { name: layout }).click();
  await page.getByRole('group', { name: 'The chain, drawn' }).waitFor();
}

afterEach(async () => {
  const errors = app?.errors ?? [];
  await app?.close();
  app = null;
  expect(errors).toEqual([]);
});

const targets = (page: Page) => page.locator('.target-volts').allTextContents();
/** What the drawing says of its parts, in order. */
const drawn = (page: Page) =>
  page
    .getByRole('group', { name: 'The chain, drawn' })
    .getByRole('button')
    .evaluateAll((parts) => parts.map((part) => part.getAttribute('aria-label') ?? ''));
const undo = (page: Page) => page.getByRole('button', { name: /^Undo/ });
const redo = (page: Page) => page.getByRole('button', { name: /^Redo/ });

/** Tabs on until the thing with the focus has this name; a keyboard user has nothing else. */
async function tabTo(page: Page, name: RegExp, key = 'Tab'): Promise<void> {
  for (let presses = 0; presses < 250; presses++) {
    await page.keyboard.press(key);
    const focused = await page.evaluate(() => {
      const at = document.activeElement;
      const label = (at as HTMLInputElement | null)?.labels?.[0];
      return (at?.getAttribute('aria-label') ?? label?.textContent ?? at?.textContent ?? '').trim();
    });
    if (name.test(focused)) return;
  }
  throw new Error(`Nothing named ${name} was reached with ${key}.`);
}

const tabBackTo = (page: Page, name: RegExp) => tabTo(page, name, 'Shift+Tab');

async function retype(page: Page, text: string): Promise<void> {
  await page.keyboard.press('Control+A');
  await page.keyboard.type(text);
}

it('is built from nothing with the keyboard alone: amplifier, channel, coils, load resistors', async () => {
  const page = await open();
  await tabTo(page, /^Subwoofer only/);
  await page.keyboard.press('Enter');
  await page.getByRole('group', { name: 'The chain, drawn' }).waitFor();

  // From the drawing to the form of what is drawn.
  await tabTo(page, /^Factory radio: .*needs attention/);
  await page.keyboard.press('Enter');
  await tabTo(page, /^Load resistors across/);
  await page.keyboard.press('Space');
  await tabTo(page, /^Each resistor/);
  await retype(page, '33');

  await tabTo(page, /^Mono amplifier/);
  await page.keyboard.press('Enter');
  await tabTo(page, /^Power, W/);
  await retype(page, '400');
  await tabTo(page, /^into/);
  await retype(page, '2');
  await tabTo(page, /^Smallest load/);
  await retype(page, '2');

  await tabTo(page, /^Subwoofer$/);
  await page.keyboard.press('Enter');
  await tabTo(page, /^Voice coils each/);
  await page.keyboard.press('ArrowDown');
  await tabTo(page, /^Continuous power of one/);
  await retype(page, '450');

  await tabTo(page, /^Add an amplifier/);
  await page.keyboard.press('Enter');
  await page.keyboard.press('Shift+Tab');
  await page.keyboard.press('Enter');
  // 400 W into two 4 ohm coils in parallel: sqrt(800). The new amplifier states nothing at 2 ohm yet.
  expect(await targets(page)).toEqual(['28.28 V', '— V']);
  await tabBackTo(page, /^Channel 2$/);
  await page.keyboard.press('Enter');
  await tabTo(page, /^Voice coils each/);
  await page.keyboard.press('ArrowUp');
  // 50 W into 4 ohm: sqrt(200).
  expect(await targets(page)).toEqual(['28.28 V', '14.14 V']);
  const parts = await drawn(page);
  expect(parts[0]).toMatch(/load resistors of 33 Ω, 10 W$/);
  expect(parts).toContainEqual(
    expect.stringMatching(/^Subwoofer: .*two 4 Ω coils in parallel: 2 Ω; target 28\.28 V/),
  );
  expect(parts).toContainEqual(expect.stringMatching(/^Amplifier 2: 1 of 2 channels used/));

  await page.reload();
  await page.getByRole('group', { name: 'The chain, drawn' }).waitFor();
  expect(await targets(page)).toEqual(['28.28 V', '14.14 V']);
});

describe('undo and redo', () => {
  it('take back and bring back by key and by button, and say what', async () => {
    const page = await open();
    await begin(page, /^Four doors and a subwoofer/);
    expect(await undo(page).isDisabled()).toBe(true);
    await page.getByRole('button', { name: /^Subwoofer: / }).click();
    const power = page.getByRole('textbox', { name: 'Continuous power of one, W' });
    await power.press('End');
    await power.pressSequentially('0');
    expect(await undo(page).textContent()).toBe('Undo: continuous power of Subwoofer');
    await page.getByRole('textbox', { name: 'High-pass, Hz' }).fill('30');
    expect(await undo(page).textContent()).toBe('Undo: high-pass of Subwoofer');

    await page.keyboard.press('Control+z');
    expect(await page.getByRole('textbox', { name: 'High-pass, Hz' }).inputValue()).toBe('25');
    await undo(page).click();
    expect(await power.inputValue()).toBe('250');
    expect(await redo(page).textContent()).toBe('Redo: continuous power of Subwoofer');
    await page.keyboard.press('Control+Shift+Z');
    expect(await power.inputValue()).toBe('2500');
    await page.keyboard.press('Control+y');
    expect(await page.getByRole('textbox', { name: 'High-pass, Hz' }).inputValue()).toBe('30');
    expect(await redo(page).isDisabled()).toBe(true);
    expect(await page.getByRole('status').filter({ hasText: 'Redone: high-pass of Subwoofer' }).count()).toBe(
      1,
    );
  });

  it('bring a removed channel back with all that was typed, and keep it over a reload', async () => {
    const page = await open();
    await begin(page, /^Front pair/);
    await page.locator('summary', { hasText: 'Front left door' }).click();
    await page.getByRole('textbox', { name: 'Continuous power of one, W' }).fill('20');
    await page.getByRole('button', { name: 'Remove this channel' }).click();
    expect(await targets(page)).toEqual(['14.14 V']);
    expect(await undo(page).textContent()).toBe('Undo: removing Front left door');
    await page.keyboard.press('Control+z');
    // sqrt(20 * 4).
    expect(await targets(page)).toEqual(['8.94 V', '14.14 V']);
    await page.reload();
    await page.getByRole('group', { name: 'The chain, drawn' }).waitFor();
    expect(await targets(page)).toEqual(['8.94 V', '14.14 V']);
  });

  it('give up words that were never taken first, and leave the job as it is', async () => {
    const page = await open();
    await begin(page, /^Front pair/);
    await page.locator('summary', { hasText: 'Front left door' }).click();
    const low = page.getByRole('textbox', { name: 'Low-pass, Hz' });
    await low.fill('60');
    await page.getByText('It must lie above the high-pass of 80 Hz.').waitFor();
    expect(await undo(page).isDisabled()).toBe(true);
    // The sentence follows the field it speaks of.
    await page.getByRole('textbox', { name: 'High-pass, Hz' }).fill('70');
    await page.getByText('It must lie above the high-pass of 70 Hz.').waitFor();
    const power = page.getByRole('textbox', { name: 'Continuous power of one, W' });
    await power.fill('40');
    await low.press('Control+z');
    expect(await low.inputValue()).toBe('');
    expect(await page.getByText('It must lie above').count()).toBe(0);
    expect(await power.inputValue()).toBe('40');
    await low.press('Control+z');
    expect(await power.inputValue()).toBe('50');
  });
});

it('says in targets and drawing what a summed channel reads with the tone on one input', async () => {
  const page = await open();
  await begin(page, /^Subwoofer only/);
  // 250 W into 4 ohm is 31.62 V; half of that with the tone on one of two.
  const sentence = /the left and the right input must carry the tone; on one alone 15\.81 V, 6\.02 dB low/;
  expect(await page.locator('.target').textContent()).toMatch(sentence);
  expect((await drawn(page)).at(-1)).toMatch(sentence);
  await page.locator('summary', { hasText: /^Subwoofer$/ }).click();
  await page.getByRole('textbox', { name: 'Inputs summed' }).fill('4');
  expect(await page.locator('.target').textContent()).toMatch(
    /all 4 inputs must carry the tone; on 3 of 4 23\.72 V, 2\.50 dB low; on 2 of 4 15\.81 V, 6\.02 dB low; on one alone 7\.91 V, 12\.04 dB low/,
  );
});

it('copies channels and amplifiers, and says why where it does not', async () => {
  const page = await open();
  await begin(page, /^Doors, front and rear/);
  await page.locator('summary', { hasText: 'Rear right door' }).click();
  const copy = page.getByRole('button', { name: 'Duplicate this channel' });
  expect(await copy.isDisabled()).toBe(true);
  await page.getByText('To duplicate it, the amplifier needs a free channel.').last().waitFor();
  await page.locator('summary', { hasText: 'Four-channel amplifier' }).first().click();
  await page.getByRole('textbox', { name: 'Channels', exact: true }).fill('3');
  await page.getByText('4 channels are in use here, so it must be 4 or more.').waitFor();
  await page.getByRole('textbox', { name: 'Channels', exact: true }).fill('6');
  await copy.click();
  expect((await targets(page)).length).toBe(5);
  await page.getByRole('heading', { name: 'Rear right door (2)' }).waitFor();
  await page.getByRole('button', { name: 'Duplicate this amplifier' }).click();
  expect(await drawn(page)).toContainEqual('Four-channel amplifier (2): 0 of 6 channels used');
});

it('deletes a job only after a second thought, and opens the next', async () => {
  const page = await open();
  await begin(page, /^Front pair/);
  await page.locator('summary', { hasText: 'Begin another job' }).click();
  await page.getByRole('button', { name: /^Subwoofer only/ }).click();
  await page.getByRole('heading', { name: 'Plan Subwoofer only' }).waitFor();
  await page.getByRole('button', { name: 'Delete this job…' }).click();
  await page.getByRole('button', { name: 'Keep it' }).click();
  await page.getByRole('button', { name: 'Delete this job…' }).click();
  const [file] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save a file of it' }).click(),
  ]);
  expect(file.suggestedFilename()).toBe('subwoofer-only.job.json');
  await page.getByRole('button', { name: 'Delete it', exact: true }).click();
  await page.getByRole('heading', { name: 'Plan Front pair' }).waitFor();
  await page.reload();
  await page.getByRole('heading', { name: 'Plan Front pair' }).waitFor();
  expect(await page.getByRole('list', { name: 'Jobs in this browser' }).getByRole('listitem').count()).toBe(
    1,
  );
  await page.getByRole('button', { name: 'Delete this job…' }).click();
  await page.getByRole('button', { name: 'Delete it without a file' }).click();
  await page.getByRole('heading', { name: 'Begin a job' }).waitFor();
});

it('fits a phone of 360 px: nothing scrolls sideways, nothing is cut off, every layout and every form', async () => {
  const page = await open({ viewport: { width: 360, height: 740 } });
  const layouts = await page.locator('.act.preset').allTextContents();
  expect(layouts).toHaveLength(7);
  for (const [index] of layouts.entries()) {
    if (index > 0) await page.locator('summary', { hasText: 'Begin another job' }).click();
    await page.locator('.act.preset:not(.job-list *)').nth(index).click();
    await page.getByRole('heading', { level: 1, name: /^Plan ./ }).waitFor();
    // A new job begins at its top, wherever the button stood.
    await page.waitForFunction(() => scrollY === 0);
    await expectInSight(page.locator('main .act.main').first());
    await page.getByRole('group', { name: 'The chain, drawn' }).waitFor();
    await page.locator('.chain details').evaluateAll((all) => {
      for (const details of all) (details as HTMLDetailsElement).open = true;
    });
    const wide = await page.evaluate(() => {
      const edge = document.documentElement.clientWidth;
      const beyond = [...document.querySelectorAll('main *')].filter((one) => {
        const { right, width } = one.getBoundingClientRect();
        return width > 1 && right > edge + 0.5;
      });
      return {
        scrolls: document.documentElement.scrollWidth - edge,
        beyond: beyond.map((one) => one.outerHTML.slice(0, 90)),
      };
    });
    expect(wide, layouts[index]).toEqual({ scrolls: 0, beyond: [] });
  }
});
