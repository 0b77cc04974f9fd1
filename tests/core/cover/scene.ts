import { COVER, type Imagery } from '../../../core/cover/types.ts';
import type { Frame } from '../../../core/grid/frame.ts';

/** A frame of our own for tests, 2.5 m cells unless said. */
export const testFrame = (width: number, height: number, cellSize = 2.5): Frame => ({
  epsg: 26917,
  west: 400_000,
  north: 4_200_000,
  cellSize,
  width,
  height,
  longitude: -82,
  latitude: 38,
  convergence: 0,
});

/** Seeded uniform numbers 0..1 (Park & Miller 1988). */
export function random(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 48271) % 2147483647;
    return state / 2147483647;
  };
}

/** Red, green, blue and near-infrared counts of a kind of ground, and how much its brightness varies from crown to crown. */
const SUMMER: Record<number, [number, number, number, number, number]> = {
  [COVER.open]: [105, 135, 88, 190, 4],
  [COVER.brush]: [82, 108, 72, 165, 10],
  [COVER.deciduous]: [52, 74, 48, 150, 22],
  [COVER.evergreen]: [36, 55, 40, 88, 16],
  [COVER.water]: [38, 48, 52, 22, 1],
  [COVER.built]: [165, 163, 158, 150, 6],
};
const WINTER: Record<number, [number, number, number, number, number]> = {
  [COVER.open]: [128, 138, 96, 178, 4],
  [COVER.brush]: [98, 104, 78, 140, 10],
  [COVER.deciduous]: [88, 82, 72, 104, 22],
  [COVER.evergreen]: [38, 56, 40, 100, 16],
  [COVER.water]: [38, 48, 52, 22, 1],
  [COVER.built]: [165, 163, 158, 150, 6],
};

/**
 * A labelled scene, invented: stripes and patches of every class a photo can show, with crowns about 7 m across as
 * lit and shaded lumps, sensor noise, and the same light everywhere.
 */
export function labelledScene(season: 'leaf-on' | 'leaf-off', bands: 3 | 4, seed = 7, cellSize = 2.5) {
  const side = Math.round(600 / cellSize);
  const frame = testFrame(side, side, cellSize);
  const labels = new Uint8Array(side * side);
  const at = (x: number, y: number) => {
    if (Math.hypot(x - 480, y - 110) < 45) return COVER.water;
    if (x > 40 && x < 85 && y > 470 && y < 510) return COVER.built;
    if (x > 300 && y > 330) return COVER.evergreen;
    if (x > 150 && x < 300 && y > 200) return COVER.deciduous;
    if (x > 300 && x < 400 && y < 330) return COVER.deciduous;
    if (y > 230 && y < 290 && x < 150) return COVER.brush;
    if (y > 90 && y < 150 && x < 300) return COVER.brush;
    return COVER.open;
  };
  for (let r = 0, i = 0; r < side; r++)
    for (let c = 0; c < side; c++, i++) labels[i] = at((c + 0.5) * cellSize, (r + 0.5) * cellSize);

  // Crowns: smooth random lumps of about 7 m.
  const next = random(seed);
  const normal = () => Math.sqrt(-2 * Math.log(next() + 1e-12)) * Math.cos(2 * Math.PI * next());
  const pitch = 5;
  const n = Math.ceil(600 / pitch) + 2;
  const lattice = Float32Array.from({ length: n * n }, normal);
  const lump = (x: number, y: number) => {
    const u = x / pitch;
    const v = y / pitch;
    const a = Math.floor(u);
    const b = Math.floor(v);
    const fu = u - a;
    const fv = v - b;
    const g = (p: number, q: number) => lattice[q * n + p]!;
    return (
      (g(a, b) * (1 - fu) + g(a + 1, b) * fu) * (1 - fv) +
      (g(a, b + 1) * (1 - fu) + g(a + 1, b + 1) * fu) * fv
    );
  };
  const table = season === 'leaf-on' ? SUMMER : WINTER;
  const out = Array.from({ length: bands }, () => new Uint8Array(side * side));
  for (let r = 0, i = 0; r < side; r++) {
    for (let c = 0; c < side; c++, i++) {
      const [red, green, blue, infrared, rough] = table[labels[i]!]!;
      const light = 1 + (rough * 1.6 * lump((c + 0.5) * cellSize, (r + 0.5) * cellSize)) / 75;
      const values = [red, green, blue, infrared];
      for (let k = 0; k < bands; k++)
        out[k]![i] = Math.max(
          0,
          Math.min(255, Math.round(values[k]! * Math.max(0.25, light) + 1.5 * normal())),
        );
    }
  }
  const imagery: Imagery = { frame, bands: out, valid: new Uint8Array(side * side).fill(1) };
  return { frame, imagery, labels };
}

/** Rows are the truth, columns what was found, both by COVER code 0..7. */
export function confusion(truth: Uint8Array, found: Uint8Array): number[][] {
  const matrix = Array.from({ length: 8 }, () => new Array<number>(8).fill(0));
  truth.forEach((label, i) => {
    matrix[label]![found[i]!]!++;
  });
  return matrix;
}

export const accuracy = (matrix: number[][]): number =>
  matrix.reduce((sum, row, k) => sum + row[k]!, 0) / matrix.flat().reduce((a, b) => a + b, 0);
