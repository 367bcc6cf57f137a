import { describe, expect, test } from 'vitest';
import { judgeInput } from '../../src/dsp/honesty/judge-input.ts';
import { Random } from '../../src/dsp/tones/random.ts';
import { cleanTrial, STEPS } from './honesty-recordings.ts';
import { addComb } from './noise-recordings.ts';

const COLOURS = ['white', 'pink'] as const;

describe('an honest input', () => {
  test('gives no finding at any level, clock, rate and noise', { timeout: 60_000 }, () => {
    const random = new Random(20);
    for (let seed = 1; seed <= 24; seed += 1) {
      const conditions = {
        sampleRateHz: seed % 2 === 0 ? 44_100 : 48_000,
        gainDb: -30 + 38 * random.next(),
        clockPpm: -200 + 400 * random.next(),
        noiseBelowDb: 40 + 50 * random.next(),
        colour: COLOURS[seed % 3 === 0 ? 1 : 0]!,
        leadSeconds: 0.3 + random.next(),
        tailSeconds: 0.5 + 2 * random.next(),
        seed,
      };
      const { verdict, findings, figures } = judgeInput(cleanTrial(conditions));
      const what = JSON.stringify(conditions);
      expect(findings, what).toEqual([]);
      expect(verdict, what).toBe('raw');
      // The search leaves two cells of 20 ms at each edge out of account; steps are read from 60 ms on.
      expect(Math.abs(figures!.startSeconds - conditions.leadSeconds), what).toBeLessThan(0.041);
      // 1.5 s of a tone at 40 dB over the noise: Cramer-Rao 0.002 Hz is 2 ppm; four of them.
      expect(Math.abs(figures!.clockPpm - conditions.clockPpm), what).toBeLessThan(8);
      for (const [at, error] of figures!.stepErrorsDb.entries()) {
        const uncertainty = Math.hypot(
          figures!.steps[at]!.uncertaintyDb,
          figures!.steps[at + 1]!.uncertaintyDb,
        );
        // Five standard uncertainties of 72 differences, and what fades and block ends leave.
        expect(Math.abs(error), what).toBeLessThan(5 * uncertainty + 0.001);
      }
      const noiseDbfs = -10 + conditions.gainDb - conditions.noiseBelowDb;
      // The floor is read in 20 Hz to 20 kHz and the noise reaches half the rate: white loses 0.4 to 0.8 dB.
      expect(Math.abs(figures!.noiseInPauseDbfs! - noiseDbfs + 0.6), what).toBeLessThan(1.5);
    }
  });

  test('gives none on a low tone beside a hum, on 16 bits with dither', () => {
    const random = new Random(5);
    for (const [seed, frequencyHz] of [61, 41, 403].entries()) {
      const trial = cleanTrial({ seed, gainDb: -12, colour: 'brown', steps: { ...STEPS, frequencyHz } });
      const channels = trial.channels.map((channel) =>
        addComb(channel, 48_000, () => 50.01, [1e-4, 3e-5]).map(
          (x) => Math.round(x * 32_768 + random.nextTriangular()) / 32_768,
        ),
      );
      expect(judgeInput({ ...trial, channels }).findings, `${frequencyHz} Hz`).toEqual([]);
    }
  });

  test('on 16 bits, its noise below the last one: exact zeros in the pause prove nothing', () => {
    const trial = cleanTrial({ noiseBelowDb: 100 });
    const channels = trial.channels.map((channel) => channel.map((x) => Math.round(x * 32_768) / 32_768));
    // The two channels' pauses are the same zeros, but their tones' last bits are not.
    channels[1]![60_000] = channels[1]![60_000]! + 1 / 32_768;
    expect(judgeInput({ ...trial, channels }).findings).toEqual([]);
  });

  test("with the player's dither under the tone only: no gate", () => {
    const trial = cleanTrial({ noiseBelowDb: 100, tailSeconds: 1 });
    const random = new Random(4);
    const from = 48_000;
    const to = from + 4 * 3 * 48_000 + 3 * 24_000;
    const channels = trial.channels.map((channel) =>
      channel.map((x, n) => (n < from || n > to ? x : x + random.nextTriangular() / 32_768)),
    );
    expect(judgeInput({ ...trial, channels }).findings).toEqual([]);
  });

  test('one channel alone, softest step last, other steps and tone', () => {
    const steps = {
      ...STEPS,
      frequencyHz: 403,
      levelsDbfs: [-6, -16, -26],
      stepSeconds: 2,
      pauseSeconds: 0.3,
    };
    const trial = cleanTrial({ steps, gainDb: -3 });
    const { verdict, figures } = judgeInput({ ...trial, channels: [trial.channels[0]!] });
    expect(verdict).toBe('raw');
    expect(figures!.steps.map((step) => Math.round(100 * step.levelDbfs) / 100)).toEqual([-9, -19, -29]);
  });
});

describe('a recording without the steps', () => {
  test.each([
    { what: 'noise', gainDb: -200 },
    { what: 'another order of steps cut off half way', gainDb: 0 },
  ])('$what proves nothing', ({ gainDb }) => {
    const trial = cleanTrial({ gainDb: Math.max(gainDb, -60), noiseBelowDb: gainDb < 0 ? -40 : 65 });
    const channels = trial.channels.map((channel) =>
      gainDb < 0 ? channel : channel.subarray(0, 6 * 48_000),
    );
    expect(judgeInput({ ...trial, channels })).toEqual({
      verdict: 'not-proven',
      findings: [],
      figures: null,
    });
  });

  test('no channels, or one step, is refused', () => {
    const trial = cleanTrial({ steps: { ...STEPS, levelsDbfs: [-20] } });
    expect(() => judgeInput(trial)).toThrow(/two or more steps/);
    expect(() => judgeInput({ ...trial, channels: [] })).toThrow(/one or more channels/);
  });
});
