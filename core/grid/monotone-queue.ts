/**
 * The one priority queue of the best-first sweeps: carving courses, cutting dams, least ways.
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
const floatBits = new Int32Array(floats.buffer);
const doubles = new Float64Array(1);
const doubleBits = new Int32Array(doubles.buffer);
// Which half of a double holds the sign: 1 on every little-endian machine.
const HIGH = new Uint8Array(new Uint32Array([1]).buffer)[0] === 1 ? 1 : 0;
const LOW = 1 - HIGH;

/**
 * Bits are kept as signed integers throughout: an unsigned one of 2^31 or more would be boxed by the engine.
 * Flipping the sign bit of two of them makes a signed comparison an unsigned one.
 */
const SIGN = -0x80000000;
/** Sortable bits of minus infinity. */
const BELOW_ALL = 0x007fffff;

/** Entries lie side by side, so that each costs one visit to memory. */
const grow = (old: Int32Array<ArrayBuffer>): Int32Array<ArrayBuffer> => {
  const bigger = new Int32Array(old.length * 2);
  bigger.set(old);
  return bigger;
};

const tooLow = (key: number, last: number): Error =>
  new Error(`a monotone queue got the key ${key} after popping ${last}`);

/**
 * Which buckets hold entries: one bit a bucket in 8 words a level, and one bit a word in a summary a level, so that
 * the lowest full bucket is two looks away.
 */
function createMarks(levels: number) {
  const marks = new Int32Array(levels * 8);
  const summary = new Int32Array(levels);
  return {
    set(bucket: number): void {
      marks[bucket >> 5]! |= 1 << (bucket & 31);
      summary[bucket >> 8]! |= 1 << ((bucket >> 5) & 7);
    },
    clear(bucket: number): void {
      const word = bucket >> 5;
      marks[word]! &= ~(1 << (bucket & 31));
      if (marks[word] === 0) summary[bucket >> 8]! &= ~(1 << (word & 7));
    },
    /** The lowest full bucket of a level, or -1. */
    first(level: number): number {
      const full = summary[level]!;
      if (full === 0) return -1;
      const word = (level << 3) + 31 - Math.clz32(full & -full);
      const bits = marks[word]!;
      return (word << 5) + 31 - Math.clz32(bits & -bits);
    },
  };
}

/** The lowest full bucket of the lowest level that has one; there must be one. */
function lowestBucket(marks: ReturnType<typeof createMarks>): number {
  for (let level = 0; ; level++) {
    const bucket = marks.first(level);
    if (bucket >= 0) return bucket;
  }
}

/** Queue over 32-bit float keys of either sign (elevations). Keys are rounded to 32 bits. */
export function createQueue32(capacity = 1024): MonotoneQueue {
  // Per entry: key bits, item, next in the same bucket, (spare). Offsets into it stand for entries.
  let pool = new Int32Array(4 * Math.max(16, capacity));
  let used = 0;
  let free = -1;
  let size = 0;
  let last = BELOW_ALL;
  const heads = new Int32Array(4 * 256).fill(-1);
  const marks = createMarks(4);

  function link(entry: number, bits: number): void {
    const shift = (31 - Math.clz32((bits ^ last) | 1)) & 24;
    const bucket = (shift << 5) | ((bits >>> shift) & 255);
    pool[entry + 2] = heads[bucket]!;
    heads[bucket] = entry;
    marks.set(bucket);
  }

  function lastKey(): number {
    floatBits[0] = last ^ (~(last >> 31) | SIGN);
    return floats[0]!;
  }

  function push(key: number, item: number): void {
    // Adding zero turns -0 into 0, which equals it but sorts apart.
    floats[0] = key + 0;
    const raw = floatBits[0]!;
    const bits = raw ^ ((raw >> 31) | SIGN);
    if ((bits ^ SIGN) < (last ^ SIGN) || Number.isNaN(key)) throw tooLow(key, lastKey());
    let entry = free;
    if (entry >= 0) free = pool[entry + 2]!;
    else {
      if (used === pool.length) pool = grow(pool);
      entry = used;
      used += 4;
    }
    pool[entry] = bits;
    pool[entry + 1] = item;
    link(entry, bits);
    size++;
  }

  /** Deals a bucket out over the levels below it, from the lowest key it can hold. */
  function deal(bucket: number): void {
    let entry = heads[bucket]!;
    heads[bucket] = -1;
    marks.clear(bucket);
    const shift = (bucket >> 8) << 3;
    last = (pool[entry]! >>> shift) << shift;
    while (entry >= 0) {
      const following = pool[entry + 2]!;
      link(entry, pool[entry]!);
      entry = following;
    }
  }

  function pop(): number {
    if (size === 0) return -1;
    let bucket = lowestBucket(marks);
    // An entry alone in the lowest bucket is the lowest, on whatever level.
    while (bucket > 255 && pool[heads[bucket]! + 2]! >= 0) {
      deal(bucket);
      bucket = lowestBucket(marks);
    }
    const entry = heads[bucket]!;
    const rest = pool[entry + 2]!;
    heads[bucket] = rest;
    if (rest < 0) marks.clear(bucket);
    last = pool[entry]!;
    pool[entry + 2] = free;
    free = entry;
    size--;
    return pool[entry + 1]!;
  }

  return { push, pop, key: lastKey, size: () => size };
}

