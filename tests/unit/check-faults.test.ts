/** Each fault that a recorded run track can show: named where it is, and alone. */
import { describe, expect, it } from 'vitest';
import {
  checked,
  clippedAt,
  door,
  failedAt,
  filtered,
  HATCHBACK,
  hatchbackRun,
  named,
  noisy,
  played,
  RATE_HZ,
  scaled,
} from './run-recordings.ts';

const DOORS = ['front-left', 'front-right'];
const run = hatchbackRun();
const [left, right] = played(run);
const doors = [door(left), door(right)] as const;
/** The plan's target is for a tone at minus the overlap, 5 dB: full scale is so much more. */
const VOLTS_PER_FS = Math.sqrt(75 * 4) * 10 ** (5 / 20);

/** Peak of the full tone, 1.9 dB down. */
const CEILING = 10 ** (-6.9 / 20);

/** Turned off while the left side plays its tone of full power. */
function withoutFullTone(samples: Float32Array): Float32Array {
  const { startSeconds, durationSeconds } = run.parts.find(({ id }) => id === 'front-left-level')!;
  const from = Math.round(startSeconds * RATE_HZ);
  return samples.map((sample, at) => (at < from || at > from + durationSeconds * RATE_HZ ? sample : 0));
}

const negated = (samples: Float32Array) => samples.map((sample) => -sample);

describe('a healthy vehicle', () => {
  it('passes at the doors, against volts and filters, with every figure in the parts', async () => {
    const report = await checked({ run, channels: doors, at: DOORS, voltsPerFs: VOLTS_PER_FS });
    expect(named(report)).toEqual([]);
    expect(report).toMatchObject({ pass: true, missing: [] });
    expect(report.markers).toMatchObject({
      found: true,
      startFound: true,
      endFound: true,
      skewFrom: 'markers',
    });
    expect(report.markers.startSeconds).toBeCloseTo(run.markers.startSeconds, 4);
    const level = report.parts.find(({ id }) => id === 'front-left-level')!;
    expect(level).toMatchObject({ channel: 'front-left', verdict: 'passed', why: '' });
    // 16 bits with dither: parts in a hundred thousand.
    expect(level.reading.levelVolts as number).toBeCloseTo(Math.sqrt(300), 2);
    expect(level.limits.targetVolts as number).toBeCloseTo(Math.sqrt(300), 9);
  });

  it('passes at the subwoofer, whose filter leaves little of the markers and whose noise holds the keep-alive tone', async () => {
    const both = left.map((sample, at) => (sample + right[at]!) / 2);
    const sum = filtered(filtered(both, 'low-pass', 80), 'high-pass', 25, 1);
    const report = await checked({ run, channels: [sum], at: ['subwoofer'] });
    expect(named(report)).toEqual([]);
    expect(report.parts.map(({ id }) => id)).toEqual(
      run.parts
        .filter(({ serves, kind }) => serves.includes('subwoofer') || kind === 'silence')
        .map(({ id }) => id),
    );
    expect(report.pass).toBe(true);
  });

  it('passes by microphone, and by two of which each hears one side', async () => {
    const mixed = left.map((sample, at) => 0.3 * (sample + right[at]!));
    const mono = await checked({ run, channels: [mixed] });
    expect(named(mono)).toEqual([]);
    expect(mono.parts.map(({ id }) => id)).toEqual(run.parts.map(({ id }) => id));
    const two = await checked({ run, channels: [left, right] });
    expect(named(two)).toEqual([]);
    expect(two.pass).toBe(true);
    expect(
      two.parts.filter(({ id }) => id === 'front-left-level').map((part) => part.recordedChannel),
    ).toEqual([0]);
  });

  it('is read without a job, and what no job says is not judged', async () => {
    const report = await checked({ run, job: null, channels: [left, right], at: DOORS });
    expect(named(report)).toEqual([]);
    expect(report.parts.find(({ kind }) => kind === 'sweep')).toMatchObject({
      verdict: 'not-judged',
      pass: true,
      why: expect.stringContaining('No job'),
    });
  });
});

