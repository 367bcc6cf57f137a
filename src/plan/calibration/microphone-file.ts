import { PlanRefused } from '../refused.ts';
import { type CommaRole, readFigure, splitLine } from './microphone-line.ts';

export interface MicrophonePoint {
  frequencyHz: number;
  levelDb: number;
}

/** What a microphone's calibration file says, its sign not yet settled: see `microphoneCurve`. */
export interface MicrophoneFile {
  /** Frequencies rise; two at least. */
  points: MicrophonePoint[];
  /** A first line of words, passed over; `null` where there was none. */
  header: string | null;
  /** Whether there were columns beyond the second, such as a phase; they are passed over. */
  hasFurtherColumns: boolean;
}

/** Nothing that hears sound is given below or above these; beyond them columns were mixed up. */
const LOWEST_HZ = 1;
const HIGHEST_HZ = 200_000;
/** A microphone that is further off is broken, or the column holds sensitivities (common practice). */
const MOST_DB = 40;
/** A thousand times what such a file holds. */
const MOST_CHARACTERS = 2_000_000;

const RIGHT = 'a line must hold a frequency in Hz and a level in dB, such as "100 -0.3"';

/**
 * Reads two plain columns, frequency in Hz and dB. Columns are divided by spaces, tabs, semicolons or commas. Lines that
 * begin with `*`, `#` or `"` are comments, one line of words ahead of the figures is passed over. A decimal comma is
 * taken where it cannot be anything else.
 *
 * @throws PlanRefused in one sentence with the line's number, counted from 1
 */
export function readMicrophoneFile(text: string): MicrophoneFile {
  if (text.length > MOST_CHARACTERS || text.includes('\0')) {
    throw new PlanRefused(
      'This is no microphone’s calibration file: it must be a short text of two columns, frequency and dB.',
    );
  }
  const points: MicrophonePoint[] = [];
  let header: string | null = null;
  let hasFurtherColumns = false;
  let comma: CommaRole | null = null;
  let hasPoint = false;
  for (const [index, raw] of text.split(/\r\n|\n|\r/).entries()) {
    // Trimming also takes the mark away that some editors put ahead of a text.
    const line = raw.trim();
    if (line === '' || /^[*#"]/.test(line)) continue;
    if (points.length === 0 && header === null && !/^[+\-−.,]?\d/.test(line)) {
      header = line;
      continue;
    }
    const at = `Line ${index + 1}`;
    const split = splitLine(line);
    if (split === null) refuseCommas(at, line);
    comma ??= split.comma;
    hasPoint ||= split.columns.slice(0, 2).some((column) => column.includes('.'));
    const mixed = split.comma !== null && split.comma !== comma;
    if (mixed || (comma === 'divides-decimals' && hasPoint)) refuseCommas(at, line);
    points.push(pointOf(split.columns, points.at(-1) ?? null, at, line));
    hasFurtherColumns ||= split.columns.length > 2;
  }
  if (points.length < 2) {
    const count = points.length === 0 ? 'no line' : 'only one line';
    throw new PlanRefused(`The file holds ${count} of figures; two or more are needed, and ${RIGHT}.`);
  }
  return { points, header, hasFurtherColumns };
}

function refuseCommas(at: string, line: string): never {
  throw new PlanRefused(
    `${at} reads "${shortened(line)}", and its commas could divide columns or decimals; divide columns by a semicolon or a tab.`,
  );
}

function pointOf(
  columns: readonly string[],
  before: MicrophonePoint | null,
  at: string,
  line: string,
): MicrophonePoint {
  const frequencyHz = readFigure(columns[0] ?? '');
  const levelDb = readFigure(columns[1] ?? '');
  if (frequencyHz === null || levelDb === null) {
    throw new PlanRefused(`${at} reads "${shortened(line)}"; ${RIGHT}.`);
  }
  if (frequencyHz < LOWEST_HZ || frequencyHz > HIGHEST_HZ) {
    throw new PlanRefused(
      `${at} begins with ${frequencyHz}; a frequency must lie between ${LOWEST_HZ} and ${HIGHEST_HZ} Hz.`,
    );
  }
  if (before !== null && frequencyHz <= before.frequencyHz) {
    throw new PlanRefused(
      `${at} has ${frequencyHz} Hz after ${before.frequencyHz} Hz; frequencies must rise from line to line.`,
    );
  }
  if (Math.abs(levelDb) > MOST_DB) {
    throw new PlanRefused(
      `${at} has ${levelDb} dB at ${frequencyHz} Hz; levels must be deviations within ${MOST_DB} dB, not sensitivities.`,
    );
  }
  return { frequencyHz, levelDb };
}

function shortened(line: string): string {
  return line.length > 40 ? `${line.slice(0, 40)}…` : line;
}
