import { type AirMesh, type BoxShapes, boxNodes, boxShapes } from './mass-mesh.ts';

/** Wind in the boxes of a mesh, at their middles: east, south (down the rows) and up, m/s. */
export interface BoxWind {
  east: Float32Array;
  south: Float32Array;
  up: Float32Array;
}

export interface MassSystem {
  mesh: AirMesh;
  shapes: BoxShapes;
  /** Weight of vertical against horizontal changes: 1 neutral, below 1 stable air that would rather go round. */
  verticalFreedom: number;
  /** Whose coupling each pair of a box's corners is (-1: kept with the other one), and which of its 14. */
  owner: Int8Array;
  place: Int8Array;
  /** 1 where the potential is held at nought: the sides and the top, through which air may come and go. */
  open: Uint8Array;
}

/** Couplings kept with a node: itself and those of its 26 neighbours that come later in order. */
const LATER: readonly (readonly [number, number, number])[] = [
  [0, 0, 0],
  [0, 0, 1],
  [1, 0, -1],
  [1, 0, 0],
  [1, 0, 1],
  [-1, 1, -1],
  [-1, 1, 0],
  [-1, 1, 1],
  [0, 1, -1],
  [0, 1, 0],
  [0, 1, 1],
  [1, 1, -1],
  [1, 1, 0],
  [1, 1, 1],
];

/** A mesh made ready for `adjustWind`, once for a ground. */
export function massSystem(mesh: AirMesh, verticalFreedom = 1): MassSystem {
  const { width, height, levels } = mesh;
  const stack = levels + 1;
  const across = width + 1;
  const open = new Uint8Array(across * (height + 1) * stack);
  for (let y = 0; y <= height; y++)
    for (let x = 0; x <= width; x++) {
      const node = (y * across + x) * stack;
      // A mesh one box wide is a slice: its long sides are walls.
      const side = ((x === 0 || x === width) && width > 1) || ((y === 0 || y === height) && height > 1);
      for (let k = 0; k <= levels; k++) if (side || k === levels) open[node + k] = 1;
    }
  const slot = new Map(LATER.map(([x, y, k], n) => [`${x} ${y} ${k}`, n]));
  const owner = new Int8Array(64).fill(-1);
  const place = new Int8Array(64);
  for (let a = 0; a < 8; a++)
    for (let b = 0; b < 8; b++) {
      const key = `${(b & 1) - (a & 1)} ${((b >> 1) & 1) - ((a >> 1) & 1)} ${(b >> 2) - (a >> 2)}`;
      const found = slot.get(key);
      if (found === undefined) continue;
      owner[a * 8 + b] = a;
      place[a * 8 + b] = found;
    }
  return { mesh, shapes: boxShapes(mesh), verticalFreedom, owner, place, open };
}

/** Half of the symmetric matrix of the potential: 14 couplings a node, itself first. */
function matrixOf(
  { mesh, shapes, verticalFreedom, owner, place, open }: MassSystem,
  freedom: Float32Array | null,
) {
  const { width, height, levels } = mesh;
  const { gradients, volumes } = shapes;
  const matrix = new Float64Array(open.length * LATER.length);
  const nodes = new Int32Array(8);
  for (let y = 0, box = 0; y < height; y++)
    for (let x = 0; x < width; x++)
      for (let k = 0; k < levels; k++, box++) {
        boxNodes(mesh, x, y, k, nodes);
        const share = (freedom ? freedom[box]! : 1) / volumes[box]!;
        for (let a = 0; a < 8; a++) {
          const ga = box * 24 + a * 3;
          const east = share * gradients[ga]!;
          const south = share * gradients[ga + 1]!;
          const up = share * verticalFreedom * gradients[ga + 2]!;
          const row = nodes[a]! * LATER.length;
          for (let b = 0; b < 8; b++) {
            if (owner[a * 8 + b] !== a) continue;
            const gb = box * 24 + b * 3;
            matrix[row + place[a * 8 + b]!]! +=
              east * gradients[gb]! + south * gradients[gb + 1]! + up * gradients[gb + 2]!;
          }
        }
      }
  return matrix;
}

/** Stops once the air made or lost has fallen to this share of the first guess's. */
const TOLERANCE = 1e-3;
const MOST_TURNS = 400;

/**
 * The variational adjustment of Sherman, "A mass-consistent model for wind fields over complex terrain", J. Applied
 * Meteorology 17 (1978): the wind nearest to a first guess that neither makes nor loses air and does not blow
 * through the ground. Here in weak form on boxes that follow the ground, the wind even in each and the potential
 * trilinear (mixed finite elements), so that the ground's slope is kept to second order and the wind handed back is
 * itself free of divergence.
 *
 * Sherman weighs each change by 1 / (2 sigma^2), sigma the error looked for in the guess there. With the same weight
 * everywhere, what fast air aloft needs to pass a hill is laid on the slow air below too and turns it round. With
 * sigma^2 in proportion to the guess's own speed the wind of a one-way guess is speed x gradient of a potential:
 * it has no closed streamlines, so no eddy comes out of it that nobody put in.
 *
 * @param guess first guess, changed in place to the adjusted wind
 * @param freedom sigma^2 of each box over a common one, above 0; null for the same everywhere
 * @returns the share of the first guess's divergence that is left
 */
