/** The polynomial 0x04C11DB7 with its bits turned round, as the algorithm reads bytes from the low bit. */
const polynomial = 0xedb88320;

const table = Uint32Array.from({ length: 256 }, (_, byte) => {
  let rest = byte;
  for (let bit = 0; bit < 8; bit += 1) rest = rest & 1 ? (rest >>> 1) ^ polynomial : rest >>> 1;
  return rest;
});

/**
 * CRC-32 of bytes, as an unsigned number.
 *
 * Source: ISO/IEC/IEEE 8802-3 (frame check sequence); check value 0xCBF43926 for "123456789".
 */
export function crc32(bytes: Uint8Array): number {
  let crc = 0xffffffff;
  for (const byte of bytes) crc = (crc >>> 8) ^ (table[(crc ^ byte) & 0xff] ?? 0);
  return (crc ^ 0xffffffff) >>> 0;
}
