/** How many times faster than real time `measure` reads and measures a file: both channels, from disk to figures. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { wavPieces } from '../../src/audio/wav/wav-encoder.ts';
import { readMeasureRequest } from '../../src/cli/measure/measure-arguments.ts';
import { checkForMeasuring } from '../../src/cli/measure/measure-file.ts';
import { measureFiles } from '../../src/cli/measure/measure-files.ts';
import { renderTone } from '../../src/dsp/tones/render-tone.ts';

const SECONDS = 60;
const SAMPLE_RATE_HZ = 48_000;

/** Left a tone 3 dB into a limiter, so that every part of the analysis has work; right pink noise. */
function stereoFile(path: string): void {
  const tone = renderTone(
    { kind: 'sine', frequencyHz: 997, levelDbfs: 0, durationSeconds: SECONDS },
    SAMPLE_RATE_HZ,
  );
  const ceiling = 10 ** (-3 / 20);
  const clipped = tone.map((sample) => Math.max(-ceiling, Math.min(ceiling, sample)));
  const noise = renderTone(
    { kind: 'pink', lowHz: 20, highHz: 20_000, levelDbfs: -18, durationSeconds: SECONDS, seed: 1 },
    SAMPLE_RATE_HZ,
  );
  const encoding = { sampleRateHz: SAMPLE_RATE_HZ, bits: 24 as const, frames: tone.length, ditherSeed: 1 };
  writeFileSync(path, Buffer.concat([...wavPieces(encoding, [clipped, noise])]));
}

async function secondsToMeasure(path: string): Promise<number> {
  const started = performance.now();
  await measureFiles([await checkForMeasuring(path, readMeasureRequest([path]))], null);
  return (performance.now() - started) / 1000;
}

export async function run(): Promise<{ name: string; figures: Record<string, number> }> {
  const folder = mkdtempSync(join(tmpdir(), 'kneepoint-bench-'));
  try {
    const path = join(folder, 'stereo.wav');
    stereoFile(path);
    const first = await secondsToMeasure(path);
    const second = await secondsToMeasure(path);
    return {
      name: 'measure, 60 s stereo, 24 bits, 48 kHz',
      figures: {
        'real-time factor, first run': SECONDS / first,
        'real-time factor, warm': SECONDS / second,
      },
    };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
