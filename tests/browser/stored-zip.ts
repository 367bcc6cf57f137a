/** Files of a zip that stores them as they are, which is how the app packs what it offers (PKWARE APPNOTE 4.3). */
const END_OF_DIRECTORY = 0x0605_4b50;
const ENTRY = 0x0201_4b50;
const LOCAL_HEADER_BYTES = 30;

/** @throws Error where an entry is compressed, or the bytes are no zip */
export function storedZip(bytes: Uint8Array): Map<string, Uint8Array> {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let end = bytes.length - 22;
  while (end >= 0 && view.getUint32(end, true) !== END_OF_DIRECTORY) end -= 1;
  if (end < 0) throw new Error('This is no zip: it has no directory at its end.');
  const files = new Map<string, Uint8Array>();
  let at = view.getUint32(end + 16, true);
  for (let left = view.getUint16(end + 10, true); left > 0; left -= 1) {
    if (view.getUint32(at, true) !== ENTRY) throw new Error('The zip’s directory is broken.');
    const nameBytes = view.getUint16(at + 28, true);
    const name = new TextDecoder().decode(bytes.subarray(at + 46, at + 46 + nameBytes));
    if (view.getUint16(at + 10, true) !== 0) throw new Error(`${name} is compressed.`);
    files.set(name, contentAt(view, bytes, view.getUint32(at + 42, true), view.getUint32(at + 24, true)));
    at += 46 + nameBytes + view.getUint16(at + 30, true) + view.getUint16(at + 32, true);
  }
  return files;
}

function contentAt(view: DataView, bytes: Uint8Array, local: number, length: number): Uint8Array {
  const names = view.getUint16(local + 26, true) + view.getUint16(local + 28, true);
  const start = local + LOCAL_HEADER_BYTES + names;
  return bytes.slice(start, start + length);
}
