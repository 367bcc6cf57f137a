import type { Band } from '../../dsp/reading.ts';
import { readArguments, readNumber } from '../arguments.ts';
import { UsageError } from '../usage-error.ts';

/** What `measure` was asked for, each number checked for itself. */
export interface MeasureRequest {
  files: string[];
  /** Volts RMS of a full-scale sine at the measured point; `null` where no volts are asked for. */
  voltsPerFs: number | null;
  fromSeconds: number;
  /** `null`: to the end of each file. */
  toSeconds: number | null;
  /** `null`: the standard band, as far as each file's sample rate holds it. */
  band: Band | null;
  json: boolean;
}

const OPTIONS = {
  'volts-per-fs': { type: 'string' },
  from: { type: 'string' },
  to: { type: 'string' },
  band: { type: 'string' },
  json: { type: 'boolean' },
} as const;

function readSeconds(option: string, text: string): number {
  return readNumber(text, {
    option,
    meaning: 'the place in the file in seconds',
    accepts: (seconds) => seconds >= 0,
    mustBe: 'a number of 0 or more',
  });
}

function readVoltsPerFs(text: string): number {
  return readNumber(text, {
    option: '--volts-per-fs',
    meaning: 'the volts of a full-scale sine',
    accepts: (volts) => volts > 0,
    mustBe: 'a number above 0',
  });
}

function readBand(text: string): Band {
  const [low = '', high = '', ...more] = text.split(':').map((part) => part.trim());
  const lowHz = low === '' ? Number.NaN : Number(low);
  const highHz = high === '' ? Number.NaN : Number(high);
  const usable = more.length === 0 && lowHz >= 0 && highHz > lowHz && Number.isFinite(highHz);
  if (!usable) {
    throw new UsageError(
      `--band ${text}: the band must be two frequencies in hertz, the lower one first, such as 20:20000.`,
    );
  }
  return { lowHz, highHz };
}

/** @throws UsageError when no file is named, or a number is not one that can be used */
export function readMeasureRequest(args: string[]): MeasureRequest {
  const { values, positionals: files } = readArguments('measure', args, OPTIONS);
  if (files.length === 0) {
    throw new UsageError('No file was named; "kneepoint measure FILE.wav" needs at least one recording.');
  }
  const { 'volts-per-fs': volts, from, to, band, json = false } = values;
  const fromSeconds = from === undefined ? 0 : readSeconds('--from', from);
  const toSeconds = to === undefined ? null : readSeconds('--to', to);
  if (toSeconds !== null && toSeconds <= fromSeconds) {
    throw new UsageError(
      `--to ${toSeconds}: the end must lie after the beginning, which is at ${fromSeconds} s.`,
    );
  }
  return {
    files,
    voltsPerFs: volts === undefined ? null : readVoltsPerFs(volts),
    fromSeconds,
    toSeconds,
    band: band === undefined ? null : readBand(band),
    json,
  };
}
