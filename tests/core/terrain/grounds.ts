import { readFileSync } from 'node:fs';
import type { Grid } from '../../../core/grid/frame.ts';
import { randomNumbers, testFrame } from '../grid/frames.ts';

export interface Packed {
  type: 'f4' | 'f8' | 'u1';
  data: string;
}

/** Reads a committed reference answer. */
export function readFixture<T>(name: string): T {
  return JSON.parse(
    readFileSync(new URL(`../../reference/fixtures/terrain/${name}`, import.meta.url), 'utf8'),
  ) as T;
}

export function unpack({ type, data }: Packed): Float32Array | Float64Array | Uint8Array {
  const bytes = Uint8Array.from(Buffer.from(data, 'base64'));
  if (type === 'u1') return bytes;
  return type === 'f4' ? new Float32Array(bytes.buffer) : new Float64Array(bytes.buffer);
}

export interface GroundCase {
  name: string;
  width: number;
  height: number;
  cellSize: number;
  elevation: Packed;
  slope: Packed;
  aspect: Packed;
  shade: Packed;
  tpi: Packed;
  roughness: Packed;
  contours: { interval: number; levels: Record<string, [number, number][]> };
  filled: Packed;
  annuli: { inner: number; outer: number; position: Packed }[];
}

export const groundCases = readFixture<{ cases: GroundCase[] }>('ground.json').cases;

export const elevationOf = (reference: GroundCase): Grid<Float32Array> => ({
  frame: testFrame(reference.width, reference.height, reference.cellSize),
  cells: unpack(reference.elevation) as Float32Array,
});

/** Ground from a function of easting and northing in metres from the frame's south-west corner. */
export function groundFrom(
  width: number,
  height: number,
  cellSize: number,
  z: (x: number, y: number) => number,
): Grid<Float32Array> {
  const cells = new Float32Array(width * height);
  for (let row = 0, i = 0; row < height; row++) {
    for (let column = 0; column < width; column++, i++)
      cells[i] = z((column + 0.5) * cellSize, (height - row - 0.5) * cellSize);
  }
  return { frame: testFrame(width, height, cellSize), cells };
}

/** Rough ground with pits, without ties: several octaves of value noise (seeded). */
export function roughGround(width: number, height: number, seed: number, cellSize = 2): Grid<Float32Array> {
  const random = randomNumbers(seed);
  const cells = new Float64Array(width * height);
  for (const [step, size] of [
    [32, 40],
    [11, 14],
    [4, 5],
    [1, 1],
  ] as const) {
    const columns = Math.ceil(width / step) + 2;
    const knots = Float64Array.from(
      { length: columns * (Math.ceil(height / step) + 2) },
      () => random() * size,
    );
    for (let y = 0, i = 0; y < height; y++) {
      for (let x = 0; x < width; x++, i++) {
        const c = Math.floor(x / step);
        const r = Math.floor(y / step);
        const u = x / step - c;
        const v = y / step - r;
        const k = r * columns + c;
        cells[i]! +=
          (knots[k]! * (1 - u) + knots[k + 1]! * u) * (1 - v) +
          (knots[k + columns]! * (1 - u) + knots[k + columns + 1]! * u) * v;
      }
    }
  }
  return { frame: testFrame(width, height, cellSize), cells: Float32Array.from(cells, (z) => 200 + z) };
}

/** The grid turned a quarter clockwise. */
export function turned(grid: Grid): Grid<Float32Array> {
  const { width, height, cellSize } = grid.frame;
  const cells = new Float32Array(width * height);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) cells[x * height + (height - 1 - y)] = grid.cells[y * width + x]!;
  return { frame: testFrame(height, width, cellSize), cells };
}

/** The grid mirrored east to west. */
export function mirrored(grid: Grid): Grid<Float32Array> {
  const { width } = grid.frame;
  const cells = Float32Array.from(grid.cells, (_, i) => {
    const x = i % width;
    return grid.cells[i - x + (width - 1 - x)]!;
  });
  return { frame: grid.frame, cells };
}
