import type { FrameSummary } from '../../../electron/service/contract.ts';

/** The ground as a block of heights, by rows from the north-west, in frame coordinates. */
export interface Block {
  columns: number;
  rows: number;
  /** Side of a cell, m. */
  cell: number;
  west: number;
  north: number;
  /** m; NaN where the ground is not known. */
  heights: Float32Array;
  /** Of the known ground, m. */
  low: number;
  high: number;
}

type Place = Pick<FrameSummary, 'west' | 'north' | 'cellSize'>;

/** Reads the answer of `map.heights`. */
export function readBlock(bytes: Uint8Array, { west, north, cellSize }: Place): Block {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const [columns, rows, factor] = [0, 4, 8].map((at) => view.getUint32(at, true)) as [number, number, number];
  if (bytes.byteLength !== 12 + 4 * columns * rows)
    throw new Error(`a block of ${columns} x ${rows} heights came as ${bytes.byteLength} bytes`);
  const heights = new Float32Array(columns * rows);
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let i = 0; i < heights.length; i++) {
    const z = view.getFloat32(12 + 4 * i, true);
    heights[i] = z;
    if (z < low) low = z;
    if (z > high) high = z;
  }
  return { columns, rows, cell: cellSize * factor, west, north, heights, low, high };
}

/** Height between cell centres, bilinear; held level over the half cell at the rim; NaN outside or unknown. */
export function heightAt(block: Block, x: number, y: number): number {
  const { columns, rows, cell, heights } = block;
  const c = (x - block.west) / cell;
  const r = (block.north - y) / cell;
  if (!(c >= 0 && r >= 0 && c <= columns && r <= rows)) return Number.NaN;
  const column = Math.min(Math.max(c - 0.5, 0), columns - 1);
  const row = Math.min(Math.max(r - 0.5, 0), rows - 1);
  const c0 = Math.min(Math.floor(column), columns - 2);
  const r0 = Math.min(Math.floor(row), rows - 2);
  const [u, v] = [column - c0, row - r0];
  const i = r0 * columns + c0;
  const top = heights[i]! * (1 - u) + heights[i + 1]! * u;
  const bottom = heights[i + columns]! * (1 - u) + heights[i + columns + 1]! * u;
  return top * (1 - v) + bottom * v;
}
