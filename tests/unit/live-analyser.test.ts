import { describe, expect, it } from 'vitest';
import { LiveAnalyser, type LiveOptions } from '../../src/dsp/live/live-analyser.ts';
import type { LiveBlock } from '../../src/dsp/live/live-block.ts';
import { WindowAnalyser } from '../../src/dsp/measure/window-analyser.ts';
import { AUDIO_BAND, type Doubt, type LiveReading } from '../../src/dsp/reading.ts';

import { seededUniform } from './seeded-random.ts';

const RATE_HZ = 44_100;
const BLOCK = 1024;
const TONE_HZ = 997;

/** Uniform from -1 to 1. */
function noiseSource(seed: number): () => number {
  const uniform = seededUniform(seed);
  return () => 2 * uniform() - 1;
}

interface Signal {
  seconds: number;
  toneHz?: number;
  /** Peak amplitude at each second. */
  amplitude?: (seconds: number) => number;
  /** Peak of uniform noise. 1e-4 is what a quiet line input has. */
  noise?: number;
}

function makeSignal({
  seconds,
  toneHz = TONE_HZ,
  amplitude = () => 0.5,
  noise = 1e-4,
}: Signal): Float32Array {
  const random = noiseSource(7);
  return Float32Array.from({ length: Math.round(seconds * RATE_HZ) }, (_, n) => {
    const t = n / RATE_HZ;
    return amplitude(t) * Math.sin(2 * Math.PI * toneHz * t + 0.4) + noise * random();
  });
}

function* blocksOf(...channels: Float32Array[]): Generator<LiveBlock> {
  const frames = channels[0]?.length ?? 0;
  for (let start = 0, sequence = 0; start + BLOCK <= frames; start += BLOCK, sequence++)
    yield {
      sequence,
      startFrame: start,
      channels: channels.map((channel) => channel.subarray(start, start + BLOCK)),
      facts: { emptyQuanta: 0, missedFrames: 0, notANumber: 0 },
    };
}

function makeAnalyser(change: Partial<LiveOptions> = {}): LiveAnalyser {
  const options: LiveOptions = {
    sampleRateHz: RATE_HZ,
    channelCount: 1,
    band: AUDIO_BAND,
    expectedHz: TONE_HZ,
    warmUpSeconds: 0,
    ...change,
  };
  return new LiveAnalyser(options, (frames, sampleRateHz) => new WindowAnalyser({ frames, sampleRateHz }));
}

function readAll(analyser: LiveAnalyser, blocks: Iterable<LiveBlock>): LiveReading[] {
  return [...blocks].map((block) => analyser.push(block)).filter((reading) => reading !== null);
}

function readSignal(signal: Float32Array, change: Partial<LiveOptions> = {}): LiveReading[] {
  return readAll(makeAnalyser(change), blocksOf(signal));
}

/** Readings whose window reaches over a frame; the others do not. */
function over(readings: LiveReading[], frame: number) {
  const touches = (r: LiveReading) => r.endFrame > frame && r.endFrame - r.windowFrames <= frame;
  return { touching: readings.filter(touches), clear: readings.filter((r) => !touches(r)) };
}

const doubtsIn = (readings: LiveReading[]): Doubt[] => [...new Set(readings.flatMap((r) => r.doubts))];