/** Queue over 64-bit float keys that are zero or more (accumulated costs). */
export function createQueue64(capacity = 1024): MonotoneQueue {
  // Per entry: high and low key bits, item, next in the same bucket.
  let pool = new Int32Array(4 * Math.max(16, capacity));
  let used = 0;
  let free = -1;
  let size = 0;
  let lastHigh = 0;
  let lastLow = 0;
  const heads = new Int32Array(8 * 256).fill(-1);
  const marks = createMarks(8);

  function link(entry: number, high: number, low: number): void {
    const differ = high ^ lastHigh;
    let bucket: number;
    if (differ !== 0) {
      const shift = (31 - Math.clz32(differ)) & 24;
      bucket = 1024 | (shift << 5) | ((high >>> shift) & 255);
    } else {
      const shift = (31 - Math.clz32((low ^ lastLow) | 1)) & 24;
      bucket = (shift << 5) | ((low >>> shift) & 255);
    }
    pool[entry + 3] = heads[bucket]!;
    heads[bucket] = entry;
    marks.set(bucket);
  }

  function lastKey(): number {
    doubleBits[HIGH] = lastHigh;
    doubleBits[LOW] = lastLow;
    return doubles[0]!;
  }

  function push(key: number, item: number): void {
    // Also refuses NaN, and a negative key at the start.
    if (!(key >= lastKey())) throw tooLow(key, lastKey());
    doubles[0] = key + 0;
    const high = doubleBits[HIGH]!;
    const low = doubleBits[LOW]!;
    let entry = free;
    if (entry >= 0) free = pool[entry + 3]!;
    else {
      if (used === pool.length) pool = grow(pool);
      entry = used;
      used += 4;
    }
    pool[entry] = high;
    pool[entry + 1] = low;
    pool[entry + 2] = item;
    link(entry, high, low);
    size++;
  }

  function deal(bucket: number): void {
    let entry = heads[bucket]!;
    heads[bucket] = -1;
    marks.clear(bucket);
    const level = bucket >> 8;
    const shift = (level & 3) << 3;
    if (level < 4) lastLow = (pool[entry + 1]! >>> shift) << shift;
    else {
      lastHigh = (pool[entry]! >>> shift) << shift;
      lastLow = 0;
    }
    while (entry >= 0) {
      const following = pool[entry + 3]!;
      link(entry, pool[entry]!, pool[entry + 1]!);
      entry = following;
    }
  }

  function pop(): number {
    if (size === 0) return -1;
    let bucket = lowestBucket(marks);
    while (bucket > 255 && pool[heads[bucket]! + 3]! >= 0) {
      deal(bucket);
      bucket = lowestBucket(marks);
    }
    const entry = heads[bucket]!;
    const rest = pool[entry + 3]!;
    heads[bucket] = rest;
    if (rest < 0) marks.clear(bucket);
    lastHigh = pool[entry]!;
    lastLow = pool[entry + 1]!;
    pool[entry + 3] = free;
    free = entry;
    size--;
    return pool[entry + 2]!;
  }

  return { push, pop, key: lastKey, size: () => size };
}
