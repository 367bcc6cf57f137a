/** Bursts played by this device: what really goes to its output, and what is said where nobody hears them. */
import { expect, it } from 'vitest';
import { launchApp } from './launch.ts';
import { figureWhen } from './page-figures.ts';
import { seamlessWav, second } from './seamless-wav.ts';

interface Voice {
  /** Highest sample of the tone. */
  peak: number;
  startsAt: number;
  endsAt: number;
}
declare const voices: Voice[];

/** Notes every tone that the page's player starts, on the clock of its output. */
function noteVoices(): void {
  const noted: Voice[] = [];
  Object.assign(window, { voices: noted });
  const { start, stop } = AudioBufferSourceNode.prototype;
  const own = new WeakMap<AudioScheduledSourceNode, Voice>();
  AudioBufferSourceNode.prototype.start = function (when = 0) {
    const samples = this.buffer?.getChannelData(0) ?? new Float32Array();
    const voice = {
      peak: samples.reduce((top, one) => Math.max(top, one), 0),
      startsAt: when,
      endsAt: Infinity,
    };
    noted.push(voice);
    own.set(this, voice);
    start.call(this, when);
  };
  AudioBufferSourceNode.prototype.stop = function (when = 0) {
    const voice = own.get(this);
    if (voice !== undefined) voice.endsAt = when;
    stop.call(this, when);
  };
}

it('sound for a second at most, end by themselves, and rest before they may be tried again', async () => {
  // The input hears one steady tone, whatever is played: a lead that hangs on the wrong channel.
  const app = await launchApp({
    wav: seamlessWav(second((phase) => 0.25 * Math.sin(phase))),
    before: noteVoices,
  });
  const { page } = app;
  const button = (name: string | RegExp) => page.getByRole('button', { name });
  const station = (name: RegExp) => page.getByRole('navigation').getByRole('button', { name });
  try {
    await button(/^Front pair/).click();
    await station(/^Input/).click();
    await page.getByRole('button', { name: 'Listen', exact: true }).click();
    await figureWhen(page, 'levelDbfs', 'valid');
    // 50 W into 4 ohm is 14.14 V; a tone 20 dB under minus the overlap reads a tenth of that.
    await page.getByRole('textbox', { name: 'The multimeter shows, V' }).fill('1.414');
    await button('Calibrate with these volts').click();
    await figureWhen(page, 'levelVolts', 'valid');
    await station(/^Gain/).click();
    await button('I have read this').click();
    await button('Set with a tone 20 dB lower').click();
    await button(/^Play it from this device/).click();
    await button('Stop the tone').waitFor();
    await button('Confirm with short bursts').click();
    const outcome = page.locator('.burst-outcome', { hasText: 'A burst was asked for and not heard' });
    await outcome.waitFor({ timeout: 30_000 });

    const heard = await page.evaluate(() => voices);
    const [reduced, burst, ...more] = heard;
    expect(more).toEqual([]);
    // 25 dB under full scale, then 6 dB short of minus the overlap of 5 dB.
    expect(20 * Math.log10(reduced?.peak ?? 0)).toBeCloseTo(-25, 2);
    expect(20 * Math.log10(burst?.peak ?? 0)).toBeCloseTo(-11, 2);
    const seconds = (burst?.endsAt ?? Infinity) - (burst?.startsAt ?? 0);
    expect(seconds).toBeGreaterThan(0.5);
    expect(seconds).toBeLessThanOrEqual(1 + 1e-9);

    await button(/^Play it from this device/).click();
    await button('Confirm with short bursts').click();
    await page.getByText(/the coil rests \d+ s/).waitFor();
    await button('Stop the bursts').click();
    expect(app.errors).toEqual([]);
  } finally {
    await app.close();
  }
});