describe('a clean, steady tone', () => {
  it('gives twenty valid readings a second, level and frequency right', () => {
    const readings = readSignal(makeSignal({ seconds: 4 }));
    expect(readings.length).toBeGreaterThan(4 * 20 - 8);
    expect(readings.length).toBeLessThanOrEqual(4 * 20);
    expect(doubtsIn(readings)).toEqual([]);
    expect(new Set(readings.map((r) => `${r.grade} ${r.motion}`))).toEqual(new Set(['valid steady']));
    const last = readings.at(-1)?.channels[0]?.tone;
    expect(last?.levelDbfs).toBeCloseTo(20 * Math.log10(0.5), 3);
    expect(last?.frequencyHz).toBeCloseTo(TONE_HZ, 3);
  });

  it.each([
    [22, 32_768],
    [40.5, 16_384],
    [60, 16_384],
    [997, 8192],
    [9973, 8192],
  ])('at %d Hz is measured over %d frames and stays valid', (toneHz, windowFrames) => {
    const readings = readSignal(makeSignal({ seconds: 3, toneHz }), { expectedHz: toneHz });
    expect(readings.at(-1)?.windowFrames).toBe(windowFrames);
    expect(doubtsIn(readings)).toEqual([]);
  });

  it('is valid under noise 20 dB below, at the cost of certainty only', () => {
    const readings = readSignal(makeSignal({ seconds: 6, noise: 0.5 * 0.1 * Math.sqrt(1.5) }));
    expect(doubtsIn(readings)).toEqual([]);
  });

  it('stays valid while a gain control turns slowly except for being unsteady: no phase break', () => {
    // 12 dB in two seconds, then held: a hand on a screwdriver.
    const amplitude = (t: number) => 0.1 * 10 ** ((12 * Math.min(Math.max(t - 1, 0), 2)) / 2 / 20);
    const readings = readSignal(makeSignal({ seconds: 5, amplitude }));
    expect(doubtsIn(readings)).toEqual(['level-unsteady']);
    const turning = readings.filter((r) => r.endFrame > 1.5 * RATE_HZ && r.endFrame < 3 * RATE_HZ);
    expect(new Set(turning.map((r) => `${r.motion} ${r.grade}`))).toEqual(new Set(['changing suspect']));
    const held = readings.filter((r) => r.endFrame > 3.7 * RATE_HZ);
    expect(new Set(held.map((r) => `${r.motion} ${r.grade}`))).toEqual(new Set(['steady valid']));
  });

  it('is steady beside an open channel whose hiss comes and goes', () => {
    const tone = makeSignal({ seconds: 3 });
    const random = noiseSource(11);
    const hiss = tone.map((_, n) => 1e-3 * (1 + Math.sin(n / 9000)) * random());
    const readings = readAll(makeAnalyser({ channelCount: 2 }), blocksOf(tone, hiss));
    expect(doubtsIn(readings)).toEqual([]);
  });

  it('tells a creep too slow to show within one window', () => {
    // 0.5 dB a second: 0.07 dB between a window's own stretches, 0.13 dB across the last readings.
    const readings = readSignal(makeSignal({ seconds: 4, amplitude: (t) => 0.1 * 10 ** ((0.5 * t) / 20) }));
    expect(readings.slice(10).every((r) => r.motion === 'changing')).toBe(true);
  });

  it('tells a change within one window, however far apart readings are', () => {
    const analyser = makeAnalyser();
    analyser.hopSeconds = 0.5;
    const signal = makeSignal({ seconds: 4, amplitude: (t) => 0.1 * 10 ** ((3 * t) / 20) });
    const readings = readAll(analyser, blocksOf(signal));
    expect(readings.length).toBeGreaterThan(5);
    expect(readings.every((r) => r.motion === 'changing')).toBe(true);
  });

  it.each([40.5, 997, 9973])('jumps 6 dB at once at %d Hz without being called a phase break', (toneHz) => {
    const amplitude = (t: number) => (t < 2 ? 0.25 : 0.5);
    const signal = makeSignal({ seconds: 4, toneHz, amplitude });
    const readings = readSignal(signal, { expectedHz: toneHz });
    expect(doubtsIn(readings)).toEqual(['level-unsteady']);
  });

  it.each([
    [
      'up 30 dB within 20 ms',
      (t: number) => 0.02 * 10 ** ((30 * Math.min(Math.max((t - 2) / 0.02, 0), 1)) / 20),
    ],
    [
      'down 30 dB within 20 ms',
      (t: number) => 0.6 * 10 ** ((-30 * Math.min(Math.max((t - 2) / 0.02, 0), 1)) / 20),
    ],
    ['up and down again within a window', (t: number) => (Math.abs(t - 2.05) < 0.03 ? 0.5 : 0.02)],
    ['off for good, at once', (t: number) => (t < 2 ? 0.5 : 0)],
  ])('a control jumped %s is a change of level, not lost audio', (_, amplitude) => {
    const readings = readSignal(makeSignal({ seconds: 4, amplitude, noise: 1e-5 }));
    expect(doubtsIn(readings)).toEqual(['level-unsteady']);
  });

  it('frames lost while a control jumps are still found, once the tone stands again', () => {
    const amplitude = (t: number) => (t < 2 ? 0.02 : 0.6);
    const whole = makeSignal({ seconds: 5, amplitude, noise: 1e-5 });
    const cut = 441 + 9;
    const at = 2 * RATE_HZ;
    const signal = new Float32Array(whole.length - cut);
    signal.set(whole.subarray(0, at));
    signal.set(whole.subarray(at + cut), at);
    expect(doubtsIn(readSignal(signal))).toContain('phase-break');
  });
});

