/** One sentence: what, and what would be right. */
export function outOfRange(what: string, value: number, right: string): RangeError {
  return new RangeError(`${what} of ${value} cannot be simulated: it must be ${right}.`);
}
