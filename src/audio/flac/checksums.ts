/** Cyclic redundancy checks of FLAC frames: RFC 9639, 9.1.8 and 9.3. Both begin at 0, highest bit first. */

const CRC8 = table(0x07, 8);
const CRC16 = table(0x8005, 16);

function table(polynomial: number, bits: number): Uint16Array {
  const top = 1 << (bits - 1);
  const mask = 2 ** bits - 1;
  return Uint16Array.from({ length: 256 }, (_, byte) => {
    let rest = byte << (bits - 8);
    for (let bit = 0; bit < 8; bit += 1) {
      rest = (rest & top) === 0 ? rest << 1 : (rest << 1) ^ polynomial;
    }
    return rest & mask;
  });
}

/** `x^8 + x^2 + x + 1`, over a frame's header. */
export function crc8(bytes: Uint8Array): number {
  let rest = 0;
  for (const byte of bytes) rest = CRC8[rest ^ byte]!;
  return rest;
}

/** `x^16 + x^15 + x^2 + 1`, over a whole frame. */
export function crc16(bytes: Uint8Array): number {
  let rest = 0;
  for (const byte of bytes) rest = ((rest << 8) & 0xffff) ^ CRC16[(rest >>> 8) ^ byte]!;
  return rest;
}