describe('lost audio', () => {
  const at = 100_000;

  it.each([32, 128, 377, 1024])('a run of %i zeros spoils each window it lies in, as a gap', (run) => {
    const signal = makeSignal({ seconds: 5 });
    signal.fill(0, at, at + run);
    const { touching, clear } = over(readSignal(signal), at + run - 1);
    expect(touching.length).toBeGreaterThan(2);
    for (const reading of touching) expect(reading.doubts).toContain('gap');
    expect(touching.every((r) => r.grade === 'invalid')).toBe(true);
    expect(doubtsIn(clear.filter((r) => r.endFrame <= at || r.endFrame > at + 30_000))).toEqual([]);
  });

  it('ten zeros in a row are no gap: silence of so few frames is heard in real signals', () => {
    const signal = makeSignal({ seconds: 3 });
    signal.fill(0, at, at + 10);
    expect(doubtsIn(readSignal(signal))).not.toContain('gap');
  });

  it.each([1, 7, 128, 441, 1024])('%i frames cut out without a trace are found by the phase', (cut) => {
    const whole = makeSignal({ seconds: 5 });
    const signal = new Float32Array(whole.length - cut);
    signal.set(whole.subarray(0, at));
    signal.set(whole.subarray(at + cut), at);
    const readings = readSignal(signal);
    // A break at a window's very edge leaves it almost whole; the middle of the window is what counts.
    const middle = readings.filter((r) => {
      const inside = at - (r.endFrame - r.windowFrames);
      return inside > 0.2 * r.windowFrames && inside < 0.8 * r.windowFrames;
    });
    expect(middle.length).toBeGreaterThan(1);
    for (const reading of middle) expect(reading.doubts).toContain('phase-break');
    expect(readings.filter((r) => r.endFrame > at + 40_000).flatMap((r) => r.doubts)).toEqual([]);
  });

  it('a block that never arrived is a gap, by its number', () => {
    const blocks = [...blocksOf(makeSignal({ seconds: 4 }))].filter((block) => block.sequence !== 90);
    const readings = readAll(makeAnalyser(), blocks);
    const { touching } = over(readings, 91 * BLOCK);
    expect(touching.length).toBeGreaterThan(2);
    for (const reading of touching) expect(reading.doubts).toContain('gap');
  });

  it.each([
    [{ emptyQuanta: 1, missedFrames: 0, notANumber: 0 }, 'gap'],
    [{ emptyQuanta: 0, missedFrames: 128, notANumber: 0 }, 'gap'],
    [{ emptyQuanta: 0, missedFrames: 0, notANumber: 1 }, 'not-a-number'],
  ] as const)('the source’s own count %o is told as %s', (facts, doubt) => {
    const blocks = [...blocksOf(makeSignal({ seconds: 4 }))];
    blocks[90] = { ...(blocks[90] as LiveBlock), facts };
    const readings = readAll(makeAnalyser(), blocks);
    const { touching } = over(readings, 90 * BLOCK);
    for (const reading of touching) expect(reading.doubts).toContain(doubt);
    expect(touching.length).toBeGreaterThan(2);
  });

  it('NaN reaches no figure: the level stays a number even in the windows it lies in', () => {
    const signal = makeSignal({ seconds: 4 });
    signal[at] = Number.NaN;
    for (const reading of readSignal(signal))
      expect(reading.channels[0]?.levelDbfs).toBeCloseTo(20 * Math.log10(0.5), 1);
  });

  it('frames cut out between two windows are found too, when a slow machine leaves room between them', () => {
    const whole = makeSignal({ seconds: 5 });
    const slowly = (signal: Float32Array) => {
      const analyser = makeAnalyser();
      analyser.hopSeconds = 0.5;
      return readAll(analyser, blocksOf(signal));
    };
    const unharmed = slowly(whole);
    const between = unharmed[2]!.endFrame + 1000;
    expect(over(unharmed, between).touching).toEqual([]);
    const signal = new Float32Array(whole.length - 441);
    signal.set(whole.subarray(0, between));
    signal.set(whole.subarray(between + 441), between);
    const told = slowly(signal).map((r) => r.doubts.join());
    expect(told.slice(0, 6)).toEqual(['', '', '', 'phase-break', '', '']);
  });

  it('a break so hard that no single tone fits its window is told, even without a window that ran up to it', () => {
    const whole = makeSignal({ seconds: 5 });
    const slowly = (signal: Float32Array) => {
      const analyser = makeAnalyser();
      analyser.hopSeconds = 0.5;
      return readAll(analyser, blocksOf(signal));
    };
    const inside = slowly(whole)[3]!.endFrame - 4096;
    // Half a period: the two sides cancel out.
    const signal = new Float32Array(whole.length - 22);
    signal.set(whole.subarray(0, inside));
    signal.set(whole.subarray(inside + 22), inside);
    const hit = slowly(signal)[3]!;
    expect(hit.doubts).toContain('phase-break');
    expect(hit.grade).toBe('invalid');
  });

  it('a rate 200 ppm off from one moment on is told, once', () => {
    const random = noiseSource(3);
    const signal = Float32Array.from({ length: 5 * RATE_HZ }, (_, n) => {
      const turns = n < at ? TONE_HZ * n : TONE_HZ * at + TONE_HZ * 1.0002 * (n - at);
      return 0.5 * Math.sin((2 * Math.PI * turns) / RATE_HZ) + 1e-4 * random();
    });
    const readings = readSignal(signal);
    expect(doubtsIn(readings)).toEqual(['phase-break']);
    expect(readings.filter((r) => r.endFrame > at + 40_000).flatMap((r) => r.doubts)).toEqual([]);
  });

  it('a steady 15 ppm between two clocks is no fault', () => {
    expect(doubtsIn(readSignal(makeSignal({ seconds: 4, toneHz: TONE_HZ * 1.000015 })))).toEqual([]);
  });
});

