/** Long recordings on several workers, by the built program: same figures, same order, same refusals. */
import { writeFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { beforeAll, expect, test } from 'vitest';
import { wavPieces } from '../../src/audio/wav/wav-encoder.ts';
import type { MeasureDocument } from '../../src/cli/measure/measure-document.ts';
import { checkForMeasuring } from '../../src/cli/measure/measure-file.ts';
import { measureTask } from '../../src/cli/measure/measure-task.ts';
import { tasksOf, workersFor } from '../../src/cli/measure/share-out.ts';
import { builtCli } from './built-cli.ts';

const cli = builtCli();
const RATE_HZ = 48_000;
const FRAMES = 2_200_000;

const REQUEST = { files: [], voltsPerFs: null, fromSeconds: 0, toSeconds: null, band: null, json: true };

function sine(frequencyHz: number, amplitude: number): Float64Array {
  return Float64Array.from(
    { length: FRAMES },
    (_, n) => amplitude * Math.sin(2 * Math.PI * ((frequencyHz * n) / RATE_HZ)),
  );
}

function write(name: string, channels: Float64Array[]): void {
  const encoding = { sampleRateHz: RATE_HZ, bits: 16 as const, frames: FRAMES, ditherSeed: 3 };
  writeFileSync(cli.work(name), Buffer.concat([...wavPieces(encoding, channels)]));
}

/** 32-bit float, one channel, with one sample that is no number near its end. */
function writeSpoilt(name: string): void {
  const frames = 4_100_000;
  const file = Buffer.alloc(44 + 4 * frames);
  file.write('RIFF', 0, 'latin1');
  file.writeUInt32LE(36 + 4 * frames, 4);
  file.write('WAVEfmt ', 8, 'latin1');
  file.writeUInt32LE(16, 16);
  file.writeUInt16LE(3, 20);
  file.writeUInt16LE(1, 22);
  file.writeUInt32LE(RATE_HZ, 24);
  file.writeUInt32LE(4 * RATE_HZ, 28);
  file.writeUInt16LE(4, 32);
  file.writeUInt16LE(32, 34);
  file.write('data', 36, 'latin1');
  file.writeUInt32LE(4 * frames, 40);
  file.writeFloatLE(Number.NaN, 44 + 4 * 4_000_000);
  writeFileSync(cli.work(name), file);
}

beforeAll(() => {
  write('long.wav', [sine(997, 0.5), sine(440.3, 0.25).map((x) => Math.min(0.2, x))]);
  write('other.wav', [sine(60.3, 0.4), sine(2000, 0.01)]);
  writeSpoilt('spoilt.wav');
}, 60_000);

test('two long files read as they do in one thread, in the order given', async () => {
  const ended = cli.run('measure', 'other.wav', 'long.wav', '--json');
  expect(ended).toMatchObject({ status: 0, stderr: '' });
  const { files }: MeasureDocument = JSON.parse(ended.stdout);
  expect(files.map((file) => file.file)).toEqual(['other.wav', 'long.wav']);
  for (const file of files) {
    const checked = await checkForMeasuring(cli.work(file.file), REQUEST);
    if (availableParallelism() > 1) expect(workersFor([checked], availableParallelism())).toBe(2);
    const [whole] = tasksOf([checked], 0);
    const alone = await measureTask(whole!, () => {});
    expect(file.channels.map((channel) => channel.index)).toEqual([0, 1]);
    for (const [place, channel] of file.channels.entries()) {
      const reading = alone[place]!;
      // The document gives a millionth of a decibel and a nanohertz.
      expect(channel.levelDbfs).toBeCloseTo(reading.levelDbfs!, 5);
      expect(channel.truePeakDbtp).toBeCloseTo(reading.truePeakDbtp!, 5);
      expect(channel.tone!.frequencyHz).toBeCloseTo(reading.tone!.frequencyHz, 8);
      expect(channel.tone!.thdPlusNoisePercent / reading.tone!.thdPlusNoisePercent).toBeCloseTo(1, 8);
      expect(channel.clipping.verdict).toBe(reading.clipping.verdict);
    }
  }
});

test('one bad file among long ones: one sentence, status 2, nothing printed', () => {
  const ended = cli.run('measure', 'long.wav', 'spoilt.wav', 'other.wav', '--json');
  expect(ended.stderr).toMatch(
    /^kneepoint: spoilt\.wav: Frame 4000000 .* of channel 0 is not a number[^\n]+\n$/,
  );
  expect(ended.stdout).toBe('');
  expect(ended.status).toBe(2);
});
