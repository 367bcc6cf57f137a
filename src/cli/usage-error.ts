/**
 * The input or the arguments cannot be used. The message is one sentence that
 * says what, where, and what would be right; it is printed as it stands and
 * the program exits with status 2.
 */
export class UsageError extends Error {
  override readonly name = 'UsageError';
}
