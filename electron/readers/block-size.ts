/**
 * Pictures packed inside a block say their own size. A damaged one may claim gigabytes, which their unpackers would ask
 * for before they look any further.
 */

/**
 * The frame header of a JPEG stream (ITU-T T.81, B.2.2: SOF markers).
 * @throws Error when it claims more than the block it fills
 */
export function checkJpegSize(bytes: Uint8Array, width: number, height: number): void {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.length);
  for (let at = 2; at + 9 < bytes.length && bytes[at] === 0xff; at += 2 + view.getUint16(at + 2)) {
    const marker = bytes[at + 1]!;
    const isFrame = marker >= 0xc0 && marker <= 0xcf && ![0xc4, 0xc8, 0xcc].includes(marker);
    if (!isFrame) continue;
    checkSize('JPEG', view.getUint16(at + 7), view.getUint16(at + 5), width, height);
    return;
  }
}

/**
 * The header of a LERC blob, version 2 (Esri LERC specification: name, version, checksum from version 3, rows, columns).
 * @throws Error as `checkJpegSize`
 */
export function checkLercSize(bytes: Uint8Array, width: number, height: number): void {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.length);
  if (bytes.length < 22 || new TextDecoder().decode(bytes.subarray(0, 6)) !== 'Lerc2 ') return;
  const rows = view.getInt32(6, true) >= 3 ? 14 : 10;
  checkSize('LERC', view.getInt32(rows + 4, true), view.getInt32(rows, true), width, height);
}

function checkSize(what: string, wide: number, high: number, width: number, height: number): void {
  if (wide < 0 || high < 0 || wide > width || high > height)
    throw new Error(`a ${what} picture of ${wide} x ${high} in a block of ${width} x ${height}`);
}
