/**
 * The one priority queue of the best-first sweeps: filling depressions, accumulating cost, flooding cold air.
 *
 * A multi-level bucket queue (Denardo & Fox 1979; Ahuja, Mehlhorn, Orlin & Tarjan 1990) over the sortable bits
 * of a float: an entry waits at the level of the highest byte in which its key differs from the last one popped,
 * in the bucket of that byte, and moves down at most once a level. It is exact: keys come out in order to the
 * last bit. *Monotone*: a pushed key must not lie below the last popped one, which a sweep grants by nature.
 * Entries of equal key come out in an order fixed by the pushes alone, so runs repeat bit for bit.
 */
export interface MonotoneQueue {
  /** Adds an item (any 32-bit integer). @throws Error when the key is NaN or below the last popped key. */
  push(key: number, item: number): void;
  /** Takes out an item of the lowest key, or -1 when empty. */
  pop(): number;
  /** Key of the last popped item. */
  key(): number;
  size(): number;
}

const floats = new Float32Array(1);
const floatBits = new Uint32Array(floats.buffer);
const doubles = new Float64Array(1);
const doubleBits = new Uint32Array(doubles.buffer);
// Which half of a double holds the sign: 1 on every little-endian machine.
const HIGH = new Uint8Array(new Uint32Array([1]).buffer)[0] === 1 ? 1 : 0;
const LOW = 1 - HIGH;

const grow = <A extends Int32Array | Uint32Array>(old: A, length: number): A => {
  const bigger = new (old.constructor as new (length: number) => A)(length);
  bigger.set(old);
  return bigger;
};

const tooLow = (key: number, last: number): Error =>
  new Error(`a monotone queue got the key ${key} after popping ${last}`);

/** Lowest set bit among the 8 words that mark the full buckets of a level, or -1. */
function firstBucket(marks: Uint32Array, level: number): number {
  for (let word = level << 3, end = word + 8, base = 0; word < end; word++, base += 32) {
    const bits = marks[word]!;
    if (bits !== 0) return base + 31 - Math.clz32(bits & -bits);
  }
  return -1;
}

/** Queue over 32-bit float keys of either sign (elevations). Keys are rounded to 32 bits. */
export function createQueue32(capacity = 1024): MonotoneQueue {
  let slots = Math.max(16, capacity);
  let keys = new Uint32Array(slots);
  let items = new Int32Array(slots);
  let next = new Int32Array(slots);
  let used = 0;
  let free = -1;
  let size = 0;
  let last = 0;
  let lastKey = Number.NEGATIVE_INFINITY;
  const heads = new Int32Array(4 * 256).fill(-1);
  const marks = new Uint32Array(4 * 8);

  function link(slot: number, bits: number): void {
    const level = (31 - Math.clz32((bits ^ last) | 1)) >> 3;
    const digit = (bits >>> (level << 3)) & 255;
    const bucket = (level << 8) | digit;
    next[slot] = heads[bucket]!;
    heads[bucket] = slot;
    marks[bucket >> 5]! |= 1 << (digit & 31);
  }

  function push(key: number, item: number): void {
    // Adding zero turns -0 into 0, which equals it but sorts apart.
    floats[0] = key + 0;
    const raw = floatBits[0]!;
    const bits = (raw & 0x80000000 ? ~raw : raw | 0x80000000) >>> 0;
    if (bits < last || Number.isNaN(key)) throw tooLow(key, lastKey);
    let slot = free;
    if (slot >= 0) free = next[slot]!;
    else {
      if (used === slots) {
        slots *= 2;
        keys = grow(keys, slots);
        items = grow(items, slots);
        next = grow(next, slots);
      }
      slot = used++;
    }
    keys[slot] = bits;
    items[slot] = item;
    link(slot, bits);
    size++;
  }

  /** Brings the lowest bucket of the lowest full level down, so that level 0 holds the lowest key. */
  function settle(): void {
    for (let level = 1; level < 4; level++) {
      const digit = firstBucket(marks, level);
      if (digit < 0) continue;
      const bucket = (level << 8) | digit;
      let lowest = 0xffffffff;
      for (let slot = heads[bucket]!; slot >= 0; slot = next[slot]!) {
        if (keys[slot]! < lowest) lowest = keys[slot]!;
      }
      last = lowest;
      let slot = heads[bucket]!;
      heads[bucket] = -1;
      marks[bucket >> 5]! &= ~(1 << (digit & 31));
      while (slot >= 0) {
        const following = next[slot]!;
        link(slot, keys[slot]!);
        slot = following;
      }
      return;
    }
  }

  function pop(): number {
    if (size === 0) return -1;
    let digit = firstBucket(marks, 0);
    if (digit < 0) {
      settle();
      digit = firstBucket(marks, 0);
    }
    const slot = heads[digit]!;
    const rest = next[slot]!;
    heads[digit] = rest;
    if (rest < 0) marks[digit >> 5]! &= ~(1 << (digit & 31));
    last = keys[slot]!;
    floatBits[0] = last & 0x80000000 ? last & 0x7fffffff : ~last;
    lastKey = floats[0]!;
    next[slot] = free;
    free = slot;
    size--;
    return items[slot]!;
  }

  return { push, pop, key: () => lastKey, size: () => size };
}