export function adjustWind(system: MassSystem, guess: BoxWind, freedom: Float32Array | null = null): number {
  const { mesh, shapes, verticalFreedom } = system;
  const { width, height, levels } = mesh;
  const { gradients, volumes } = shapes;
  const equations = { mesh, open: system.open, matrix: matrixOf(system, freedom) };
  const { potential, left } = conjugateGradients(equations, netOutflow(system, guess));
  const nodes = new Int32Array(8);
  for (let y = 0, box = 0; y < height; y++)
    for (let x = 0; x < width; x++)
      for (let k = 0; k < levels; k++, box++) {
        boxNodes(mesh, x, y, k, nodes);
        const share = (freedom ? freedom[box]! : 1) / volumes[box]!;
        for (let c = 0; c < 8; c++) {
          const level = potential[nodes[c]!]! * share;
          const at = box * 24 + c * 3;
          guess.east[box]! += level * gradients[at]!;
          guess.south[box]! += level * gradients[at + 1]!;
          guess.up[box]! += verticalFreedom * level * gradients[at + 2]!;
        }
      }
  return left;
}

/** The equations of one potential. */
interface Equations {
  mesh: AirMesh;
  open: Uint8Array;
  matrix: Float64Array;
}

/** What the surroundings of each node lose of a wind's air, m3/s (weighted by the node's shape function). */
export function netOutflow({ mesh, shapes, open }: MassSystem, wind: BoxWind): Float64Array {
  const { width, height, levels } = mesh;
  const { gradients } = shapes;
  const lost = new Float64Array(open.length);
  const nodes = new Int32Array(8);
  for (let y = 0, box = 0; y < height; y++)
    for (let x = 0; x < width; x++)
      for (let k = 0; k < levels; k++, box++) {
        boxNodes(mesh, x, y, k, nodes);
        const u = wind.east[box]!;
        const v = wind.south[box]!;
        const w = wind.up[box]!;
        for (let c = 0; c < 8; c++) {
          const at = box * 24 + c * 3;
          lost[nodes[c]!]! -= u * gradients[at]! + v * gradients[at + 1]! + w * gradients[at + 2]!;
        }
      }
  for (let i = 0; i < lost.length; i++) if (open[i]) lost[i] = 0;
  return lost;
}

/** Solves for the potential: conjugate gradients, each column of nodes solved as a line (Golub & Van Loan). */
function conjugateGradients(
  system: Equations,
  right: Float64Array,
): { potential: Float64Array; left: number } {
  const count = system.open.length;
  const potential = new Float64Array(count);
  const residual = right;
  const eased = new Float64Array(count);
  const line = lineSolver(system);
  line(residual, eased);
  const way = eased.slice();
  const product = new Float64Array(count);
  const start = norm(residual);
  let slope = dot(residual, eased);
  let left = 1;
  for (let turn = 0; turn < MOST_TURNS && start > 0; turn++) {
    multiply(system, way, product);
    const length = slope / dot(way, product);
    for (let i = 0; i < count; i++) {
      potential[i]! += length * way[i]!;
      residual[i]! -= length * product[i]!;
    }
    left = norm(residual) / start;
    if (left < TOLERANCE) break;
    line(residual, eased);
    const next = dot(residual, eased);
    const keep = next / slope;
    slope = next;
    for (let i = 0; i < count; i++) way[i] = eased[i]! + keep * way[i]!;
  }
  return { potential, left: start > 0 ? left : 0 };
}

function multiply({ mesh, matrix, open }: Equations, from: Float64Array, into: Float64Array): void {
  const { width, height, levels } = mesh;
  const stack = levels + 1;
  const across = width + 1;
  const offsets = LATER.map(([x, y, k]) => (y * across + x) * stack + k);
  into.fill(0);
  for (let y = 0, node = 0; y <= height; y++)
    for (let x = 0; x <= width; x++)
      for (let k = 0; k <= levels; k++, node++) {
        const at = node * LATER.length;
        const here = from[node]!;
        let sum = matrix[at]! * here;
        for (let n = 1; n < LATER.length; n++) {
          // Couplings over the edge are nought, and so are not followed.
          const coupling = matrix[at + n]!;
          if (coupling === 0) continue;
          const other = node + offsets[n]!;
          sum += coupling * from[other]!;
          into[other]! += coupling * here;
        }
        into[node]! += sum;
      }
  for (let i = 0; i < into.length; i++) if (open[i]) into[i] = 0;
}

/** Solves the vertical couplings of every column exactly (Thomas), which takes care of flat boxes. */
function lineSolver({ mesh, matrix, open }: Equations): (from: Float64Array, into: Float64Array) => void {
  const stack = mesh.levels + 1;
  const count = open.length;
  const perPivot = new Float64Array(count);
  const factor = new Float64Array(count); // coupling to the node below over that node's pivot
  for (let base = 0; base < count; base += stack) {
    let pivot = 1;
    for (let k = 0; k < stack; k++) {
      const i = base + k;
      const coupled = k > 0 && !open[i] && !open[i - 1];
      const below = coupled ? matrix[(i - 1) * LATER.length + 1]! : 0;
      factor[i] = below / pivot;
      pivot = open[i] ? 1 : matrix[i * LATER.length]! - below * factor[i]!;
      // A node on the ground of a corner no box reaches has nothing to solve.
      perPivot[i] = open[i] || pivot <= 0 ? 0 : 1 / pivot;
    }
  }
  return (from, into) => {
    for (let base = 0; base < count; base += stack) {
      let below = 0;
      for (let i = base; i < base + stack; i++) {
        below = from[i]! - factor[i]! * below;
        into[i] = below;
      }
      let above = 0;
      for (let i = base + stack - 1; i >= base; i--) {
        // The factor of the node above couples it to this one.
        above = into[i]! * perPivot[i]! - (i + 1 < base + stack ? factor[i + 1]! * above : 0);
        into[i] = above;
      }
    }
  };
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}

const norm = (a: Float64Array): number => Math.sqrt(dot(a, a));
