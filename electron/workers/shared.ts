import type { TypedArray } from '../../core/grid/frame.ts';

const isTypedArray = (value: unknown): value is TypedArray =>
  ArrayBuffer.isView(value) && !(value instanceof DataView);

/** The same array on shared memory, copied only when it is not there yet. */
export function toShared<A extends TypedArray>(array: A): A {
  if (array.buffer instanceof SharedArrayBuffer) return array;
  const shared = new SharedArrayBuffer(array.byteLength);
  const Constructor = array.constructor as new (buffer: SharedArrayBuffer) => A;
  const copy = new Constructor(shared);
  copy.set(array as never);
  return copy;
}

/** Replaces every typed array of a step's products by one on shared memory, so that workers pass them without copies. */
export function shareArrays<T>(value: T): T {
  if (isTypedArray(value)) return toShared(value) as T;
  if (Array.isArray(value)) {
    return value.some((member) => member !== null && typeof member === 'object')
      ? (value.map(shareArrays) as T)
      : value;
  }
  if (value !== null && typeof value === 'object') {
    return Object.fromEntries(Object.entries(value).map(([key, member]) => [key, shareArrays(member)])) as T;
  }
  return value;
}
