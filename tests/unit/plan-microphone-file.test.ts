/** A microphone's calibration file: what is read, what is refused and where. The microphones are invented. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type MicrophoneCurve,
  microphoneCorrectionDb,
  microphoneCurve,
  readsHighDb,
  readsHighWithin,
} from '../../src/plan/calibration/microphone-curve.ts';
import { type MicrophonePoint, readMicrophoneFile } from '../../src/plan/calibration/microphone-file.ts';
import { PlanRefused } from '../../src/plan/refused.ts';

const SEAT = [
  '* Seat microphone 7, measured against a reference in a small box',
  '"column one Hz, column two dB"',
  '# second comment',
  '',
  '20\t-1.8',
  '50\t-.4',
  '1000\t0',
  '10000\t+1.25',
  '20000\t3.1e0',
].join('\r\n');

const POINTS: MicrophonePoint[] = [
  { frequencyHz: 20, levelDb: -1.8 },
  { frequencyHz: 50, levelDb: -0.4 },
  { frequencyHz: 1000, levelDb: 0 },
  { frequencyHz: 10_000, levelDb: 1.25 },
  { frequencyHz: 20_000, levelDb: 3.1 },
];

const lines = (...all: string[]) => all.join('\n');

describe('a calibration file', () => {
  it('is read past its comments, with what few separators there are', () => {
    expect(readMicrophoneFile(SEAT)).toEqual({ points: POINTS, header: null, hasFurtherColumns: false });
  });

  it.each([
    ['a tab', '\t'],
    ['spaces', '   '],
    ['a comma', ','],
    ['a comma and a space', ', '],
    ['a semicolon', ';'],
    ['a semicolon between spaces', ' ; '],
  ])('holds the same figures divided by %s', (_, separator) => {
    const text = lines(...POINTS.map((one) => `${one.frequencyHz}.0${separator}${one.levelDb}`));
    expect(readMicrophoneFile(text).points).toEqual(POINTS);
  });

  it.each([
    ['a tab', '\t'],
    ['a space', ' '],
    ['a semicolon', ';'],
  ])('may have decimal commas where %s divides its columns', (_, separator) => {
    const text = lines(`20,5${separator}-0,3`, `31${separator}0`, `100,25${separator}1,75`);
    expect(readMicrophoneFile(text).points).toEqual([
      { frequencyHz: 20.5, levelDb: -0.3 },
      { frequencyHz: 31, levelDb: 0 },
      { frequencyHz: 100.25, levelDb: 1.75 },
    ]);
  });

  it('may begin with the mark that some editors put ahead of a text', () => {
    expect(readMicrophoneFile(`\uFEFF${SEAT}`).points).toEqual(POINTS);
    expect(readMicrophoneFile('\uFEFF20 1\n30 1').header).toBeNull();
  });

  it('says which line of words it passed over, and that there were further columns', () => {
    const read = readMicrophoneFile(lines('Frequency  Level  Phase', '20 -1.8 -12', '50 -0.4 3', ''));
    expect(read.header).toBe('Frequency  Level  Phase');
    expect(read.hasFurtherColumns).toBe(true);
    expect(read.points).toEqual(POINTS.slice(0, 2));
  });

  it.each([
    ['words in the middle', lines('20 1', '30 x', '40 1'), 'Line 2 reads "30 x"; a line must hold'],
    ['a second line of words', lines('Hz dB', 'more words', '20 1'), 'Line 2 reads "more words"'],
    ['one column', lines('20', '30'), 'Line 1 reads "20"'],
    ['an empty column', lines('20;;1', '30;;1'), 'Line 1 reads "20;;1"'],
    ['falling frequencies', lines('* c', '20 1', '100 1', '50 1'), 'Line 4 has 50 Hz after 100 Hz'],
    ['a frequency twice', lines('20 1', '20 1'), 'Line 2 has 20 Hz after 20 Hz'],
    ['0 Hz', lines('0 1', '20 1'), 'Line 1 begins with 0; a frequency must lie between 1 and 200000 Hz'],
    ['a negative frequency', lines('-20 1', '20 1'), 'Line 1 begins with -20'],
    ['sensitivities', lines('20 94.1', '30 94'), 'Line 1 has 94.1 dB at 20 Hz; levels must be deviations'],
    ['infinity', lines('20 1', '30 1e999'), 'Line 2 reads "30 1e999"'],
    ['one line only', lines('Hz dB', '20 1'), 'The file holds only one line of figures'],
    ['nothing', '* nothing here', 'The file holds no line of figures'],
    ['commas for everything', lines('20,5,0,3', '30,1,0,2'), 'Line 1 reads "20,5,0,3", and its commas'],
    ['commas in two roles', lines('20,5 0,3', '31,5'), 'Line 2 reads "31,5", and its commas'],
    ['commas in two roles at once', lines('20,5, 0,3', '31, 5'), 'Line 1 reads "20,5, 0,3", and its commas'],
    ['a comma for thousands', lines('900 0.5', '1,000 0'), 'Line 2 reads "1,000 0", and its commas'],
    ['bytes that are no text', '20 1\n\0\u0001', 'This is no microphone’s calibration file'],
  ])('is refused for %s, in one sentence that says where', (_, text, sentence) => {
    expect(() => readMicrophoneFile(text)).toThrow(PlanRefused);
    expect(() => readMicrophoneFile(text)).toThrow(sentence);
  });

  it('comes back as it was written, whatever the figures, separator and decimal mark', () => {
    const figures = fc.array(
      fc.record({
        frequencyHz: fc.integer({ min: 10, max: 2_000_000 }).map((tenths) => tenths / 10),
        levelDb: fc.integer({ min: -4000, max: 4000 }).map((hundredths) => hundredths / 100),
      }),
      { minLength: 2, maxLength: 60 },
    );
    const forms = fc.constantFrom(
      { separator: '\t', mark: '.' },
      { separator: ',', mark: '.' },
      { separator: ' ', mark: ',' },
      { separator: ';', mark: ',' },
    );
    fc.assert(
      fc.property(figures, forms, (some, { separator, mark }) => {
        const points = [...new Map(some.map((one) => [one.frequencyHz, one])).values()].sort(
          (a, b) => a.frequencyHz - b.frequencyHz,
        );
        fc.pre(points.length >= 2);
        const write = (value: number, decimals: number) => value.toFixed(decimals).replace('.', mark);
        const text = points
          .map((one) => `${write(one.frequencyHz, 1)}${separator}${write(one.levelDb, 2)}`)
          .join('\n');
        // toFixed writes -0.00 for a negative nothing; a number is a number.
        expect(readMicrophoneFile(text).points.map((one) => one.levelDb + 0)).toEqual(
          points.map((one) => one.levelDb + 0),
        );
        expect(readMicrophoneFile(text).points.map((one) => one.frequencyHz)).toEqual(
          points.map((one) => one.frequencyHz),
        );
      }),
    );
  });

  it('is read, or refused in one sentence, whatever it holds', () => {
    const soup = fc.string({ unit: fc.constantFrom(...'0123456789.,;-+ \t\n*#"eHz'), maxLength: 80 });
    fc.assert(
      fc.property(soup, (text) => {
        try {
          const { points } = readMicrophoneFile(text);
          for (const [at, point] of points.entries()) {
            expect(Number.isFinite(point.levelDb)).toBe(true);
            if (at > 0) expect(point.frequencyHz).toBeGreaterThan(points[at - 1]!.frequencyHz);
          }
        } catch (fault) {
          expect(fault).toBeInstanceOf(PlanRefused);
          expect((fault as Error).message).toMatch(/^[A-Z].*\.$/s);
        }
      }),
      { numRuns: 2000 },
    );
  });
});

describe('what a microphone deviates by', () => {
  const curve = microphoneCurve(POINTS, 'reads-high');

  it('is a straight line between points on a logarithmic axis', () => {
    // Half way between 1 and 10 kHz on that axis: sqrt(10) kHz, half of 1.25 dB.
    expect(readsHighDb(curve, 1000 * Math.sqrt(10))).toBeCloseTo(0.625, 12);
    // From 20 to 50 Hz by log(40 / 20) / log(50 / 20) = 0.75647: -1.8 + 0.75647 * 1.4 = -0.74094 dB.
    expect(readsHighDb(curve, 40)).toBeCloseTo(-0.74094, 5);
    for (const { frequencyHz, levelDb } of POINTS) expect(readsHighDb(curve, frequencyHz)).toBe(levelDb);
  });

  it('is not known beyond the ends; a band takes the end for it', () => {
    expect(readsHighDb(curve, 19.99)).toBeNull();
    expect(readsHighDb(curve, 20_001)).toBeNull();
    expect(microphoneCorrectionDb(curve, 10)).toBeNull();
    expect(readsHighWithin(curve, 10)).toBe(-1.8);
    expect(readsHighWithin(curve, 40_000)).toBe(3.1);
    expect(readsHighWithin(curve, 10_000)).toBe(1.25);
  });

  it('is subtracted where the file says how high it reads, and the other way where it holds the correction', () => {
    expect(microphoneCorrectionDb(curve, 10_000)).toBe(-1.25);
    const turned = microphoneCurve(POINTS, 'to-be-added');
    expect(microphoneCorrectionDb(turned, 10_000)).toBe(1.25);
    expect(Object.is(turned[2]?.readsHighDb, 0)).toBe(true);
  });

  it('stays between its neighbours everywhere', () => {
    fc.assert(
      fc.property(fc.double({ min: 20, max: 20_000, noNaN: true }), (frequencyHz) => {
        const value = readsHighDb(curve, frequencyHz) as number;
        const upper = POINTS.findIndex((point) => point.frequencyHz >= frequencyHz);
        const ends = [POINTS[Math.max(0, upper - 1)]!.levelDb, POINTS[upper]!.levelDb];
        expect(value).toBeGreaterThanOrEqual(Math.min(...ends) - 1e-12);
        expect(value).toBeLessThanOrEqual(Math.max(...ends) + 1e-12);
      }),
    );
  });

  it('survives being stored as text in a task', () => {
    const again = JSON.parse(JSON.stringify(curve)) as MicrophoneCurve;
    expect(again).toEqual(curve);
  });
});
