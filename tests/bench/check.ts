/**
 * `check` as a whole command on recordings of three minutes, one core against all: how nearly twice as fast two are.
 * The recordings are names of one file, so that the disk does not enter; each is read and judged anew.
 */
import { execFileSync } from 'node:child_process';
import { linkSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { availableParallelism, tmpdir } from 'node:os';
import { join } from 'node:path';
import { findCommand } from '../../bin/browser.js';
import { runWav } from '../../src/audio/wav/run-wav.ts';
import type { RunTrack } from '../../src/job/manifest.ts';
import { RUN_CONTENTS } from '../../src/job/run-track/options.ts';
import { runTrack } from '../../src/job/run-track/run-track.ts';
import { type Ended, wholeCommand } from './whole-command.ts';

const RATE_HZ = 44_100;
const SECONDS = 180;
const RECORDINGS = 8;
const MANY_RECORDINGS = 100;

interface Figures {
  name: string;
  figures: Record<string, number | null>;
}

/** The general run track with as long a silence as it takes, and silence behind it up to three minutes. */
function writeRecording(folder: string): string {
  const options = { contents: RUN_CONTENTS, sides: 'each', silenceSeconds: 60, keepAlive: null } as const;
  const track: RunTrack = { file: 'run.wav', ...runTrack(null, options, RATE_HZ) };
  const set = { format: 'kneepoint-tone-set', version: 1, sampleRateHz: RATE_HZ, bits: 16, jobId: null };
  writeFileSync(join(folder, 'manifest.json'), JSON.stringify({ ...set, tracks: [track] }));
  const path = join(folder, 'recording.wav');
  const sound = { ...track, durationSeconds: SECONDS };
  writeFileSync(path, Buffer.concat([...runWav(sound, { sampleRateHz: RATE_HZ, bits: 16, ditherSeed: 1 })]));
  return path;
}

function named(recording: string, count: number): string[] {
  return Array.from({ length: count }, (_, at) => {
    const path = recording.replace('recording', `recording-${at + 1}`);
    linkSync(recording, path);
    return path;
  });
}

/** The first of the cores alone; `null` where the system cannot hold a program to one. */
async function onOneCore(command: readonly string[]): Promise<Ended | null> {
  const taskset = findCommand('taskset');
  return taskset === null ? null : wholeCommand(taskset, ['-c', '0', ...command]);
}

/** @param large whether a hundred recordings are checked, and not eight */
export async function run(root: string, large: boolean): Promise<Figures> {
  const count = large ? MANY_RECORDINGS : RECORDINGS;
  const folder = mkdtempSync(join(tmpdir(), 'kneepoint-bench-'));
  try {
    const files = named(writeRecording(folder), count);
    const options = ['--manifest', join(folder, 'manifest.json'), '--at', 'left,right'];
    const command = [process.execPath, join(root, 'bin/kneepoint.js'), 'check', ...options];
    execFileSync(command[0]!, [...command.slice(1), files[0]!], { stdio: 'ignore' });
    const all = await wholeCommand(command[0]!, [...command.slice(1), ...files]);
    const one = await onOneCore([...command, ...files]);
    const single = await wholeCommand(command[0]!, [...command.slice(1), files[0]!]);
    return {
      name: `check, ${count} recordings of three minutes of stereo, 16 bits, 44.1 kHz, on ${availableParallelism()} cores`,
      figures: {
        'all cores, s': all.seconds,
        'one core, s': one?.seconds ?? null,
        'one core against all, times as long': one === null ? null : one.seconds / all.seconds,
        'one recording alone, s': single.seconds,
        'a recording among many, s': all.seconds / count,
        'times real time, all cores': (SECONDS * count) / all.seconds,
        'peak memory, all cores, MB': all.peakMegabytes,
        'peak memory, one core, MB': one?.peakMegabytes ?? null,
      },
    };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