describe('faults at the terminals, one on each side', () => {
  it.each([
    {
      what: 'a ceiling 1.9 dB too low; leads swapped',
      channels: [clippedAt(doors[0], CEILING), negated(doors[1])],
      left: { names: ['front-left: clipped'], failed: ['front-left-level'] },
      right: { names: ['front-right: channel-reversed'], failed: ['right-polarity'] },
    },
    {
      what: '2 dB low; a filter an octave off',
      channels: [scaled(doors[0], -2), filtered(right, 'high-pass', 160)],
      left: { names: ['front-left: left-low'], failed: ['front-left-reduced', 'front-left-level'] },
      right: { names: ['front-right: filter-octave-off'], failed: ['right-sweep'] },
    },
    {
      what: 'noise 50 dB below; no filter',
      channels: [noisy(doors[0], -55), right],
      left: { names: ['front-left: noise-high'], failed: ['silence'] },
      right: { names: ['front-right: filter-missing'], failed: ['right-sweep'] },
    },
    {
      what: 'the other side as well; nothing',
      channels: [doors[0].map((sample, at) => sample + 0.3 * doors[1][at]!), doors[1]],
      left: { names: ['front-left: sides-mixed'], failed: ['left-identification', 'right-identification'] },
      right: { names: [], failed: [] },
    },
  ])('$what', async ({ channels, left: onLeft, right: onRight }) => {
    const report = await checked({ run, channels, at: DOORS });
    expect(named(report)).toEqual([...onLeft.names, ...onRight.names]);
    expect(failedAt(report, 'front-left')).toEqual(onLeft.failed);
    expect(failedAt(report, 'front-right')).toEqual(onRight.failed);
    expect(report.pass).toBe(false);
    const clipped = report.parts.find(({ reading }) => reading.clipping === 'clipped');
    // Dithered 16 bits behind an ideal limiter: the fit is exact to a few thousandths.
    if (clipped !== undefined) expect(clipped.reading.overdriveDb as number).toBeCloseTo(1.9, 1);
  });

  it('a target missed, in volts', async () => {
    const report = await checked({
      run,
      channels: [scaled(doors[0], -1.5), doors[1]],
      at: DOORS,
      voltsPerFs: VOLTS_PER_FS,
    });
    expect(named(report)).toEqual(['front-left: level-off']);
    expect(report.faults[0]!.sentence).toContain('1.5 dB below its target');
  });

  it('sides swapped, and a dead channel', async () => {
    expect(named(await checked({ run, channels: [doors[1], doors[0]], at: DOORS }))).toEqual([
      'front-left: wrong-side',
      'front-right: wrong-side',
    ]);
    const dead = await checked({ run, channels: [doors[0], new Float32Array(left.length)], at: DOORS });
    expect(named(dead)).toEqual(['front-right: dead-channel']);
    expect(failedAt(dead, 'front-left')).toEqual([]);
  });

  it('a converter that wakes only after the soft tones', async () => {
    const opensAt = Math.round((run.parts.find(({ id }) => id === 'silence')!.startSeconds - 0.1) * RATE_HZ);
    const channels = doors.map((samples) => samples.map((sample, at) => (at < opensAt ? 0 : sample)));
    const report = await checked({ run, channels, at: DOORS });
    expect(report.markers).toMatchObject({ startFound: false, endFound: true, skewFrom: 'tones' });
    expect(named(report)).toEqual(['front-left: converter-asleep', 'front-right: converter-asleep']);
    expect(failedAt(report, 'front-left')).toEqual(['left-identification', 'front-left-reduced']);
  });

  it('an amplifier that turns itself off at full power', async () => {
    const report = await checked({ run, channels: [withoutFullTone(doors[0]), doors[1]], at: DOORS });
    expect(named(report)).toEqual(['front-left: fell-silent']);
    expect(failedAt(report, 'front-left')).toEqual(['front-left-level']);
    expect(report.pass).toBe(false);
  });

  it('a recorder that turns itself up', async () => {
    // Levels above -40 dBFS are halved in decibels within a fifth of a second.
    let envelope = 0;
    const squeezed = doors[0].map((sample) => {
      envelope = Math.max(Math.abs(sample), envelope * (1 - 1 / (0.2 * RATE_HZ)));
      return envelope < 0.01 ? sample : sample * Math.sqrt(0.01 / envelope);
    });
    const report = await checked({ run, channels: [squeezed, doors[1]], at: DOORS });
    expect(named(report)).toContain('front-left: input-not-honest');
    expect(failedAt(report, 'front-left')).toContain('level-steps');
    expect(failedAt(report, 'front-right')).toEqual([]);
  });

  it('two channels that are both upside down agree, and are left alone', async () => {
    const report = await checked({ run, channels: doors.map(negated), at: DOORS });
    expect(named(report)).toEqual([]);
    expect(report.parts.find(({ kind }) => kind === 'polarity')!.why).toContain('the channels agree');
  });
});

