import type { TypedArray } from '../../core/grid/frame.ts';

/** The kinds of array a grid may have, by the name under which they are kept. */
export const TYPED_ARRAYS = {
  Float32Array,
  Float64Array,
  Uint8Array,
  Uint16Array,
  Uint32Array,
  Int8Array,
  Int16Array,
  Int32Array,
} as const;
export type ArrayName = keyof typeof TYPED_ARRAYS;

export const arrayNameOf = (cells: TypedArray): ArrayName => cells.constructor.name as ArrayName;
