/** A saved recording, run again by the program as built; and whatever is wrong with it, in one sentence. */
import { writeFileSync } from 'node:fs';
import fc from 'fast-check';
import { beforeAll, describe, expect, it, test } from 'vitest';
import { floatWav } from '../../src/audio/wav/float-wav.ts';
import { JobRefused } from '../../src/job/refused.ts';
import { replay } from '../../src/job/replay.ts';
import { readSessionLog, type SessionLog } from '../../src/job/session-log.ts';
import { LOAD_PROCEDURE } from '../../src/procedure/load/load-steps.ts';
import { SOURCE_PROCEDURE } from '../../src/procedure/source/source-steps.ts';
import { builtCli } from './built-cli.ts';
import { RigHand } from './source-rig-hand.ts';

const cli = builtCli();
const RATE_HZ = 48_000;
const tone = (frequencyHz: number) => ({ frequencyHz, levelDbfs: -6 });
const TONES = { middle: tone(997), bass: tone(45), treble: tone(8000) };

function playedTake(hand: RigHand<never, never, never, unknown>, purpose: object, frequencyHz: number): void {
  const spec = { kind: 'sine', ...tone(frequencyHz), durationSeconds: 60 } as const;
  hand.take(purpose, { kind: 'tone', channelIndex: 0, frequencyHz }, spec, 'left');
}

/** The load check, whole: six takes, and accepted. */
function checkedLoad(): { log: SessionLog; channels: Float32Array[] } {
  const task = { side: 'left', step: 20, tones: TONES, voltsPerFs: 20 } as const;
  const hand = new RigHand('load', LOAD_PROCEDURE, task);
  hand.turn({ probe: 'radio-left', volumeStep: task.step });
  for (const resistors of ['connected', 'off'] as const) {
    hand.turn({ loadResistors: resistors === 'connected' });
    for (const name of ['middle', 'bass', 'treble'] as const) {
      playedTake(hand as never, { resistors, tone: name }, TONES[name].frequencyHz);
    }
  }
  hand.accept();
  return hand.recording();
}

const { log, channels } = checkedLoad();

/** The log with one thing in it bent: each step of `path` a key or an index. */
function bent(path: (string | number)[], value: unknown): unknown {
  const copy = structuredClone(log) as unknown;
  const at = path.slice(0, -1).reduce((one, step) => (one as never)[step], copy);
  (at as Record<string | number, unknown>)[path.at(-1)!] = value;
  return copy;
}

function withEntries(entries: unknown[]): unknown {
  return { ...log, entries };
}

const [start, firstTake] = log.entries;
const accept = log.entries.at(-1);

beforeAll(() => {
  writeFileSync(cli.work('load.wav'), new Uint8Array(floatWav(channels, RATE_HZ)));
  writeFileSync(cli.work('other-rate.wav'), new Uint8Array(floatWav(channels, 44_100)));
  writeFileSync(cli.work('short.wav'), new Uint8Array(floatWav([channels[0]!.subarray(0, 1000)], RATE_HZ)));
  const hole = channels[0]!.map((sample, frame) => (frame === 7 ? Number.NaN : sample));
  writeFileSync(cli.work('nan.wav'), new Uint8Array(floatWav([hole], RATE_HZ)));
  writeFileSync(cli.work('letter.wav'), 'this is a letter and no recording');
});

test('replays into the record that was accepted', () => {
  // A byte-order mark, as some editors leave one.
  writeFileSync(cli.work('good.session.json'), `\uFEFF${JSON.stringify(log)}`);
  const { status, stdout, stderr } = cli.run('replay', 'good.session.json');
  expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
  const { records } = JSON.parse(stdout);
  expect(records).toMatchObject([
    { kind: 'load', id: 'record-1', result: { side: 'left', sensesLoad: false } },
  ]);
});

