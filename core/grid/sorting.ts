const DIGITS = 2048;

/**
 * Indexes of the cells in rising order of value, cells without data left out; equal values stay in the order of
 * the grid. Least-significant-digit radix sort over the sortable bits, three passes of 11 bits: linear, and the same
 * on every machine.
 */
export function risingOrder(cells: Float32Array): Uint32Array {
  let known = 0;
  for (let i = 0; i < cells.length; i++) if (!Number.isNaN(cells[i]!)) known++;
  let order = new Uint32Array(known);
  let keys = new Uint32Array(known);
  const one = new Float32Array(1);
  const bits = new Uint32Array(one.buffer);
  const counts = new Uint32Array(3 * DIGITS);
  for (let i = 0, n = 0; i < cells.length; i++) {
    if (Number.isNaN(cells[i]!)) continue;
    one[0] = cells[i]! + 0; // both zeros alike
    const key = (bits[0]! & 0x80000000 ? ~bits[0]! : bits[0]! | 0x80000000) >>> 0;
    keys[n] = key;
    order[n++] = i;
    counts[key & 2047]!++;
    counts[DIGITS + ((key >>> 11) & 2047)]!++;
    counts[2 * DIGITS + (key >>> 22)]!++;
  }
  let spareOrder = new Uint32Array(known);
  let spareKeys = new Uint32Array(known);
  for (let pass = 0; pass < 3; pass++) {
    const base = pass * DIGITS;
    for (let digit = 0, before = 0; digit < DIGITS; digit++) {
      const here = counts[base + digit]!;
      counts[base + digit] = before;
      before += here;
    }
    const shift = 11 * pass;
    for (let n = 0; n < known; n++) {
      const key = keys[n]!;
      const place = counts[base + ((key >>> shift) & 2047)]!++;
      spareKeys[place] = key;
      spareOrder[place] = order[n]!;
    }
    [order, spareOrder] = [spareOrder, order];
    [keys, spareKeys] = [spareKeys, keys];
  }
  return order;
}
