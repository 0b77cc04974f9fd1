import type { Grid } from '../grid/frame.ts';

/**
 * Boxes of air over a ground: one column of boxes over each cell of the grid, following the ground at the bottom
 * and level at the top. Nodes are the corners, (width + 1) x (height + 1) x (levels + 1), a level after the other from
 * the ground up and row by row in each.
 */
export interface AirMesh {
  width: number;
  height: number;
  levels: number;
  cellSize: number;
  /** Elevation of the nodes, m. */
  z: Float64Array;
}

/**
 * @param ground m; NaN is taken as the mean of what is known
 * @param top height of the uppermost level above the highest ground, m
 * @param first thickness of the lowest boxes over mean ground, m
 */
export function meshOver(ground: Grid, levels: number, top: number, first: number): AirMesh {
  const { width, height, cellSize } = ground.frame;
  let sum = 0;
  let known = 0;
  let highest = Number.NEGATIVE_INFINITY;
  for (const value of ground.cells) {
    if (Number.isNaN(value)) continue;
    sum += value;
    known++;
    if (value > highest) highest = value;
  }
  const mean = sum / known;
  const ceiling = highest + top;
  // Shares of the column from the ground up, growing by an even factor that makes the first one right.
  const share = first / (ceiling - mean);
  let factor = 1.0001;
  for (let high = 4, low = 1.0001, k = 0; k < 60; k++) {
    factor = (high + low) / 2;
    if ((share * (factor ** levels - 1)) / (factor - 1) > 1) high = factor;
    else low = factor;
  }
  const shares = Float64Array.from(
    { length: levels + 1 },
    (_, k) => (factor ** k - 1) / (factor ** levels - 1),
  );
  const across = width + 1;
  const layer = across * (height + 1);
  const z = new Float64Array(layer * (levels + 1));
  for (let y = 0; y <= height; y++) {
    for (let x = 0; x <= width; x++) {
      let bottom = 0;
      let corners = 0;
      for (let cy = Math.max(0, y - 1); cy <= Math.min(height - 1, y); cy++)
        for (let cx = Math.max(0, x - 1); cx <= Math.min(width - 1, x); cx++) {
          const value = ground.cells[cy * width + cx]!;
          bottom += Number.isNaN(value) ? mean : value;
          corners++;
        }
      bottom /= corners;
      const node = y * across + x;
      for (let k = 0; k <= levels; k++) z[k * layer + node] = bottom + (ceiling - bottom) * shares[k]!;
    }
  }
  return { width, height, levels, cellSize, z };
}

/** The eight nodes of a box: south-going x, y and up, in the order of bits x, y, level. */
export function boxNodes(mesh: AirMesh, x: number, y: number, level: number, into: Int32Array): void {
  const across = mesh.width + 1;
  const layer = across * (mesh.height + 1);
  const first = level * layer + y * across + x;
  for (let corner = 0; corner < 8; corner++)
    into[corner] = first + ((corner >> 2) & 1) * layer + ((corner >> 1) & 1) * across + (corner & 1);
}

/**
 * What the eight trilinear shape functions of every box add up to over it: the integral of each one's gradient (east,
 * south, up), and the box's volume. The sides stand upright, so two Gauss points each way give it exactly.
 */
export interface BoxShapes {
  /** boxes x 8 x 3, m2. */
  gradients: Float32Array;
  /** m3. */
  volumes: Float32Array;
}

const GAUSS = [-1 / Math.sqrt(3), 1 / Math.sqrt(3)];

export function boxShapes(mesh: AirMesh): BoxShapes {
  const { width, height, levels, cellSize } = mesh;
  const boxes = width * height * levels;
  const gradients = new Float32Array(boxes * 24);
  const volumes = new Float32Array(boxes);
  const nodes = new Int32Array(8);
  const sums = new Float64Array(24);
  const half = cellSize / 2;
  for (let y = 0, box = 0; y < height; y++)
    for (let x = 0; x < width; x++)
      for (let k = 0; k < levels; k++, box++) {
        boxNodes(mesh, x, y, k, nodes);
        sums.fill(0);
        let volume = 0;
        for (let p = 0; p < 8; p++) {
          const xi = GAUSS[p & 1]!;
          const eta = GAUSS[(p >> 1) & 1]!;
          const zeta = GAUSS[p >> 2]!;
          let zx = 0;
          let zy = 0;
          let zz = 0;
          for (let c = 0; c < 8; c++) {
            const sx = c & 1 ? 1 : -1;
            const sy = c & 2 ? 1 : -1;
            const sz = c & 4 ? 1 : -1;
            const level = mesh.z[nodes[c]!]! / 8;
            zx += sx * (1 + sy * eta) * (1 + sz * zeta) * level;
            zy += sy * (1 + sx * xi) * (1 + sz * zeta) * level;
            zz += sz * (1 + sx * xi) * (1 + sy * eta) * level;
          }
          const here = half * half * zz;
          volume += here;
          for (let c = 0; c < 8; c++) {
            const sx = c & 1 ? 1 : -1;
            const sy = c & 2 ? 1 : -1;
            const sz = c & 4 ? 1 : -1;
            const up = (sz * (1 + sx * xi) * (1 + sy * eta)) / (8 * zz);
            sums[c * 3]! += (here * ((sx * (1 + sy * eta) * (1 + sz * zeta)) / 8 - zx * up)) / half;
            sums[c * 3 + 1]! += (here * ((sy * (1 + sx * xi) * (1 + sz * zeta)) / 8 - zy * up)) / half;
            sums[c * 3 + 2]! += here * up;
          }
        }
        gradients.set(sums, box * 24);
        volumes[box] = volume;
      }
  return { gradients, volumes };
}