describe('silence', () => {
  it('before the first sound, or for long, is digital silence and not a gap', () => {
    const signal = makeSignal({ seconds: 6 });
    signal.fill(0, 0, 60_000);
    signal.fill(0, 150_000);
    const readings = readSignal(signal);
    expect(readings[0]?.doubts).toContain('digital-silence');
    expect(readings.at(-1)?.doubts).toContain('digital-silence');
    expect(readings.at(-1)?.doubts).not.toContain('gap');
    expect(readings.at(-1)?.channels[0]?.levelDbfs).toBeNull();
  });

  it('in one channel beside a live one is no fault', () => {
    const live = makeSignal({ seconds: 3 });
    const readings = readAll(
      makeAnalyser({ channelCount: 2 }),
      blocksOf(live, new Float32Array(live.length)),
    );
    expect(doubtsIn(readings)).toEqual([]);
  });
});

describe('a tone that stops and starts again', () => {
  it('spoils the windows across each edge and no others', () => {
    const signal = makeSignal({ seconds: 8, amplitude: (t) => (t > 3 && t < 5 ? 0 : 0.5) });
    const readings = readSignal(signal);
    const edges = [3 * RATE_HZ, 5 * RATE_HZ];
    const far = (r: LiveReading) => edges.every((edge) => r.endFrame < edge || r.endFrame > edge + 30_000);
    expect(doubtsIn(readings.filter(far))).toEqual([]);
    for (const edge of edges) {
      const across = over(readings, edge).touching;
      expect(across.length).toBeGreaterThan(2);
      expect(across.every((r) => r.grade !== 'valid')).toBe(true);
    }
  });
});

