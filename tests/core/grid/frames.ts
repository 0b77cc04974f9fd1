import type { Frame } from '../../../core/grid/frame.ts';

/** A plain frame for kernel tests: 2 m cells unless said otherwise, far from the origin as real ones are. */
export const testFrame = (width: number, height: number, cellSize = 2): Frame => ({
  epsg: 32616,
  west: 600_000,
  north: 4_300_000,
  cellSize,
  width,
  height,
  longitude: -85.8,
  latitude: 38.8,
  convergence: 0.7,
});

/** Seeded uniform numbers in [0, 1) (mulberry32). */
export function randomNumbers(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}
