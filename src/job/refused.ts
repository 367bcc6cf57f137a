/** A job that cannot be used as it stands. The message is one sentence: what, where, what would be right. */
export class JobRefused extends Error {
  override name = 'JobRefused';
}