describe.each<[string, string | object | null, RegExp]>([
  ['no such log', null, /bad\.session\.json: there is no such file/],
  [
    'no JSON',
    '{ "format": ',
    /bad\.session\.json: This file is not JSON; it fails at line 1, column 13; a log of/,
  ],
  [
    'another format',
    { format: 'kneepoint-job', version: 2 },
    /format is "kneepoint-job"; it must be "kneepoint-session"/,
  ],
  ['a list', [], /the document is an empty list; it must be an object/],
  ['a newer version', { ...log, version: 2 }, /version is 2; it must be 1/],
  [
    'a station that takes nothing',
    { ...log, kind: 'supply' },
    /of "supply"; this version replays input, noise, source/,
  ],
  [
    'a name that every object has',
    { ...log, kind: 'constructor' },
    /of "constructor"; this version replays input/,
  ],
  [
    'a WAV in another folder',
    { ...log, file: '../load.wav' },
    /file is "\.\.\/load\.wav"; it must be a plain file name/,
  ],
  ['a missing WAV', { ...log, file: 'none.wav' }, /none\.wav: there is no such file/],
  ['no WAV', { ...log, file: 'letter.wav' }, /letter\.wav: Not a WAV file/],
  [
    'a WAV of another rate',
    { ...log, file: 'other-rate.wav' },
    /other-rate\.wav: its rate is 44100 Hz; the log was made at 48000 Hz/,
  ],
  [
    'a WAV that is too short',
    { ...log, file: 'short.wav' },
    /short\.wav: The log has a take from frame 0 to \d+; this file ends at 1000/,
  ],
  [
    'a take past all memory',
    bent(['entries', 1, 'frames'], 1e15) as object,
    /load\.wav: The log has a take from frame 0 to 1000000000000000/,
  ],
  ['a sample that is none', { ...log, file: 'nan.wav' }, /nan\.wav: Frame 7 .* is not a number/],
  ['nothing done', withEntries([]) as object, /entries is an empty list/],
  [
    'no task first',
    withEntries([firstTake]) as object,
    /entries\[0\] \(take\) makes no sense: a session begins with its task/,
  ],
  [
    'a task that cannot be',
    bent(['entries', 0, 'task', 'step'], 0) as object,
    /entries\[0\] \(start\) makes no sense: .*volume step 0; it must be a whole number/,
  ],
  [
    'a task without tones',
    bent(['entries', 0, 'task', 'tones'], null) as object,
    /entries\[7\] \(accept\) makes no sense: result\.tones is null; it must be an object/,
  ],
  ['an entry of no type', withEntries([start, { type: 'wait' }]) as object, /entries\[1\]/],
  [
    'an event of another station',
    withEntries([start, { type: 'hand', event: { type: 'way' } }]) as object,
    /entries\[1\] \(hand\) is not of the shape that "load" works with; a log is needed as the app saved it/,
  ],
  [
    'an event that is nothing',
    withEntries([start, { type: 'hand', event: null }]) as object,
    /entries\[1\] \(hand\) is not of the shape/,
  ],
  [
    'a take of no kind',
    bent(['entries', 1, 'request', 'kind'], 'smell') as object,
    /entries\[1\] \(take\) makes no sense: No take is of kind "smell"/,
  ],
  [
    'a channel that is not there',
    bent(['entries', 1, 'request', 'channelIndex'], 4) as object,
    /entries\[1\] \(take\) makes no sense: Input channel 5 was asked for; this recording has 1/,
  ],
  [
    'a purpose that is none',
    bent(['entries', 1, 'purpose'], null) as object,
    /entries\[1\] \(take\) is not of the shape/,
  ],
  [
    'a doubt that is none',
    bent(['entries', 1, 'doubts'], ['mood']) as object,
    /entries\[1\]\.doubts\[0\] is "mood"; no doubt is called so/,
  ],
  [
    'accepted too early',
    withEntries([start, firstTake, accept]) as object,
    /entries\[2\] \(accept\) makes no sense: The load is compared once all tones/,
  ],
  [
    'a record that cannot be',
    bent(['entries', 0, 'task', 'side'], 'middle') as object,
    /entries\[7\] \(accept\) makes no sense: result\.side is "middle"; it must be one of "left", "right"/,
  ],
])('%s', (_, content, sentence) => {
  it('is one sentence and status 2', () => {
    if (content !== null) {
      writeFileSync(
        cli.work('bad.session.json'),
        typeof content === 'string' ? content : JSON.stringify(content),
      );
    }
    const { status, stdout, stderr } = cli.run('replay', 'bad.session.json');
    expect(stderr).toMatch(sentence);
    expect(stderr).toMatch(/^kneepoint: [^\n]+\n$/);
    expect(stderr).not.toMatch(/fault of the program|undefined/);
    expect({ status, stdout }).toEqual({ status: 2, stdout: '' });
  });
});

test.each([[[]], [['good.session.json', 'more.json']]])('needs one log, not %j', (args) => {
  const { status, stdout, stderr } = cli.run('replay', ...args);
  expect(stderr).toMatch(
    /^kneepoint: "kneepoint replay FILE\.session\.json" takes one log of a station\.\n$/,
  );
  expect({ status, stdout }).toEqual({ status: 2, stdout: '' });
});

/** Every place in a document, as a path. */
function places(value: unknown, path: (string | number)[] = []): (string | number)[][] {
  if (typeof value !== 'object' || value === null) return [path];
  const inner = Array.isArray(value)
    ? value.map((one, index) => [index, one] as const)
    : Object.entries(value);
  return [path, ...inner.flatMap(([key, one]) => places(one, [...path, key]))].filter(
    (one) => one.length > 0,
  );
}

it('property: a log bent anywhere replays, or is refused in a sentence', async () => {
  const task = {
    point: 'radio',
    side: 'left',
    volumeSteps: 40,
    tones: TONES,
    voltsPerFs: 20,
    voltsUncertaintyDb: 0.1,
  } as const;
  const hand = new RigHand('source', SOURCE_PROCEDURE, task);
  hand.turn({ probe: 'radio-left', volumeStep: 10 });
  playedTake(hand as never, { step: 10, tone: 'middle' }, 997);
  const source = hand.recording();
  const [begun, taken] = source.log.entries;
  const way = {
    type: 'hand',
    event: { type: 'way', way: { every: 5, order: 'by-tone', without: ['bass'] } },
  };
  const whole = JSON.parse(JSON.stringify({ ...source.log, entries: [begun, way, taken] }));
  const values = [null, -1, 0, 0.5, 1e9, '', 'left', [], {}, [[]], true];
  await fc.assert(
    fc.asyncProperty(fc.constantFrom(...places(whole)), fc.constantFrom(...values), async (path, value) => {
      const copy = structuredClone(whole);
      const at = path.slice(0, -1).reduce((one, step) => one[step], copy);
      at[path.at(-1)!] = value;
      try {
        const found = await replay(readSessionLog(JSON.stringify(copy)), async (atFrame, frames) =>
          source.channels.map((samples) =>
            samples.slice(atFrame, atFrame + Math.min(frames, samples.length)),
          ),
        );
        expect(found).toEqual([]);
      } catch (error) {
        if (!(error instanceof JobRefused)) throw error;
        expect(error.message).toMatch(/^[^\n]+\.$/);
      }
    }),
    { numRuns: 200 },
  );
});
