import type { Frame } from '../../../core/grid/frame.ts';

export { seededRandom as randomNumbers } from '../../../core/grid/random.ts';

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
