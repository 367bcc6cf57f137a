/** Where a text stops being JSON, counted as an editor counts: both from 1. */
export interface TextPlace {
  line: number;
  column: number;
}

const SPACE = /[ \t\r\n]*/y;
const SCALAR = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?|true|false|null/y;
const ESCAPE = /\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4})/y;
/** Below this, a character inside a string must be escaped. */
const FIRST_PRINTABLE = 0x20;

/**
 * First place at which a text is not JSON (RFC 8259), or `null` where it is. Engines word their complaints
 * differently and not all of them say where, so the place is found here.
 */
export function jsonFault(text: string): TextPlace | null {
  const reader = { text, at: 0 };
  if (!readValue(reader)) return placeOf(text, reader.at);
  skip(reader, SPACE);
  return reader.at === text.length ? null : placeOf(text, reader.at);
}

interface Reader {
  text: string;
  at: number;
}

function skip(reader: Reader, pattern: RegExp): boolean {
  pattern.lastIndex = reader.at;
  if (!pattern.test(reader.text)) return false;
  reader.at = pattern.lastIndex;
  return true;
}

function take(reader: Reader, character: string): boolean {
  skip(reader, SPACE);
  if (reader.text[reader.at] !== character) return false;
  reader.at++;
  return true;
}

/** Reads one value without recursion, so that no depth of nesting can overflow the stack. */
function readValue(reader: Reader): boolean {
  const open: ('{' | '[')[] = [];
  do {
    if (take(reader, '{')) {
      if (!take(reader, '}')) {
        open.push('{');
        if (!readKey(reader)) return false;
        continue;
      }
    } else if (take(reader, '[')) {
      if (!take(reader, ']')) {
        open.push('[');
        continue;
      }
    } else if (!readString(reader) && !skip(reader, SCALAR)) return false;
    if (!closeAll(reader, open)) return false;
  } while (open.length > 0);
  return true;
}

function readKey(reader: Reader): boolean {
  skip(reader, SPACE);
  return readString(reader) && take(reader, ':');
}

/** Character by character, for a long string would exhaust a pattern's stack. Stops at what is wrong. */
function readString(reader: Reader): boolean {
  if (reader.text[reader.at] !== '"') return false;
  reader.at++;
  while (reader.at < reader.text.length) {
    const character = reader.text[reader.at];
    if (character === '"') {
      reader.at++;
      return true;
    }
    if (reader.text.charCodeAt(reader.at) < FIRST_PRINTABLE) return false;
    if (character !== '\\') reader.at++;
    else if (!skip(reader, ESCAPE)) return false;
  }
  return false;
}

/** After a value: closes what ends here; true where the text may go on with the next value, or is done. */
function closeAll(reader: Reader, open: ('{' | '[')[]): boolean {
  while (open.length > 0) {
    const inside = open.at(-1);
    if (take(reader, ',')) return inside === '[' || readKey(reader);
    if (!take(reader, inside === '[' ? ']' : '}')) return false;
    open.pop();
  }
  return true;
}

function placeOf(text: string, at: number): TextPlace {
  const before = text.slice(0, at).split('\n');
  return { line: before.length, column: (before.at(-1)?.length ?? 0) + 1 };
}