/** Queue over 64-bit float keys that are zero or more (accumulated costs). */
export function createQueue64(capacity = 1024): MonotoneQueue {
  let slots = Math.max(16, capacity);
  let highs = new Uint32Array(slots);
  let lows = new Uint32Array(slots);
  let items = new Int32Array(slots);
  let next = new Int32Array(slots);
  let used = 0;
  let free = -1;
  let size = 0;
  let lastHigh = 0;
  let lastLow = 0;
  let lastKey = 0;
  const heads = new Int32Array(8 * 256).fill(-1);
  const marks = new Uint32Array(8 * 8);

  function link(slot: number, high: number, low: number): void {
    const differ = high ^ lastHigh;
    let level: number;
    let digit: number;
    if (differ !== 0) {
      const place = (31 - Math.clz32(differ)) >> 3;
      level = 4 + place;
      digit = (high >>> (place << 3)) & 255;
    } else {
      level = (31 - Math.clz32((low ^ lastLow) | 1)) >> 3;
      digit = (low >>> (level << 3)) & 255;
    }
    const bucket = (level << 8) | digit;
    next[slot] = heads[bucket]!;
    heads[bucket] = slot;
    marks[bucket >> 5]! |= 1 << (digit & 31);
  }

  function push(key: number, item: number): void {
    // Also refuses NaN, and a negative key at the start.
    if (!(key >= lastKey)) throw tooLow(key, lastKey);
    doubles[0] = key + 0;
    const high = doubleBits[HIGH]!;
    const low = doubleBits[LOW]!;
    let slot = free;
    if (slot >= 0) free = next[slot]!;
    else {
      if (used === slots) {
        slots *= 2;
        highs = grow(highs, slots);
        lows = grow(lows, slots);
        items = grow(items, slots);
        next = grow(next, slots);
      }
      slot = used++;
    }
    highs[slot] = high;
    lows[slot] = low;
    items[slot] = item;
    link(slot, high, low);
    size++;
  }

  function settle(): void {
    for (let level = 1; level < 8; level++) {
      const digit = firstBucket(marks, level);
      if (digit < 0) continue;
      const bucket = (level << 8) | digit;
      let high = 0xffffffff;
      let low = 0xffffffff;
      for (let slot = heads[bucket]!; slot >= 0; slot = next[slot]!) {
        const h = highs[slot]!;
        if (h < high || (h === high && lows[slot]! < low)) {
          high = h;
          low = lows[slot]!;
        }
      }
      lastHigh = high;
      lastLow = low;
      let slot = heads[bucket]!;
      heads[bucket] = -1;
      marks[bucket >> 5]! &= ~(1 << (digit & 31));
      while (slot >= 0) {
        const following = next[slot]!;
        link(slot, highs[slot]!, lows[slot]!);
        slot = following;
      }
      return;
    }
  }

  function pop(): number {
    if (size === 0) return -1;
    let digit = firstBucket(marks, 0);
    if (digit < 0) {
      settle();
      digit = firstBucket(marks, 0);
    }
    const slot = heads[digit]!;
    const rest = next[slot]!;
    heads[digit] = rest;
    if (rest < 0) marks[digit >> 5]! &= ~(1 << (digit & 31));
    lastHigh = highs[slot]!;
    lastLow = lows[slot]!;
    doubleBits[HIGH] = lastHigh;
    doubleBits[LOW] = lastLow;
    lastKey = doubles[0]!;
    next[slot] = free;
    free = slot;
    size--;
    return items[slot]!;
  }

  return { push, pop, key: () => lastKey, size: () => size };
}
