/**
 * One text for one value, whatever the order of its keys, so that it can be hashed: keys sorted by their UTF-16
 * code units, no white space, numbers and texts as ECMAScript writes them. This is the form of RFC 8785 (named
 * from memory), so other programs can work out the same text. Keys are sorted rather than in the schema's order
 * because what was signed long ago must give the same text under a schema that has grown since.
 *
 * Two spellings of one number (1.0 and 1, or digits beyond what a double holds) are one value and one text.
 *
 * @throws RangeError where a value has no place in JSON, a NaN say
 */
export function canonicalJson(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(canonicalJson).join(',')}]`;
  if (typeof value === 'object' && value !== null) return canonicalObject(value);
  if (typeof value === 'number' && !Number.isFinite(value)) {
    throw new RangeError(`${value} has no place in JSON`);
  }
  const text = JSON.stringify(value);
  if (text === undefined) throw new RangeError(`a ${typeof value} has no place in JSON`);
  return text;
}

/** A key without a value is no key, as in a file. Iteration, not `sort()` with a locale: code units decide. */
function canonicalObject(value: object): string {
  const entries = Object.entries(value)
    .filter(([, inner]) => inner !== undefined)
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([key, inner]) => `${JSON.stringify(key)}:${canonicalJson(inner)}`);
  return `{${entries.join(',')}}`;
}
