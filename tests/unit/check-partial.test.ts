/** Recordings that hold the run track in part, or not at all. */
import { describe, expect, it } from 'vitest';
import { checked, hatchbackRun, named, noisy, played, RATE_HZ } from './run-recordings.ts';

const DOORS = ['front-left', 'front-right'];
const run = hatchbackRun({ contents: ['identification', 'reduced', 'noise', 'full'], silenceSeconds: 2 });
const sides = played(run);
const { markers, parts } = run;

const cut = (fromSeconds: number, toSeconds: number) =>
  sides.map((samples) => samples.slice(Math.round(fromSeconds * RATE_HZ), Math.round(toSeconds * RATE_HZ)));
const checkedCut = (fromSeconds: number, toSeconds: number) =>
  checked({ run, job: null, at: DOORS, channels: cut(fromSeconds, toSeconds) });
const whole = run.durationSeconds;
const place = (id: string) => parts.find((part) => part.id === id)!;
const doorsHear = parts.filter(({ serves }) => !serves.includes('subwoofer'));

describe('a part of the run track', () => {
  it('begun late: by the end marker, with the clocks from the tones; what is lost is missing and named', async () => {
    const from = place('front-left-reduced').startSeconds - 0.1;
    const report = await checkedCut(from, whole);
    expect(report.markers).toMatchObject({
      found: true,
      startFound: false,
      endFound: true,
      skewFrom: 'tones',
    });
    expect(report.markers.startSeconds).toBeCloseTo(markers.startSeconds - from, 4);
    // Both run on one clock here; half a second of a clean tone tells it to a hundredth of a ppm.
    expect(Math.abs(report.markers.clockSkewPpm!)).toBeLessThan(0.1);
    expect(report.missing).toEqual(['left-identification', 'right-identification']);
    expect(named(report)).toEqual([]);
    expect(report.pass).toBe(false);
    const lost = report.parts.filter(({ verdict, pass }) => verdict === 'missing' && !pass);
    expect(new Set(lost.map(({ id }) => id))).toEqual(new Set(report.missing));
    expect(lost[0]!.why).toMatch(
      /Not in the recording, which begins 8\.\d s into the track; this part begins at \d\.\d s\./,
    );
    const there = report.parts.filter(({ verdict }) => verdict === 'passed').map(({ id }) => id);
    expect(there).toContain('front-left-level');
  });

  it('without its lead-in passes all the same: nothing is read from that', async () => {
    const report = await checkedCut(markers.startSeconds - 0.2, whole);
    expect(report).toMatchObject({ pass: true, missing: [] });
    expect(report.parts.find(({ id }) => id === 'wake')).toMatchObject({ verdict: 'missing', pass: true });
  });

  it('ended early: what is behind the end is missing', async () => {
    const report = await checkedCut(0, place('silence').startSeconds + 0.1);
    expect(report.markers).toMatchObject({ startFound: true, endFound: false });
    expect(report.missing).toEqual(['silence', 'front-left-level', 'front-right-level']);
    expect(report.parts.map(({ id }) => id)).toEqual(
      doorsHear.flatMap(({ id, serves }) => (serves.length === 0 ? [id, id] : [id])),
    );
  });

  it.each([
    [
      'behind a second of junk, from the first soft tone on',
      place('front-left-reduced').startSeconds - 0.4,
      1,
    ],
    ['from the beeps on', place('right-identification').startSeconds, 0],
  ])('without either marker is placed by when its tones sound: %s', async (_, fromSeconds, junkAhead) => {
    const to = place('front-left-level').startSeconds + place('front-left-level').durationSeconds + 0.3;
    const junk = noisy(new Float32Array(junkAhead * RATE_HZ), -20);
    const channels = cut(fromSeconds, to).map((samples) => Float32Array.from([...junk, ...samples]));
    const report = await checked({ run, job: null, at: DOORS, channels });
    expect(report.markers).toMatchObject({
      found: false,
      startFound: false,
      endFound: false,
      skewFrom: 'tones',
    });
    // Edges of 15 ms, seen through windows of 20 ms: two milliseconds are far inside every margin.
    const expected = markers.startSeconds - fromSeconds + junkAhead;
    expect(Math.abs(report.markers.startSeconds! - expected)).toBeLessThan(0.002);
    expect(named(report)).toEqual([]);
    const passed = report.parts.filter(({ verdict }) => verdict === 'passed').map(({ id }) => id);
    expect(passed).toEqual(
      expect.arrayContaining(['front-left-reduced', 'front-right-reduced', 'silence', 'front-left-level']),
    );
    expect(report.missing).toContain('front-right-level');
  });

  it('two passes in one recording: the markers of one of them are taken', async () => {
    const twice = sides.map((samples) => Float32Array.from([...samples.slice(0, 11 * RATE_HZ), ...samples]));
    const report = await checked({ run, job: null, at: DOORS, channels: twice });
    expect(report).toMatchObject({ pass: true, missing: [] });
    expect(report.markers.startSeconds).toBeCloseTo(11 + markers.startSeconds, 3);
  });
});

describe('no run track', () => {
  it.each([
    ['noise', noisy(new Float32Array(8 * RATE_HZ), -20)],
    ['silence', new Float32Array(8 * RATE_HZ)],
  ])('%s: nothing is found, and nothing passes', async (_, samples) => {
    const report = await checked({ run, job: null, channels: [samples] });
    expect(report).toEqual({
      markers: {
        found: false,
        startSeconds: null,
        clockSkewPpm: null,
        clockSkewUncertaintyPpm: null,
        startFound: false,
        endFound: false,
        skewFrom: null,
      },
      parts: [],
      missing: [],
      faults: [],
      pass: false,
    });
  });
});
