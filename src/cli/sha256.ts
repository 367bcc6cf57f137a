import { createHash } from 'node:crypto';

/** SHA-256 of a text in UTF-8, 64 small hexadecimal digits. */
export async function sha256(text: string): Promise<string> {
  return createHash('sha256').update(text, 'utf8').digest('hex');
}
