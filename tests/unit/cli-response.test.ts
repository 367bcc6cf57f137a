import { writeFileSync } from 'node:fs';
import { beforeAll, describe, expect, it, test } from 'vitest';
import { wavPieces } from '../../src/audio/wav/wav-encoder.ts';
import type { ResponseDocument } from '../../src/cli/response/response-document.ts';
import { sweepWithin } from '../../src/dsp/response/sweep-law.ts';
import { renderSweep } from '../../src/dsp/tones/sweep.ts';
import { toneSet } from '../../src/job/tone-set.ts';
import { builtCli } from './built-cli.ts';

const cli = builtCli();
const SWEEP = { kind: 'sweep', startHz: 20, endHz: 16_000, levelDbfs: -12, durationSeconds: 3 } as const;
const CORNER_HZ = 200;

function write(name: string, channels: (Float64Array | null)[], frames: number, sampleRateHz: number): void {
  const form = { sampleRateHz, bits: 24 as const, frames, ditherSeed: 3 };
  writeFileSync(cli.work(name), Buffer.concat([...wavPieces(form, channels)]));
}

/** Second-order Butterworth high-pass by the bilinear transform (R. Bristow-Johnson's formulas). */
function highPassed(samples: Float64Array, sampleRateHz: number): Float64Array {
  const w = (2 * Math.PI * CORNER_HZ) / sampleRateHz;
  const alpha = Math.sin(w) * Math.SQRT1_2;
  const b = (1 + Math.cos(w)) / 2 / (1 + alpha);
  const [a1, a2] = [(-2 * Math.cos(w)) / (1 + alpha), (1 - alpha) / (1 + alpha)];
  let [x1, x2, y1, y2] = [0, 0, 0, 0];
  return samples.map((x) => {
    const y = b * (x - 2 * x1 + x2) - a1 * y1 - a2 * y2;
    [x2, x1, y2, y1] = [x1, x, y1, y];
    return y;
  });
}

/** The sweep from `startSeconds` (below 0: its beginning is cut off), and two seconds more. */
function recording(startSeconds: number, sampleRateHz: number): Float64Array {
  // What runs past a slow rate's reach is not recorded: silence.
  const sweep = renderSweep(sweepWithin(SWEEP, sampleRateHz), sampleRateHz);
  const start = Math.round(startSeconds * sampleRateHz);
  const samples = new Float64Array(Math.max(0, start) + sweep.length + 2 * sampleRateHz);
  if (start >= 0) samples.set(sweep, start);
  else samples.set(sweep.subarray(-start));
  return samples;
}

beforeAll(() => {
  const set = toneSet(null, { sampleRateHz: 44_100, bits: 16 });
  const tracks = set.tracks.map((track) =>
    track.kind === 'sweep' && track.id === 'left-sweep' ? { ...track, ...SWEEP } : track,
  );
  writeFileSync(cli.work('manifest.json'), JSON.stringify({ ...set, tracks }));
  const noSweeps = set.tracks.filter((track) => track.kind !== 'sweep' && track.kind !== 'run');
  writeFileSync(cli.work('no-sweeps.json'), JSON.stringify({ ...set, tracks: noSweeps }));
  for (const rate of [22_050, 48_000]) {
    const plain = recording(0.7, rate);
    write(`plain-${rate}.wav`, [plain], plain.length, rate);
    write(`filtered-${rate}.wav`, [highPassed(plain, rate), null], plain.length, rate);
  }
  const late = highPassed(recording(-1, 48_000), 48_000);
  write('late.wav', [late], late.length, 48_000);
  write('tone.wav', [late.map((_, n) => 0.3 * Math.sin(0.13 * n))], late.length, 48_000);
});

function responded(...args: string[]): ResponseDocument {
  const ended = cli.run('response', ...args, '--manifest', 'manifest.json', '--json');
  expect(ended.stderr).toBe('');
  expect(ended.status).toBe(0);
  return JSON.parse(ended.stdout);
}

