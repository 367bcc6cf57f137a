/**
 * `measure` as a whole command, beside a general-purpose audio tool that reads true peak and loudness of
 * the same ten minutes of stereo in 24 bits; and its peak memory, with `--large` on 4 GiB too.
 */
import { mkdtempSync, rmSync, statfsSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { findCommand } from '../../bin/browser.js';
import { fftShare } from './fft-share.ts';
import {
  clippedTone,
  noisyTone,
  restlessNoise,
  SAMPLE_RATE_HZ,
  type Wave,
  writeLongWav,
} from './long-wav.ts';
import { type Ended, wholeCommand } from './whole-command.ts';

const SECONDS = 600;
/** Just over 4 GiB of 24-bit stereo: 4 h 9 min. */
const LARGE_SECONDS = Math.ceil(2 ** 32 / (6 * SAMPLE_RATE_HZ)) + 1;
/** Alternating, so that what else the machine does hits both. */
const RUNS = 3;

export type Figures = Record<string, number | null>;

const CONTENTS: { name: string; left: () => Wave; right: () => Wave }[] = [
  {
    name: 'tones (left 997 Hz clipped by 3 dB, right 60.3 Hz with noise)',
    left: () => clippedTone(997),
    right: () => noisyTone(60.3),
  },
  { name: 'restless pink noise', left: restlessNoise, right: restlessNoise },
  {
    name: 'left a 997 Hz tone clipped by 3 dB, right restless pink noise',
    left: () => clippedTone(997),
    right: restlessNoise,
  },
];

/** Fastest of the runs: what the machine does besides can only add. */
const fastest = (runs: readonly Ended[]) => Math.min(...runs.map((run) => run.seconds));

const highest = (runs: readonly Ended[]) => {
  const peaks = runs.flatMap((run) => run.peakMegabytes ?? []);
  return peaks.length > 0 ? Math.max(...peaks) : null;
};

async function beside(root: string, path: string): Promise<Figures> {
  const ffmpeg = findCommand('ffmpeg');
  const ours: Ended[] = [];
  const theirs: Ended[] = [];
  for (let run = 0; run < RUNS; run += 1) {
    ours.push(await wholeCommand(process.execPath, [join(root, 'bin/kneepoint.js'), 'measure', path]));
    if (ffmpeg === null) continue;
    const filter = ['-nostats', '-i', path, '-af', 'ebur128=peak=true', '-f', 'null', '-'];
    theirs.push(await wholeCommand(ffmpeg, filter));
  }
  const own = fastest(ours);
  const other = ffmpeg === null ? null : fastest(theirs);
  return {
    'kneepoint measure, s': own,
    'ffmpeg ebur128=peak=true, s': other,
    'kneepoint against ffmpeg, times as long': other === null ? null : own / other,
    'kneepoint, times real time': SECONDS / own,
    'kneepoint, peak memory, MB': highest(ours),
    'share of the transforms in its work, %': 100 * (await fftShare(path)),
  };
}

async function largeFile(root: string, folder: string): Promise<{ name: string; figures: Figures }> {
  const path = join(folder, 'large.wav');
  const { bavail, bsize } = statfsSync(folder);
  if (bavail * bsize < 6 * 2 ** 30)
    throw new Error('The large file needs 6 GiB free in the temporary folder.');
  writeLongWav(path, LARGE_SECONDS, noisyTone(997), restlessNoise());
  const ended = await wholeCommand(process.execPath, [join(root, 'bin/kneepoint.js'), 'measure', path]);
  return {
    name: 'measure, 4 GiB of stereo in one RF64 file: left a tone, right restless pink noise',
    figures: {
      'kneepoint measure, s': ended.seconds,
      'kneepoint, times real time': LARGE_SECONDS / ended.seconds,
      'kneepoint, peak memory, MB': ended.peakMegabytes,
    },
  };
}

/** @param large whether the 4 GiB are written and measured too */
export async function run(root: string, large: boolean): Promise<{ name: string; figures: Figures }[]> {
  const folder = mkdtempSync(join(tmpdir(), 'kneepoint-bench-'));
  try {
    const benches = [];
    for (const { name, left, right } of CONTENTS) {
      const path = join(folder, 'ten-minutes.wav');
      writeLongWav(path, SECONDS, left(), right());
      benches.push({
        name: `measure, ten minutes of stereo, 24 bits, 48 kHz: ${name}`,
        figures: await beside(root, path),
      });
      rmSync(path);
    }
    if (large) benches.push(await largeFile(root, folder));
    return benches;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
