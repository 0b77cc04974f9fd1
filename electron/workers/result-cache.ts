import { mkdir, readdir, readFile, rename, rm, stat, utimes, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { TypedArray } from '../../core/grid/frame.ts';
import { toShared } from './shared.ts';
import { type ArrayName, arrayNameOf, TYPED_ARRAYS } from './typed-arrays.ts';

/** Results of steps by key. Safe to delete at any time: a missing or broken entry is computed anew. */
export interface ResultCache {
  get(key: string): Promise<Record<string, unknown> | null>;
  put(key: string, products: Record<string, unknown>): Promise<void>;
}

/** Another mark than before: entries under the first may rest on an earlier run's products. */
const MAGIC = 'HGC2';
interface ArrayRef {
  $array: ArrayName;
  offset: number;
  length: number;
}

/** Packs products as one JSON header, with NaN and infinities kept, followed by the raw bytes of their arrays. */
function pack(products: Record<string, unknown>): Uint8Array[] {
  const arrays: TypedArray[] = [];
  let offset = 0;
  const header = JSON.stringify(products, (_key, value) => {
    if (typeof value === 'number' && !Number.isFinite(value)) return { $number: String(value) };
    if (!ArrayBuffer.isView(value)) return value;
    const array = value as TypedArray;
    const ref: ArrayRef = { $array: arrayNameOf(array), offset, length: array.length };
    arrays.push(array);
    offset += Math.ceil(array.byteLength / 8) * 8;
    return ref;
  });
  const head = Buffer.from(header, 'utf8');
  const lead = Buffer.alloc(16);
  lead.write(MAGIC, 0, 'latin1');
  lead.writeUInt32LE(head.length, 4);
  lead.writeDoubleLE(offset, 8);
  const parts: Uint8Array[] = [lead, head];
  for (const array of arrays) {
    parts.push(new Uint8Array(array.buffer, array.byteOffset, array.byteLength));
    const rest = (8 - (array.byteLength % 8)) % 8;
    if (rest > 0) parts.push(Buffer.alloc(rest));
  }
  return parts;
}

function unpack(bytes: Buffer): Record<string, unknown> | null {
  if (bytes.length < 16 || bytes.toString('latin1', 0, 4) !== MAGIC) return null;
  const headLength = bytes.readUInt32LE(4);
  const start = 16 + headLength;
  if (bytes.length !== start + bytes.readDoubleLE(8)) return null;
  return JSON.parse(bytes.toString('utf8', 16, start), (_key, value) => {
    if (value === null || typeof value !== 'object') return value;
    if ('$number' in value) return Number(value.$number);
    if (!('$array' in value)) return value;
    const { $array, offset, length } = value as ArrayRef;
    const Constructor = TYPED_ARRAYS[$array];
    const copy = bytes.buffer.slice(
      bytes.byteOffset + start + offset,
      bytes.byteOffset + start + offset + length * Constructor.BYTES_PER_ELEMENT,
    );
    return toShared(new Constructor(copy as ArrayBuffer));
  });
}

/**
 * A folder of packed results, the longest unused deleted first once it holds more than `capBytes`.
 * Write errors are swallowed: a full disk must not stop an analysis that does not need the cache.
 */
export function createResultCache(folder: string, capBytes = 2 * 1024 ** 3): ResultCache {
  const fileOf = (key: string) => join(folder, `${key}.bin`);

  async function trim(): Promise<void> {
    const entries = await Promise.all(
      (await readdir(folder)).map(async (name) => {
        const path = join(folder, name);
        const { size, mtimeMs } = await stat(path);
        return { path, size, mtimeMs };
      }),
    );
    let total = entries.reduce((sum, { size }) => sum + size, 0);
    for (const { path, size } of entries.sort((a, b) => a.mtimeMs - b.mtimeMs)) {
      if (total <= capBytes) break;
      await rm(path, { force: true });
      total -= size;
    }
  }

  return {
    async get(key) {
      try {
        const products = unpack(await readFile(fileOf(key)));
        const now = new Date();
        if (products) await utimes(fileOf(key), now, now);
        return products;
      } catch {
        return null;
      }
    },
    async put(key, products) {
      const temporary = `${fileOf(key)}.${process.pid}.part`;
      try {
        await mkdir(folder, { recursive: true });
        await writeFile(temporary, pack(products));
        await rename(temporary, fileOf(key));
        await trim();
      } catch {
        await rm(temporary, { force: true }).catch(() => {});
      }
    },
  };
}