describe('channels', () => {
  const identities = (...channels: Float32Array[]) =>
    readAll(makeAnalyser({ channelCount: channels.length }), blocksOf(...channels)).map(
      (r) => r.channelIdentity,
    );

  it('one is mono, two alike in every bit are dual mono', () => {
    const tone = makeSignal({ seconds: 1 });
    expect(new Set(identities(tone))).toEqual(new Set(['mono']));
    expect(new Set(identities(tone, tone.slice()))).toEqual(new Set(['dual-mono']));
  });

  it('one sample that differs by the least bit makes a window stereo, as long as it lies in it', () => {
    const tone = makeSignal({ seconds: 3 });
    const other = tone.slice();
    other[60_000] = tone[60_000]! + 2 ** -24;
    const readings = readAll(makeAnalyser({ channelCount: 2 }), blocksOf(tone, other));
    const { touching, clear } = over(readings, 60_000);
    expect(touching.length).toBeGreaterThan(2);
    expect(new Set(touching.map((r) => r.channelIdentity))).toEqual(new Set(['stereo']));
    expect(new Set(clear.map((r) => r.channelIdentity))).toEqual(new Set(['dual-mono']));
  });
});

describe('circumstances', () => {
  it('warms up: nothing is valid before, everything after', () => {
    const readings = readSignal(makeSignal({ seconds: 4 }), { warmUpSeconds: 1 });
    const early = readings.filter((r) => r.endFrame - r.windowFrames < RATE_HZ);
    const late = readings.filter((r) => r.endFrame - r.windowFrames >= RATE_HZ);
    expect(early.every((r) => r.grade === 'invalid' && r.doubts.includes('warming-up'))).toBe(true);
    expect(doubtsIn(late)).toEqual([]);
    expect(late.length).toBeGreaterThan(40);
  });

  it('ends a long warm-up once the phase has run true for two seconds', () => {
    const readings = readSignal(makeSignal({ seconds: 5 }), { warmUpSeconds: 6 });
    const firstValid = readings.find((r) => r.grade === 'valid');
    expect((firstValid?.endFrame ?? 0) / RATE_HZ).toBeGreaterThan(2);
    expect((firstValid?.endFrame ?? 0) / RATE_HZ).toBeLessThan(2.6);
  });

  it('carries the standing doubts until they are lifted', () => {
    const analyser = makeAnalyser();
    analyser.configure({ standingDoubts: ['page-hidden', 'rates-differ'] });
    const blocks = [...blocksOf(makeSignal({ seconds: 2 }))];
    const hidden = readAll(analyser, blocks.slice(0, 40));
    expect(hidden.at(-1)).toMatchObject({ grade: 'invalid', doubts: ['page-hidden', 'rates-differ'] });
    analyser.configure({ standingDoubts: [] });
    expect(readAll(analyser, blocks.slice(40)).at(-1)).toMatchObject({ grade: 'valid', doubts: [] });
  });

  it('starts anew after a reset: no window reaches back over it', () => {
    const analyser = makeAnalyser();
    const blocks = [...blocksOf(makeSignal({ seconds: 3 }))];
    readAll(analyser, blocks.slice(0, 60));
    analyser.reset();
    const after = readAll(analyser, blocks.slice(75));
    expect(doubtsIn(after)).toEqual([]);
    expect(after[0]?.endFrame).toBeGreaterThanOrEqual(75 * BLOCK + 8192);
  });

  it('an input that hits full scale is told first of all', () => {
    const past = makeSignal({ seconds: 1, amplitude: () => 1.1 });
    const readings = readSignal(past.map((x) => Math.max(-1, Math.min(32767 / 32768, x))));
    expect(readings.at(-1)).toMatchObject({ grade: 'invalid', doubts: ['input-overload'] });
  });

  it('finds the window by itself when no tone is named', () => {
    const readings = readSignal(makeSignal({ seconds: 2 }), { expectedHz: null });
    expect(readings[0]?.windowFrames).toBe(16_384);
    expect(readings.at(-1)?.windowFrames).toBe(8192);
  });
});
