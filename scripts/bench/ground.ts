import type { Frame, Grid } from '../../core/grid/frame.ts';

/** A plain frame for a bench. */
export const benchFrame = (width: number, height: number, cellSize: number): Frame => ({
  epsg: 32616,
  west: 500_000,
  north: 4_000_000,
  cellSize,
  width,
  height,
  longitude: -87,
  latitude: 36,
  convergence: 0,
});

/**
 * Seeded fractal ground of `side` cells a side by midpoint displacement (Fournier, Fussell & Carpenter 1982), with
 * roughness of worn hills and about 200 m of relief.
 */
export function fractalGround(side: number, cellSize = 3, seed = 1, decay = 0.55): Grid<Float32Array> {
  let size = 1;
  while (size < side) size *= 2;
  const stride = size + 1;
  const z = new Float32Array(stride * stride);
  let state = seed >>> 0;
  const random = (): number => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 4294967296 - 0.5;
  };
  let spread = 300;
  for (let step = size; step > 1; step >>= 1) {
    const half = step >> 1;
    for (let y = half; y < size; y += step) {
      for (let x = half; x < size; x += step) {
        const sum =
          z[(y - half) * stride + x - half]! +
          z[(y - half) * stride + x + half]! +
          z[(y + half) * stride + x - half]! +
          z[(y + half) * stride + x + half]!;
        z[y * stride + x] = sum / 4 + random() * spread;
      }
    }
    for (let y = 0; y <= size; y += half) {
      for (let x = (y / half) & 1 ? 0 : half; x <= size; x += step) {
        let sum = 0;
        let count = 0;
        if (y > 0) {
          sum += z[(y - half) * stride + x]!;
          count++;
        }
        if (y < size) {
          sum += z[(y + half) * stride + x]!;
          count++;
        }
        if (x > 0) {
          sum += z[y * stride + x - half]!;
          count++;
        }
        if (x < size) {
          sum += z[y * stride + x + half]!;
          count++;
        }
        z[y * stride + x] = sum / count + random() * spread;
      }
    }
    spread *= decay;
  }
  const cells = new Float32Array(side * side);
  for (let y = 0; y < side; y++) cells.set(z.subarray(y * stride, y * stride + side), y * side);
  for (let i = 0; i < cells.length; i++) cells[i]! += 300;
  return { frame: benchFrame(side, side, cellSize), cells };
}
