/**
 * The bytes are no WAV file that can be used. The message is one sentence,
 * without the file's name, that says what is wrong and what would be right.
 */
export class WavError extends Error {
  override readonly name = 'WavError';
}
