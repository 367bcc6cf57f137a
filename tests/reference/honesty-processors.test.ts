import { readFileSync, writeFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { judgeInput } from '../../src/dsp/honesty/judge-input.ts';
import type { InputFault, InputJudgement } from '../../src/dsp/honesty/judgement.ts';
import { type Conditions, cleanTrial, STEPS } from '../unit/honesty-recordings.ts';
import { lacks, runFfmpeg, runSox } from './oracle.ts';
import { scratchFolder } from './scratch-folder.ts';

const scratch = scratchFolder();

function read(path: string): Float64Array {
  const bytes = readFileSync(path);
  return new Float64Array(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength));
}

/** A clean recording's first channel through SoX's effects, back at `outHz`. */
function throughSox(effects: string[], outHz: number, conditions: Conditions): InputJudgement {
  const { channels, sampleRateHz } = cleanTrial(conditions);
  writeFileSync(scratch('in.f64'), new Uint8Array(channels[0]!.buffer));
  const input = ['-t', 'f64', '-r', String(sampleRateHz), '-c', '1', scratch('in.f64')];
  runSox('-D', '-V1', ...input, '-t', 'f64', scratch('out.f64'), ...effects);
  return judgeInput({ channels: [read(scratch('out.f64'))], sampleRateHz: outHz, steps: STEPS });
}

function throughFfmpeg(filter: string, outHz: number, conditions: Conditions): InputJudgement {
  const { channels, sampleRateHz } = cleanTrial(conditions);
  writeFileSync(scratch('in.f64'), new Uint8Array(channels[0]!.buffer));
  const input = ['-f', 'f64le', '-ar', String(sampleRateHz), '-ac', '1', '-i', scratch('in.f64')];
  runFfmpeg(...input, '-af', filter, '-c:a', 'pcm_f64le', '-f', 'f64le', scratch('out.f64'));
  return judgeInput({ channels: [read(scratch('out.f64'))], sampleRateHz: outHz, steps: STEPS });
}

const faultsOf = ({ findings }: InputJudgement): InputFault[] => findings.map((finding) => finding.fault);

interface Case {
  what: string;
  filter: string[];
  faults: InputFault[];
  says: RegExp;
  outHz?: number;
  conditions?: Conditions;
}

const SOX: Case[] = [
  {
    what: 'compand with a slow release, as automatic gain',
    filter: ['compand', '0.3,2', '-80,-80,-40,-20,-10,-14', '0', '-40'],
    faults: ['automatic-gain', 'noise-gate'],
    says: /while the tone holds still; level steps are off by/,
  },
  {
    what: 'compand, immediate, as a compressor of 2:1 from -24 dB up',
    filter: ['compand', '0.005,0.02', '-80,-80,-24,-24,0,-12'],
    faults: ['compression'],
    says: /Loud steps come back too soft/,
  },
  {
    what: 'compand as a gate',
    filter: ['compand', '0.01,0.08', '-200,-200,-70.1,-140,-70,-70,0,0'],
    faults: ['noise-gate'],
    says: /A gate closes on silence/,
    conditions: { noiseBelowDb: 68 },
  },
  {
    what: 'sinc at 8 kHz',
    filter: ['sinc', '-8k'],
    faults: ['band-limit'],
    says: /above [78]\.\d kHz/,
  },
  {
    what: 'rate 16000 and back',
    filter: ['rate', '16000', 'rate', '48000'],
    faults: ['band-limit'],
    says: /above 7\.[5-9] kHz/,
  },
  {
    what: 'rate 8000 and back',
    filter: ['rate', '8000', 'rate', '48000'],
    faults: ['band-limit'],
    says: /above 3\.[7-9] kHz/,
  },
  {
    what: '44.1 to 48 kHz, low quality',
    filter: ['rate', '-l', '48000'],
    faults: ['resampled'],
    says: /ends at 18\.\d kHz, below the 24\.0 kHz/,
    outHz: 48_000,
    conditions: { sampleRateHz: 44_100 },
  },
  {
    what: '44.1 to 48 kHz, best quality',
    filter: ['rate', '-v', '48000'],
    faults: ['resampled'],
    says: /ends at 21\.\d kHz, below the 24\.0 kHz/,
    outHz: 48_000,
    conditions: { sampleRateHz: 44_100 },
  },
  {
    what: '48 to 44.1 kHz, low quality',
    filter: ['rate', '-l', '44100'],
    faults: ['resampled'],
    says: /ends at 18\.\d kHz, below the 22\.1 kHz/,
    outHz: 44_100,
  },
  {
    what: 'speed 1.001',
    filter: ['speed', '1.001', 'rate', '-v', '48000'],
    faults: ['clock-error'],
    says: /1000 ppm high/,
  },
];

