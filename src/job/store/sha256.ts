/**
 * SHA-256 of a text in UTF-8, 64 small hexadecimal digits, by the platform's WebCrypto.
 *
 * @throws Error where the page may not use it: browsers give it to https and to this machine's own addresses only
 */
export async function sha256Hex(text: string): Promise<string> {
  // The type has it always; a page over plain http has not.
  const subtle: SubtleCrypto | undefined = globalThis.crypto.subtle;
  if (subtle === undefined) {
    throw new Error('This page was not opened over https, so the browser offers no SHA-256 to sign with.');
  }
  const digest = await subtle.digest('SHA-256', new TextEncoder().encode(text));
  return Array.from(new Uint8Array(digest), (byte) => byte.toString(16).padStart(2, '0')).join('');
}