describe('by microphone', () => {
  const bass = filtered(
    left.map((sample, at) => (sample + right[at]!) / 2),
    'low-pass',
    80,
  );
  const cabin = (a: Float32Array, b: Float32Array) =>
    a.map((sample, at) => 0.3 * (sample + b[at]! + bass[at]!));

  it('a side that is the wrong way round against the others', async () => {
    const report = await checked({ run, channels: [cabin(doors[0], negated(doors[1]))] });
    expect(named(report)).toEqual(['front-right+rear-right: channel-reversed']);
    // Both doors of a side play the pulses together: which one it is, or whether the softer one is right, nobody hears.
    expect(report.faults[0]).toMatchObject({
      sentence: expect.stringContaining('one or more'),
      remedy: expect.stringContaining('Find out which'),
    });
    expect(report.parts.find(({ id }) => id === 'left-polarity')).toMatchObject({
      verdict: 'not-judged',
      why: expect.stringMatching(/Front left door and rear left door were heard together/),
      reading: { polarity: 'upright' },
    });
  });

  it('a side that is silent, and one that is far too soft', async () => {
    const silent = await checked({ run, channels: [cabin(doors[0], new Float32Array(left.length))] });
    expect(named(silent)).toContain('front-right+rear-right: dead-channel');
    const soft = await checked({ run, channels: [cabin(scaled(doors[0], -10), doors[1])] });
    expect(named(soft)).toEqual(['front-left+rear-left: left-low']);
  });

  it('a side that falls silent at full power', async () => {
    const report = await checked({ run, channels: [cabin(withoutFullTone(doors[0]), doors[1])] });
    expect(named(report)).toEqual(['front-left+rear-left: fell-silent']);
  });

  it('a ceiling that cuts full level and not the reduced one', async () => {
    const report = await checked({ run, channels: [cabin(clippedAt(doors[0], 0.4), doors[1])] });
    expect(named(report)).toEqual(['front-left+rear-left: clipped']);
  });
});

describe('a job and points that do not fit', () => {
  it.each([
    [['front-left'], /1 point was named, and the recording has 2 channels/],
    [['front-left', 'front-left'], /named twice/],
    [['none', 'none'], /at least one must be at a point/],
    [['front-left', 'tailgate'], /no channel "tailgate"/],
  ])('%j', (at, sentence) => {
    expect(() => checked({ run, channels: doors, at })).toThrow(sentence);
  });

  it('a point that the track does not serve', () => {
    expect(() => checked({ run, job: null, channels: doors, at: ['left', 'right'] })).toThrow(
      /serves front-left/,
    );
  });

  it('a lead that is not connected is not read', async () => {
    const report = await checked({
      run,
      channels: [doors[0], noisy(doors[1], -10)],
      at: ['front-left', 'none'],
    });
    expect(new Set(report.parts.map(({ channel }) => channel))).toEqual(new Set(['front-left']));
    expect(report.pass).toBe(true);
    expect(HATCHBACK.channels.map(({ id }) => id)).not.toContain('none');
  });
});
