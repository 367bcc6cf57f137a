import { jsonFault } from './json-fault.ts';
import { JobRefused } from './refused.ts';

/**
 * What a file's text holds.
 *
 * @param needed what would be right, the end of the sentence
 * @throws JobRefused where the text is not JSON, with the place
 */
export function readJson(text: string, needed: string): unknown {
  // A byte-order mark is not JSON, but editors put one there.
  const bare = text.replace(/^\uFEFF/, '');
  try {
    return JSON.parse(bare);
  } catch (fault) {
    if (!(fault instanceof SyntaxError)) throw fault;
    const place = jsonFault(bare);
    const where = place === null ? '' : `; it fails at line ${place.line}, column ${place.column}`;
    throw new JobRefused(`This file is not JSON${where}; ${needed}.`, { cause: fault });
  }
}
