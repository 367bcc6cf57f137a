import { flacCopy } from '../../audio/flac/flac-copy.ts';
import { setWav } from '../../audio/wav/set-wav.ts';
import type { Manifest, Track } from '../../job/manifest.ts';
import { toneSet } from '../../job/tone-set.ts';
import { readArguments, readNumber } from '../arguments.ts';
import { type OutputFile, writeFilesWhole } from '../atomic-output.ts';
import type { Command } from '../command.ts';
import { fromJobFile } from '../job-file.ts';
import { UsageError } from '../usage-error.ts';
import { TONES_HELP } from './help.ts';
import { tonesTable } from './tones-table.ts';

const OPTIONS = {
  out: { type: 'string' },
  job: { type: 'string' },
  rate: { type: 'string' },
  bits: { type: 'string' },
  flac: { type: 'boolean' },
  json: { type: 'boolean' },
} as const;

interface TonesRequest {
  folder: string;
  jobPath: string | null;
  sampleRateHz: number;
  bits: 16 | 24;
  flac: boolean;
  json: boolean;
}

function readRate(text: string): number {
  return readNumber(text, {
    option: '--rate',
    meaning: 'the sample rate in hertz',
    accepts: (hertz) => Number.isInteger(hertz) && hertz >= 8_000 && hertz <= 192_000,
    mustBe: 'a whole number from 8000 to 192000',
  });
}

function readBits(text: string): 16 | 24 {
  if (text === '16') return 16;
  if (text === '24') return 24;
  throw new UsageError(`--bits ${text}: the width of a sample must be 16 or 24.`);
}

function readRequest(args: string[]): TonesRequest {
  const { values, positionals } = readArguments('tones', args, OPTIONS);
  if (positionals.length > 0) {
    throw new UsageError(`"${positionals[0]}" belongs to no option; the folder is named with --out DIR.`);
  }
  if (values.out === undefined || values.out === '') {
    throw new UsageError('No folder was named; "kneepoint tones --out DIR" says where the tone set goes.');
  }
  return {
    folder: values.out,
    jobPath: values.job ?? null,
    sampleRateHz: values.rate === undefined ? 44_100 : readRate(values.rate),
    bits: values.bits === undefined ? 16 : readBits(values.bits),
    flac: values.flac ?? false,
    json: values.json ?? false,
  };
}

/** A specification that cannot be kept is the input's fault, and is said as such. */
function refusing<T>(what: string, work: () => T): T {
  try {
    return work();
  } catch (error) {
    if (error instanceof RangeError) throw new UsageError(`${what}: ${error.message}`);
    throw error;
  }
}

/** The track, and right behind it its FLAC copy, of which the samples are then still at hand. */
function outputsOf(track: Track, manifest: Manifest, index: number, flac: boolean): OutputFile[] {
  const { sampleRateHz, bits } = manifest;
  let held: Uint8Array[] | null = null;
  const rendered = () =>
    refusing(track.file, () => [...setWav(track, { sampleRateHz, bits, ditherSeed: index + 1 })]);
  if (!flac) return [{ name: track.file, pieces: rendered }];
  return [
    {
      name: track.file,
      pieces: () => {
        held = rendered();
        return held;
      },
    },
    {
      name: flacName(track.file),
      pieces: () => {
        const wav = held ?? rendered();
        held = null;
        return flacCopy(wav);
      },
    },
  ];
}

function flacName(file: string): string {
  return file.replace(/\.wav$/, '.flac');
}

function sayCautions(manifest: Manifest): void {
  const cautions = new Set(
    manifest.tracks.flatMap((track) => (track.caution === null ? [] : [track.caution])),
  );
  for (const caution of cautions) process.stderr.write(`Caution: ${caution}\n`);
}

async function run(args: string[]): Promise<number> {
  const request = readRequest(args);
  const job = request.jobPath === null ? null : await fromJobFile(request.jobPath, (read) => read);
  const manifest = refusing(request.jobPath ?? 'The general set', () => toneSet(job, request));
  const text = `${JSON.stringify(manifest, null, 2)}\n`;
  const files = manifest.tracks.flatMap((track, index) => outputsOf(track, manifest, index, request.flac));
  files.push({ name: 'manifest.json', pieces: () => [new TextEncoder().encode(text)] });
  await writeFilesWhole(request.folder, files);
  sayCautions(manifest);
  process.stdout.write(request.json ? text : tonesTable(manifest, request.folder, request.flac));
  return 0;
}

export const tonesCommand: Command = {
  name: 'tones',
  summary: 'renders the tone set of a job, or the general one, with its manifest',
  help: TONES_HELP,
  run,
};