describe('the document', () => {
  it.each([48_000, 22_050])('names the filter in a recording at %i Hz of a set at 44100 Hz', (rate) => {
    const { channels, sweep } = responded(`filtered-${rate}.wav`);
    // The set has another sweep, of 15 Hz to 18 kHz: the one that was played is told.
    expect(sweep).toMatchObject({ tracks: ['left-sweep'], durationSeconds: 3 });
    const [channel, silent] = channels;
    const { frequenciesHz, magnitudesDb, phasesDeg, filters, sweepStartSeconds } = channel!;
    expect(filters).toMatchObject([
      { kind: 'high-pass', alignment: 'butterworth', order: 2, slopeDbPerOctave: 12 },
    ]);
    expect(Math.abs(filters[0]!.cutoffHz / CORNER_HZ - 1)).toBeLessThan(0.005);
    expect(filters[0]!.residualDb).toBeLessThan(0.05);
    expect(sweepStartSeconds).toBeCloseTo(0.7, 4);
    expect(magnitudesDb).toHaveLength(frequenciesHz.length);
    const corner = frequenciesHz.findIndex((hertz) => hertz > CORNER_HZ * 0.99);
    // At the corner -3 dB and a quarter turn ahead, the grid a percent aside.
    expect(magnitudesDb[corner]).toBeCloseTo(-3.01, 0);
    expect(Math.abs(phasesDeg[corner]! - 90)).toBeLessThan(3);
    expect(silent).toMatchObject({
      index: 1,
      frequenciesHz: [],
      magnitudesDb: [],
      filters: [],
      verdict: null,
    });
  });

  it('divides by a reference: what is left of a recording over itself is flat', () => {
    const { channels } = responded('filtered-48000.wav', '--reference', 'plain-48000.wav');
    expect(channels[0]!.filters).toMatchObject([{ kind: 'high-pass', alignment: 'butterworth', order: 2 }]);
    const same = responded('plain-48000.wav', '--reference', 'plain-48000.wav').channels[0]!;
    expect(same).toMatchObject({ filters: [], verdict: 'flat' });
    for (const level of same.magnitudesDb) expect(Math.abs(level!)).toBeLessThan(1e-4);
  });

  it('takes no missing beginning for a filter', () => {
    const { frequenciesHz, filters, sweepStartSeconds } = responded('late.wav').channels[0]!;
    // A second of three from 20 Hz to 16 kHz ends at 20 * 800^(1/3) = 186 Hz.
    expect(sweepStartSeconds).toBeCloseTo(-1, 2);
    expect(frequenciesHz[0]).toBeGreaterThan(186);
    for (const filter of filters) expect(filter.order ?? 2).toBe(2);
  });
});

test('the table names the filter and the third octaves', () => {
  const ended = cli.run('response', 'filtered-48000.wav', '--manifest', 'manifest.json');
  expect(ended.stderr).toBe('');
  expect(ended.status).toBe(0);
  expect(ended.stdout).toMatch(
    /high-pass at (199|200)[.\d]* Hz ± .*Butterworth, order 2 \(12 dB per octave\)/,
  );
  expect(ended.stdout).toMatch(/^ *1000 +-?0\.0\d/m);
  expect(ended.stdout).toContain('channel 1: the sweep is not in it');
});

describe('what cannot be used is said in one line, with status 2', () => {
  const manifest = ['--manifest', 'manifest.json'];
  it.each([
    ['no manifest', ['plain-48000.wav'], /No manifest was named/],
    ['no file', manifest, /No file was named/],
    ['two files', ['plain-48000.wav', 'tone.wav', ...manifest], /one file too many/],
    ['no sweep in it', ['tone.wav', ...manifest], /tone\.wav: no sweep of the manifest/],
    ['no sweep in the set', ['tone.wav', '--manifest', 'no-sweeps.json'], /holds no track of kind "sweep"/],
    ['an unknown track', ['tone.wav', ...manifest, '--track', 'rear'], /it has left-sweep, right-sweep/],
    [
      'a recording as manifest',
      ['tone.wav', '--manifest', 'tone.wav'],
      /tone\.wav: This file is not JSON; it fails at line 1, column 1; a manifest of/,
    ],
    ['a missing manifest', ['tone.wav', '--manifest', 'none.json'], /none\.json: there is no such file/],
    [
      'a reference at another rate',
      ['filtered-48000.wav', ...manifest, '--reference', 'plain-22050.wav'],
      /plain-22050\.wav: a reference must have the recording's sample rate, 48000 Hz, not 22050 Hz/,
    ],
    [
      'a reference without the sweep',
      ['filtered-48000.wav', ...manifest, '--reference', 'tone.wav'],
      /tone\.wav: no sweep of the manifest/,
    ],
  ])('%s', (_, args, sentence) => {
    const ended = cli.run('response', ...args);
    expect(ended.status).toBe(2);
    expect(ended.stdout).toBe('');
    expect(ended.stderr).toMatch(sentence);
    expect(ended.stderr.trim().split('\n')).toHaveLength(1);
  });
});
