import { readArguments, readNumber } from '../arguments.ts';
import { UsageError } from '../usage-error.ts';

export interface CheckRequest {
  files: string[];
  manifest: string;
  job: string | null;
  /** Empty: a microphone on every channel. */
  at: string[];
  voltsPerFs: number | null;
  json: boolean;
  csv: string | null;
}

const OPTIONS = {
  manifest: { type: 'string' },
  job: { type: 'string' },
  at: { type: 'string' },
  'volts-per-fs': { type: 'string' },
  json: { type: 'boolean' },
  csv: { type: 'string' },
} as const;

function readPoints(text: string): string[] {
  const points = text.split(',').map((point) => point.trim());
  if (points.every((point) => point !== '')) return points;
  throw new UsageError(
    `--at ${text}: it must name one point for each channel of the recording, such as front-left,front-right or cabin.`,
  );
}

/** @throws UsageError when no file or no manifest is named, or an option cannot be used */
export function readCheckRequest(args: string[]): CheckRequest {
  const { values, positionals: files } = readArguments('check', args, OPTIONS);
  if (files.length === 0) {
    throw new UsageError(
      'No file was named; "kneepoint check FILE.wav --manifest FILE.json" needs at least one recording.',
    );
  }
  const { manifest, job = null, at, json = false, csv = null, 'volts-per-fs': volts } = values;
  if (manifest === undefined) {
    throw new UsageError(
      '--manifest is missing; it names the manifest of the tone set whose run track was played.',
    );
  }
  return {
    files,
    manifest,
    job,
    at: at === undefined ? [] : readPoints(at),
    voltsPerFs: volts === undefined ? null : readVolts(volts),
    json,
    csv,
  };
}

function readVolts(text: string): number {
  return readNumber(text, {
    option: '--volts-per-fs',
    meaning: 'the volts of a full-scale sine',
    accepts: (volts) => volts > 0,
    mustBe: 'a number above 0',
  });
}
