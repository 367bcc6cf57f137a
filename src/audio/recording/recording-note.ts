/** What a recording says of itself, kept in its own file. */
export interface RecordingNote {
  /** ISO 8601. */
  startedAt: string;
  /** The input, in words. */
  source: string;
  /** Volts RMS of a full-scale sine at the measured point; `null` where unknown. */
  voltsPerFs: number | null;
  /** For each channel: the job's channel at whose terminals it was taken, `cabin`, or `none`. */
  at: string[];
  /** Times that the input stood at its extreme codes, over all channels. */
  overloads: number;
  /** Frames that never came; silence keeps their place. */
  gapFrames: number;
  /** `open` while it runs and after a page that died; `stopped`; `repaired`; else why it ended, one sentence. */
  ending: string;
}

const FORMAT = 'kneepoint-recording';
/** So that the note always fits its place in the header. */
const LONGEST_SOURCE = 200;
const LONGEST_ENDING = 400;

export function noteText(note: RecordingNote): string {
  return JSON.stringify({
    format: FORMAT,
    version: 1,
    ...note,
    source: note.source.slice(0, LONGEST_SOURCE),
    ending: note.ending.slice(0, LONGEST_ENDING),
  });
}

/** @returns `null` for anything that is not the note of a recording */
export function readNote(text: string): RecordingNote | null {
  let found: unknown;
  try {
    found = JSON.parse(text);
  } catch (fault) {
    if (fault instanceof SyntaxError) return null;
    throw fault;
  }
  if (typeof found !== 'object' || found === null) return null;
  const fields = found as Record<string, unknown>;
  const { startedAt, source, voltsPerFs, at, overloads, gapFrames, ending } = fields;
  const isNote =
    fields.format === FORMAT &&
    typeof startedAt === 'string' &&
    typeof source === 'string' &&
    (voltsPerFs === null || typeof voltsPerFs === 'number') &&
    Array.isArray(at) &&
    typeof overloads === 'number' &&
    typeof gapFrames === 'number' &&
    typeof ending === 'string';
  if (!isNote) return null;
  return { startedAt, source, voltsPerFs, at: at.map(String), overloads, gapFrames, ending };
}
