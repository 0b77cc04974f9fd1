import { type AirMesh, type BoxShapes, boxNodes, boxShapes } from './mass-mesh.ts';
import { type Couplings, conjugateGradients, couplingOf, emptyCouplings, hold } from './mass-solve.ts';

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
  /** 1 where the potential is held at nought: the sides and the top, through which air may come and go. */
  open: Uint8Array;
}

/** A mesh made ready for `adjustWind`, once for a ground. */
export function massSystem(mesh: AirMesh, verticalFreedom = 1): MassSystem {
  const { width, height, levels } = mesh;
  const across = width + 1;
  const layer = across * (height + 1);
  const open = new Uint8Array(layer * (levels + 1));
  for (let y = 0; y <= height; y++)
    for (let x = 0; x <= width; x++) {
      // A mesh one box wide is a slice: its long sides are walls.
      const side = ((x === 0 || x === width) && width > 1) || ((y === 0 || y === height) && height > 1);
      for (let k = 0; k <= levels; k++) if (side || k === levels) open[k * layer + y * across + x] = 1;
    }
  return { mesh, shapes: boxShapes(mesh), verticalFreedom, open };
}

/** Pairs of a box's corners that are one, or of which the second comes later, and how it lies to the first. */
const PAIRS = Array.from({ length: 64 }, (_, k) => {
  const [a, b] = [k >> 3, k & 7];
  return {
    a,
    b,
    coupling: couplingOf((b & 1) - (a & 1), ((b >> 1) & 1) - ((a >> 1) & 1), (b >> 2) - (a >> 2)),
  };
}).filter(({ coupling }) => coupling >= 0);

/** The symmetric matrix of the potential. */
function matrixOf(
  { mesh, shapes, verticalFreedom, open }: MassSystem,
  freedom: Float32Array | null,
): Couplings {
  const { width, height, levels } = mesh;
  const { gradients, volumes } = shapes;
  const couplings = emptyCouplings(mesh);
  const nodes = new Int32Array(8);
  for (let y = 0, box = 0; y < height; y++)
    for (let x = 0; x < width; x++)
      for (let k = 0; k < levels; k++, box++) {
        boxNodes(mesh, x, y, k, nodes);
        const share = (freedom ? freedom[box]! : 1) / volumes[box]!;
        for (const { a, b, coupling } of PAIRS) {
          const ga = box * 24 + a * 3;
          const gb = box * 24 + b * 3;
          couplings.strengths[coupling]![couplings.first + nodes[a]!]! +=
            share *
            (gradients[ga]! * gradients[gb]! +
              gradients[ga + 1]! * gradients[gb + 1]! +
              verticalFreedom * gradients[ga + 2]! * gradients[gb + 2]!);
        }
      }
  hold(couplings, open);
  return couplings;
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
  const { potential, left } = conjugateGradients(
    matrixOf(system, freedom),
    netOutflow(system, guess),
    TOLERANCE,
    MOST_TURNS,
  );
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