const FFMPEG: Case[] = [
  {
    what: 'acompressor with seconds of release',
    filter: ['acompressor=threshold=0.02:ratio=6:attack=300:release=3000:makeup=2'],
    faults: ['automatic-gain', 'noise-gate'],
    says: /level steps are off by/,
  },
  {
    what: 'alimiter',
    filter: ['alimiter=limit=0.2:attack=1:release=10:level=disabled'],
    faults: ['compression'],
    says: /Loud steps come back too soft/,
  },
  {
    what: 'agate',
    filter: ['agate=threshold=0.001:range=0.01:ratio=20:attack=5:release=60'],
    faults: ['noise-gate'],
    says: /A gate closes on silence/,
    conditions: { noiseBelowDb: 68 },
  },
  {
    what: 'aresample with a filter of four taps',
    filter: ['aresample=48000:filter_size=4'],
    faults: ['resampled'],
    says: /Images of the tone at 4897, 2903.*between 44100 and 48000 Hz/,
    outHz: 48_000,
    conditions: { sampleRateHz: 44_100, noiseBelowDb: 75 },
  },
];

function check({ faults, says }: Case, judgement: InputJudgement): void {
  expect(judgement.verdict).toBe('processed');
  expect(faultsOf(judgement)[0]).toBe(faults[0]);
  expect(faultsOf(judgement).filter((fault) => !faults.includes(fault))).toEqual([]);
  expect(judgement.findings[0]!.evidence).toMatch(says);
}

describe.skipIf(lacks('sox'))('processors of SoX', () => {
  test('none at all: raw', () => {
    expect(throughSox([], 48_000, {}).verdict).toBe('raw');
    // A plain change of gain, and a tenth of a decibel of slope in 20 kHz, are no processing.
    expect(throughSox(['vol', '-3dB', 'treble', '0.2'], 48_000, {}).verdict).toBe('raw');
  });

  test.each(SOX)('$what', (row) => {
    check(row, throughSox(row.filter, row.outHz ?? 48_000, row.conditions ?? {}));
  });

  test('remix to one channel and back', () => {
    const { channels, sampleRateHz } = cleanTrial();
    for (const [at, channel] of channels.entries()) {
      writeFileSync(scratch(`${at}.f64`), new Uint8Array(channel.buffer));
    }
    const input = (at: number) => ['-t', 'f64', '-r', String(sampleRateHz), '-c', '1', scratch(`${at}.f64`)];
    runSox('-M', ...input(0), ...input(1), '-t', 'f64', scratch('stereo.f64'), 'remix', '1,2', '1,2');
    const both = read(scratch('stereo.f64'));
    const out = [0, 1].map((side) => both.filter((_, n) => n % 2 === side));
    expect(faultsOf(judgeInput({ channels: out, sampleRateHz, steps: STEPS }))).toEqual([
      'one-channel-twice',
    ]);
  });
});

describe.skipIf(lacks('ffmpeg'))('processors of FFmpeg', () => {
  test.each(FFMPEG)('$what', (row) => {
    check(row, throughFfmpeg(row.filter[0]!, row.outHz ?? 48_000, row.conditions ?? {}));
  });
});
