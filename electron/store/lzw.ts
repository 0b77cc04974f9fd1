/**
 * LZW as TIFF 6.0 section 13 has it: codes of 9 to 12 bits, highest bit first, the width rising one code early.
 * The only packing a gridded coverage's tiles may use.
 */

const CLEAR = 256;
const END = 257;
const FIRST = 258;
/** The table is cleared before codes of 13 bits would be needed. */
const LAST = 4094;
const SLOTS = 1 << 14;

export function packLzw(bytes: Uint8Array): Uint8Array {
  // Worst case is 12 bits a byte, with clears in between.
  const out = new Uint8Array(Math.ceil(bytes.length * 1.6) + 16);
  let to = 0;
  let held = 0;
  let bits = 0;
  let width = 9;
  const write = (code: number): void => {
    held = (held << width) | code;
    bits += width;
    while (bits >= 8) {
      bits -= 8;
      out[to++] = held >>> bits;
    }
    held &= (1 << bits) - 1;
  };

  // Open addressing: a slot is taken in the present table when its generation is.
  const keys = new Int32Array(SLOTS);
  const codes = new Uint16Array(SLOTS);
  const generations = new Uint32Array(SLOTS);
  let generation = 1;
  let next = FIRST;

  write(CLEAR);
  let prefix = -1;
  for (let at = 0; at < bytes.length; at++) {
    const byte = bytes[at]!;
    if (prefix < 0) {
      prefix = byte;
      continue;
    }
    const key = (prefix << 8) | byte;
    let slot = (Math.imul(key, 0x9e3779b1) >>> 18) & (SLOTS - 1);
    while (generations[slot] === generation && keys[slot] !== key) slot = (slot + 1) & (SLOTS - 1);
    if (generations[slot] === generation) {
      prefix = codes[slot]!;
      continue;
    }
    write(prefix);
    generations[slot] = generation;
    keys[slot] = key;
    codes[slot] = next++;
    if (next > (1 << width) - 1 && width < 12) width++;
    if (next > LAST) {
      write(CLEAR);
      generation++;
      next = FIRST;
      width = 9;
    }
    prefix = byte;
  }
  if (prefix >= 0) {
    write(prefix);
    next++;
    if (next > (1 << width) - 1 && width < 12) width++;
  }
  write(END);
  if (bits > 0) out[to++] = held << (8 - bits);
  return out.subarray(0, to);
}

/**
 * What the codes hold beyond `length` bytes is left: some writers fill up the last strip of a picture.
 * @throws Error when the codes do not make `length` bytes
 */
export function unpackLzw(packed: Uint8Array, length: number): Uint8Array {
  const out = new Uint8Array(length);
  // Every code stands for a run already written: where it starts and how long it is.
  const starts = new Int32Array(4096);
  const lengths = new Int32Array(4096);
  let to = 0;
  let at = 0;
  let held = 0;
  let bits = 0;
  let width = 9;
  let next = FIRST;
  while (to < length) {
    while (bits < width) {
      if (at >= packed.length) throw new Error('LZW data ends too early');
      held = ((held << 8) | packed[at++]!) & 0xffffff;
      bits += 8;
    }
    bits -= width;
    const code = (held >>> bits) & ((1 << width) - 1);
    if (code === END) break;
    if (code === CLEAR) {
      width = 9;
      next = FIRST;
      continue;
    }
    const start = to;
    if (code < 256) out[to++] = code;
    else if (code < next) {
      const from = starts[code]!;
      const count = Math.min(lengths[code]!, length - to);
      for (let k = 0; k < count; k++) out[to++] = out[from + k]!;
    } else throw new Error('LZW data holds a code it has not made');
    // The entry this code began is the run just written and the byte that follows it; it is known once that is there.
    if (next < 4096) {
      starts[next] = start;
      lengths[next] = to - start + 1;
      next++;
      if (next > (1 << width) - 1 && width < 12) width++;
    }
  }
  if (to !== length) throw new Error(`LZW data made ${to} bytes, ${length} wanted`);
  return out;
}
